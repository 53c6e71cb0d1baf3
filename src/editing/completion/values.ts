import type { Form } from '../../language/forms.ts';
import { type Dimension, units, usual } from '../../language/units.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import { type Ready, readHead, readyFor, type Slot } from './grammar.ts';
import { voltageOfSubject } from './rails.ts';
import { ways } from './ribbons.ts';
import { stop } from './tab-stops.ts';

const NUMBER = /(?:^|\s)([+-]?\d+(?:\.\d+)?(?:\.\.[+-]?\d+(?:\.\d+)?)?)(\s*)$/;

/** A number before the cursor that still wants its unit. */
interface Unfinished {
  /** The number as written; its unit is offered alone where a space stands between, else with it. */
  readonly number: string;
  readonly glued: boolean;
  readonly dimensions: readonly Dimension[];
  /** Words that may stand in a unit's place: `26 way`. */
  readonly words: readonly string[];
}

/** The number whose unit would stand at the cursor; undefined where none waits for one. */
export function unfinishedAt({ head, stem, word, form }: Cursor): Unfinished | undefined {
  if (form === undefined) return undefined;
  const glued = NUMBER.test(` ${stem}${word}`) && stem + word !== '';
  const text = glued ? head + stem + word : head;
  if (!glued && stem !== '') return undefined;
  const found = NUMBER.exec(text);
  if (found === null || (found[2] === '') !== glued) return undefined;
  const before = text.slice(0, text.length - found[1]!.length - found[2]!.length);
  const ready = readyFor(form, before);
  if (!ready.values.has('quantity')) return undefined;
  const words = form.id === 'ribbon' && !saysKey(form, before, 'way') ? ['way'] : [];
  return { number: found[1]!, glued, dimensions: dimensionsAt(form, before), words };
}

/** What a quantity may measure behind this head: what its word says, or what the line has not said yet. */
function dimensionsAt(form: Form, before: string): readonly Dimension[] {
  const word = /(\S+)\s*$/.exec(before)?.[1] ?? '';
  const keyed = form.keyed?.[word === 'at' ? 'along' : word];
  if (keyed !== undefined && (word !== 'at' || form.id === 'end')) return [keyed];
  if (form.id === 'reading') return ['resistance', 'voltage', 'current'];
  if (form.id === 'chip') return ['current'];
  if (form.needs?.includes('legs')) return ['resistance'];
  const said = new Set(
    readHead(form, before)?.attributes.map(({ key, values }) => keyOf(key, values, form)) ?? [],
  );
  const left = (form.bare ?? []).filter((dimension) => !said.has(dimension));
  return left.length > 0 ? left : (form.bare ?? []);
}

/** A quantity without a word goes by what it measures. */
function keyOf(key: string, values: readonly unknown[], form: Form): string {
  if (key !== '') return key;
  const { unit } = values[0] as { unit: string };
  return units.get(unit)?.dimension ?? form.bare?.[0] ?? '';
}

/** Units that may stand behind the number, the usual one of each dimension first. */
export function unitCandidates({ number, glued, dimensions, words }: Unfinished): Candidate[] {
  const one = (unit: string, detail: string, rank: number): Candidate => ({
    label: glued ? `${number} ${unit}` : unit,
    kind: 'unit',
    rank,
    detail,
    ...(glued ? { whole: true as const } : {}),
  });
  const found = dimensions.flatMap((dimension, order) => {
    const all = [...units].filter(([, unit]) => unit.dimension === dimension).map(([name]) => name);
    const first = usual[dimension];
    return all.map((unit) => one(unit, dimension, order * 2 + (unit === first ? 0 : 1)));
  });
  return [...words.map((word) => one(word, 'conductors', -1)), ...found];
}

const EVIDENCE: Readonly<Record<string, string>> = {
  silkscreen: 'printed on the board or its label',
  trace: 'followed by eye along the copper',
  meter: 'measured',
  manual: 'out of a document',
  guess: 'not known, only likely',
};

/** Words for how something is known, surest first. */
export const evidenceCandidates = (ready: Ready): Candidate[] =>
  ready.words
    .filter((word) => word in EVIDENCE)
    .map((label) => ({ label, kind: 'evidence', rank: 0, detail: EVIDENCE[label]! }));

