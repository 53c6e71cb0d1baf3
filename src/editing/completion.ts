import { tableIn } from '../language/forms.ts';
import { ruleNames } from './completion/allowances.ts';
import type { Candidate, CompletionKind, TextChange } from './completion/candidate.ts';
import { contacts } from './completion/contacts.ts';
import { type CompletionOptions, type Cursor, cursorAt } from './completion/cursor.ts';
import { firstWords } from './completion/first-words.ts';
import { lacksComma, readyFor, type Slot, slotAt } from './completion/grammar.ts';
import { names } from './completion/names.ts';
import * as owners from './completion/owners.ts';
import { partNames } from './completion/parts.ts';
import { places } from './completion/places.ts';
import { publishedNames, quotedCandidates, usableFiles } from './completion/quoted.ts';
import { conductors, stripes } from './completion/ribbons.ts';
import { newSlots, slots } from './completion/slots.ts';
import { undeclared } from './completion/undeclared.ts';
import { evidenceCandidates, unfinishedAt, unitCandidates, valueCandidates } from './completion/values.ts';
import { braceOf, innerWords } from './completion/words.ts';
import { asWritten } from './completion/written.ts';
import type { Analysis } from './project.ts';
import { type Reading, readings } from './roles.ts';

export { completionDetails } from './completion/details.ts';
export type { CompletionKind, CompletionOptions, TextChange };

/** Something that may be written at the cursor. Offsets count from the start of the file. */
export interface Completion {
  readonly label: string;
  readonly kind: CompletionKind;
  readonly detail?: string;
  /** Markdown; what takes longer to tell `completionDetails` gives. */
  readonly documentation?: string;
  readonly insert: string;
  /** `insert` has tab stops: `${1:PSU}`, `${2|out,in|}`, `$0`. */
  readonly snippet?: true;
  /** What is replaced: up to the cursor it is what the label is compared with. */
  readonly from: number;
  readonly to: number;
  /** Sorts in the order of likelihood, as text. */
  readonly sort: string;
  /** What is compared with the text typed, where it is not the label. */
  readonly filter?: string;
  readonly preselect?: true;
  /** Ask again once it is written. */
  readonly retrigger?: true;
  /** Changes elsewhere in the file that belong to it. */
  readonly also?: readonly TextChange[];
}

/** The most that is offered at once; a list as long as this has to be asked for again as more is typed. */
export const MOST_COMPLETIONS = 200;

/** What may be written at an offset, likeliest first. Never throws. */
export function completionsAt(
  analysis: Analysis,
  file: string,
  offset: number,
  options: CompletionOptions = {},
): Completion[] {
  const cursor = cursorAt(analysis, file, offset, options);
  return cursor === undefined ? [] : finished(cursor, candidatesAt(cursor));
}

function candidatesAt(cursor: Cursor): Candidate[] {
  if (cursor.quote !== undefined) return quotedCandidates(cursor);
  if (cursor.head === '') return atLineStart(cursor);
  if (cursor.form === undefined) return [];
  const unfinished = unfinishedAt(cursor);
  if (unfinished !== undefined && !unfinished.glued) return unitCandidates(unfinished);
  const { form, head, stem } = cursor;
  const ready = readyFor(form, head);
  if (/\sby\s+$/.test(head) && ready.words.includes('guess'))
    return [...evidenceCandidates(ready), ...valueCandidates(cursor, ready)];
  const slot = slotAt(form, ready.head, stem);
  const named = slot === undefined ? [] : namesAt(cursor, slot);
  if (stem !== '') return [...named, ...(unfinished ? unitCandidates(unfinished) : [])];
  return [
    ...(unfinished ? unitCandidates(unfinished) : []),
    ...named,
    ...(ready.values.has('rule') ? ruleNames(cursor) : []),
    ...(form.id === 'use'
      ? inQuotes(ready.head.includes('published') ? publishedNames(cursor) : usableFiles(cursor))
      : []),
    ...valueCandidates(cursor, ready),
    ...innerWords(cursor, ready),
    ...braceOf(cursor),
  ];
}

