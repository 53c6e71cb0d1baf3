import { parseDocument } from '../../src/language/blocks.ts';
import { printStatement } from '../../src/language/format.ts';
import type { Block, Document, Statement } from '../../src/language/tree.ts';

/** A damaged text, and what was done to it. */
export interface Damage {
  readonly text: string;
  readonly what: string;
}

/** What a slip of the hand inserts: a letter, a space, and every character that means something to the language. */
const INSERTED = ['x', ' ', '"', '#', '=', '{', '}', ',', '.'];

/** Texts that differ from this one by one character deleted or inserted, or one line dropped or joined, at every `step`th place. */
export function* damages(text: string, step = 1): Iterable<Damage> {
  for (let i = 0; i < text.length; i += step) {
    const what = `${JSON.stringify(text[i])} deleted at ${i}`;
    if (text[i] !== '\n') yield { text: text.slice(0, i) + text.slice(i + 1), what };
    const inserted = INSERTED[(i / step) % INSERTED.length] as string;
    yield {
      text: text.slice(0, i) + inserted + text.slice(i),
      what: `${JSON.stringify(inserted)} inserted at ${i}`,
    };
  }
  const lines = text.split('\n');
  for (let i = 0; i < lines.length; i += step) {
    yield { text: [...lines.slice(0, i), ...lines.slice(i + 1)].join('\n'), what: `line ${i + 1} dropped` };
    if (i + 1 === lines.length) continue;
    const joined = `${lines[i]} ${(lines[i + 1] as string).trimStart()}`;
    yield {
      text: [...lines.slice(0, i), joined, ...lines.slice(i + 2)].join('\n'),
      what: `line ${i + 1} joined with the next`,
    };
  }
}

const printedOnce = new WeakMap<Statement, string>();

/** A statement printed; statements that two texts share are printed once. */
function printed(statement: Statement): string {
  const text = printedOnce.get(statement) ?? printStatement(statement);
  printedOnce.set(statement, text);
  return text;
}

/** Each statement of a text with the kind of block it stands in, and how often it stands there. */
export function statementsOf(text: string, before?: Document): Map<string, number> {
  const counts = new Map<string, number>();
  const count = (block: Block): void => {
    for (const { statement, block: inner } of block.entries) {
      const key = `${block.kind}: ${printed(statement)}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
      if (inner) count(inner);
    }
  };
  count(parseDocument(text, before).root);
  return counts;
}

/** Statements of the whole text that the damaged one no longer has. */
export function lostIn(damaged: string, whole: ReadonlyMap<string, number>, before?: Document): string[] {
  const left = statementsOf(damaged, before);
  const lost: string[] = [];
  for (const [key, count] of whole) {
    for (let i = left.get(key) ?? 0; i < count; i++) lost.push(key);
  }
  return lost;
}