/** What the grammar is ready for besides names and words: dates, texts, quantities that follow from the line. */
export function valueCandidates(cursor: Cursor, ready: Ready): Candidate[] {
  const { options, form, scope } = cursor;
  const { values, head } = ready;
  const found: Candidate[] = [];
  const isDated = form?.id === 'readings' && saysKey(form, head, 'date');
  if (values.has('date, such as 2026-05-02') && options.today !== undefined && !isDated)
    found.push({
      label: options.today,
      kind: 'date',
      rank: form?.id === 'readings' ? 0 : 1,
      detail: 'today',
    });
  if (values.has('quantity')) {
    const volts =
      form?.id === 'rail' && !/\s(?:max|min|peak)\s+$/.test(head)
        ? voltageOfSubject(slotOf(form, head))
        : undefined;
    if (volts !== undefined)
      found.push({
        label: `${volts} V`,
        kind: 'value',
        rank: 0,
        detail: 'as the name says',
        preselect: true,
      });
    if (form?.id === 'ribbon' && !saysKey(form, head, 'way')) found.push(...ways(cursor));
    found.push(...usualValues(form, head, scope.connector?.shape));
  }
  const isTold = form !== undefined && saysKey(form, head, 'text') && !/\bby\b[^"]*$/.test(head);
  if (values.has('"text"') && form?.id !== 'use' && !isTold) found.push(textCandidate(cursor, ready));
  return found;
}

/** Whether the head says an attribute already. */
const saysKey = (form: Form, head: string, key: string): boolean =>
  readHead(form, head)?.attributes.some((one) => one.key === key) ?? false;

/** The head read as a statement, as a slot to ask. */
function slotOf(form: Form, head: string): Slot | undefined {
  const statement = readHead(form, head);
  return statement && { statement, key: '', values: [], index: 0 };
}

/** Values as they are usual in the trade (common practice), where a line wants one. */
function usualValues(form: Form | undefined, head: string, shape: string | undefined): Candidate[] {
  const one = (label: string, detail: string): Candidate => ({ label, kind: 'value', rank: 2, detail });
  if (form?.id === 'pitch') {
    const pitches = shape === 'edge' ? ['3.96 mm', '2.54 mm', '3.175 mm'] : ['2.54 mm', '5.08 mm', '2 mm'];
    return pitches.map((label) => one(label, 'a usual pitch'));
  }
  if (form?.id === 'slots' && /\bpitch\s+$/.test(head))
    return ['20.32 mm', '25.4 mm', '19.05 mm', '0.75 in'].map((label) =>
      one(label, 'a usual distance of slots'),
    );
  if (form?.id === 'terminate' && !/\bto\b/.test(head))
    return ['220 ohm', '330 ohm'].map((label) => one(label, 'a usual terminator'));
  if (form?.id === 'terminate' && /,\s+$/.test(head))
    return ['330 ohm', '470 ohm', '390 ohm'].map((label) => one(label, 'a usual terminator'));
  if ((form?.id === 'pullup' || form?.id === 'pulldown') && !/\bto\b/.test(head))
    return ['1 kohm', '4.7 kohm', '10 kohm'].map((label) => one(label, 'a usual resistor'));
  if (form?.id === 'ribbon') return [one('28 AWG', 'the usual ribbon')].filter(() => !/AWG/.test(head));
  return [];
}

/** A text in quotes: what the line says in it. */
function textCandidate({ form, analysis }: Cursor, { head }: Ready): Candidate {
  const says = /\bby\b[^"]*$/.test(head)
    ? 'note'
    : form?.id === 'allow'
      ? 'reason'
      : form?.id === 'title'
        ? 'title'
        : 'text';
  const title = form?.id === 'title' && analysis.machine.title !== '' ? analysis.machine.title : says;
  return {
    label: `"${says}"`,
    kind: 'text',
    rank: form?.id === 'allow' ? 0 : says === 'note' ? 2 : 9,
    detail: says === 'reason' ? 'why it is all right' : 'words in quotes',
    // A reason that nobody typed would be none.
    insert: says === 'reason' ? '"$1"' : `"${stop(1, title)}"`,
    snippet: true,
  };
}