const inQuotes = (list: readonly Candidate[]): Candidate[] =>
  list.map((one) => ({ ...one, label: `"${one.label}"` }));

/** First words, and in tables what may stand left of the `=`. */
function atLineStart(cursor: Cursor): Candidate[] {
  const form = tableIn(cursor.kind);
  const slot = form && slotAt(form, '', cursor.stem);
  const left = slot === undefined ? [] : namesAt({ ...cursor, form: form! }, slot);
  return cursor.stem === '' ? [...left, ...firstWords(cursor)] : left;
}

/** Names for a part of a statement, by what it is read as. */
function namesAt(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, head, stem, rest } = cursor;
  const names = namesFor(cursor, slot);
  return lacksComma(form!, head, stem, rest) ? names.map((one) => ({ ...one, comma: true })) : names;
}

function namesFor(cursor: Cursor, slot: Slot): Candidate[] {
  const id = cursor.form!.id;
  if ((id === 'end' && slot.key === 'conductors') || id === 'twist') return conductors(cursor, slot);
  if (id === 'end' && slot.key === 'stripe') return stripes(cursor, slot);
  const reading = readings[id]?.[slot.key];
  if (reading === undefined) return [];
  if ('defines' in reading && reading.kind !== 'name' && reading.kind !== 'contact')
    return newNames(cursor, slot, reading);
  return sources[reading.kind]?.(cursor, slot) ?? [];
}

const sources: Readonly<Partial<Record<Reading['kind'], (cursor: Cursor, slot: Slot) => Candidate[]>>> = {
  supply: owners.supplies,
  connector: owners.connectors,
  bus: owners.buses,
  buses: owners.buses,
  backplane: owners.backplanes,
  card: owners.cards,
  port: owners.ports,
  label: owners.removable,
  part: partNames,
  with: partNames,
  slot: slots,
  contact: contacts,
  name: names,
  legs: names,
  need: names,
  place: places,
};

/** Names for something new: what is spoken of and not declared, or the next of a usual row. */
function newNames(cursor: Cursor, slot: Slot, { kind }: Reading): Candidate[] {
  if (kind === 'port') return owners.newPorts(cursor);
  if (kind === 'slot') return slot.first === undefined ? newSlots(cursor) : [];
  if (kind === 'board' || kind === 'label') return owners.newNames(cursor, slot);
  if (kind === 'ribbon' || kind === 'cable') return owners.newRibbons(cursor);
  return kind === 'place' || kind === 'buses' || kind === 'legs' || kind === 'need' || kind === 'with'
    ? []
    : undeclared(cursor, kind);
}

// ---- what is offered, in order ----

function finished(cursor: Cursor, candidates: readonly Candidate[]): Completion[] {
  const { from, to, tokenFrom } = cursor;
  const best = new Map<string, Candidate>();
  for (const one of asWritten(candidates, cursor.stem !== '')) {
    const known = best.get(one.label);
    if (known === undefined || known.rank > one.rank) best.set(one.label, one);
  }
  const all = [...best.values()].sort((a, b) => a.rank - b.rank);
  const list = all.length > MOST_COMPLETIONS ? all.filter(({ label }) => isBegun(cursor.word, label)) : all;
  return list.slice(0, MOST_COMPLETIONS).map(({ rank: _, whole, comma, insert, ...one }, order) => ({
    ...one,
    insert: (insert ?? one.label) + (comma ? ',' : ''),
    from: whole ? tokenFrom : from,
    to,
    sort: String(order).padStart(4, '0'),
    ...(one.label.endsWith(' {…}') ? { filter: one.label.slice(0, -4) } : {}),
  }));
}

/** Whether the letters of a text come in a label in this order. */
function isBegun(typed: string, label: string): boolean {
  let at = 0;
  const letters = typed.toLowerCase();
  for (const letter of label.toLowerCase()) if (letter === letters[at]) at++;
  return at === letters.length;
}
