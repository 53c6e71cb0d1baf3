import type { Form } from '../../language/forms.ts';
import { attempt } from '../../language/statement.ts';
import type { Item, Statement, Value } from '../../language/tree.ts';

/** What the grammar is ready for behind the head of a line. */
export interface Ready {
  /** Words of the language that may stand there. */
  readonly words: readonly string[];
  /** Kinds of value that may, in the trade's words: `name`, `quantity`. */
  readonly values: ReadonlySet<string>;
  /** The head without what could not be read. */
  readonly head: string;
}

/** Stands in no statement: the grammar stops at it and says what it was ready for. */
const STOP = '\u0000';
/** A letter that nobody uses: shows which part of a statement a name at the cursor would be. */
const PROBE = '\ua66e';

/** Words that cannot be read and are left out, at most: what is left is still understood. */
const MOST_SLIPS = 3;

export function readyFor(form: Form, text: string): Ready {
  let head = text;
  for (let slips = 0; ; slips++) {
    const failure = attempt(form, head + STOP);
    if (!('expected' in failure)) return { words: [], values: new Set(), head };
    const { expected, offset } = failure;
    if (offset < head.length && slips < MOST_SLIPS) {
      head = withoutWordAt(head, offset);
      continue;
    }
    const words = expected.flatMap((one) => (one.type === 'literal' && one.text ? [one.text] : []));
    const values = expected.flatMap((one) =>
      one.type === 'other' && one.description ? [one.description] : [],
    );
    return { words: [...new Set(words)].filter((word) => /^\w/.test(word)), values: new Set(values), head };
  }
}

function withoutWordAt(text: string, offset: number): string {
  let from = offset;
  while (from > 0 && !/\s/.test(text[from - 1]!)) from--;
  const rest = text.slice(offset).replace(/^\S*\s*/, '');
  return text.slice(0, from) + rest;
}

/** Which part of the statement a name at the cursor would be. */
export interface Slot {
  readonly statement: Statement;
  /** Key of the attribute; empty for the subject. */
  readonly key: string;
  /** All values there, the probe among them, and its place. */
  readonly values: readonly Value[];
  readonly index: number;
  /** Of a range whose last part is to be written: its first. */
  readonly first?: string;
}

/** What a statement of which only this much is written may still need to be one. */
const ENDINGS: Readonly<Record<string, readonly string[]>> = {
  entry: ['', ' = x'],
  slot: ['', ' = x'],
  join: ['', ' = x'],
  reading: [' to x = open', ' = open'],
  chip: ['', ' 1 A'],
  key: [', x', ''],
  cut: ['', ', x'],
  slots: ['', ', x'],
};

/** Where a name would stand behind this head and stem; undefined where none can. */
export function slotAt(form: Form, head: string, stem: string): Slot | undefined {
  for (const ending of ENDINGS[form.id] ?? ['']) {
    const statement = attempt(form, head + stem + PROBE + ending);
    if ('expected' in statement) continue;
    const slot = probed(statement);
    if (slot !== undefined) return slot;
  }
  return undefined;
}

function probed(statement: Statement): Slot | undefined {
  const parts = [{ key: '', values: statement.subject }, ...statement.attributes];
  for (const { key, values } of parts) {
    const index = values.findIndex((value) => 'first' in value && isProbe(value));
    if (index < 0) continue;
    const item = values[index] as Item;
    return { statement, key, values, index, ...(item.last === PROBE ? { first: item.first } : {}) };
  }
  return undefined;
}

const isProbe = ({ first, last }: Item): boolean => first.endsWith(PROBE) || last === PROBE;

/** Whether what stands behind a name at the cursor goes on with its list, and only the comma is missing. */
export function lacksComma(form: Form, head: string, stem: string, rest: string): boolean {
  if (!/^\s+\S/.test(rest)) return false;
  const whole = (between: string): string =>
    head + stem + PROBE + between + rest.replace(/\{\s*$/, '').trim();
  return 'expected' in attempt(form, whole(' ')) && !('expected' in attempt(form, whole(', ')));
}

/** Whether the statement says something already with this head. */
export function readHead(form: Form, head: string): Statement | undefined {
  const statement = attempt(form, head.trimEnd());
  return 'expected' in statement ? undefined : statement;
}

/** Whether a word of the language needs something behind it there. */
export const wantsMore = (form: Form, head: string, word: string): boolean =>
  'expected' in attempt(form, head + word);

/** Items of a list that are written already, the probe left out. */
export const otherItems = ({ values, index }: Slot): Item[] =>
  values.filter((value, i): value is Item => value.kind === 'item' && i !== index);
