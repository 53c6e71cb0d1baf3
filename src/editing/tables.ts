import type { Change } from '../checks/types.ts';
import { printValue } from '../language/format.ts';
import type { Attribute, Document, Entry, Item, Value } from '../language/tree.ts';
import { items } from '../language/tree.ts';
import { expandVector, vectorName } from '../machine/names.ts';
import type { Machine } from '../machine/types.ts';
import type { Splice } from './changes.ts';

/** What a statement, or some places of it, are to say. */
export type Said = Change & { readonly kind: 'say' };

/** One line of a table, place by place. */
interface Row {
  /** Indices into the labels, in the order of the line. */
  readonly places: readonly number[];
  /** What each place is: a name a place, or one for all. */
  readonly names: readonly string[];
  /** Other names, likewise; none where the line says none. */
  readonly also: readonly string[];
  /** Everything else that the line says, as written, by key. */
  readonly rest: ReadonlyMap<string, string>;
}

/** What is said of some places only: the line without them, and a line of their own for each. */
export function saidOfPlaces(document: Document, entry: Entry, list: readonly Said[]): Splice[] | undefined {
  const labels = list[0]!.at?.labels ?? [];
  const row = rowOf(document, entry, labels);
  const changed = list.flatMap(({ at }) => at?.places ?? []);
  if (row === undefined || list.some(({ at }) => at === undefined)) return undefined;
  if (changed.some((place) => !row.places.includes(place))) return undefined;
  const left = row.places.filter((place) => !changed.includes(place));
  const lines = [
    ...(left.length > 0 ? [written(labels, part(row, left))] : []),
    ...list.map(({ say, at }) => written(labels, told(part(row, at!.places), say))),
  ];
  const line = document.lines[entry.line]!;
  if (line.pieces.length > 1 || (entry.block !== undefined && lines.length > 1)) return undefined;
  const end = line.start + line.text.length;
  const { offset, statement } = entry;
  const first = { from: offset + statement.from, to: offset + statement.to, text: lines[0]! };
  const others = lines.slice(1).map((one) => `\n${one}`);
  return others.length === 0 ? [first] : [first, { from: end, to: end, text: others.join('') }];
}

function rowOf({ text }: Document, { offset, statement }: Entry, labels: readonly string[]): Row | undefined {
  const { attributes } = statement;
  const of = (key: string): Attribute | undefined => attributes.find((one) => one.key === key);
  const is = of('is');
  const places = placesOf(statement.subject, labels);
  if (is === undefined || of('out') || of('isout') || places === undefined) return undefined;
  const names = namesOf(is.values);
  const also = namesOf(of('also')?.values ?? []);
  const fits = (list: readonly string[]): boolean => list.length <= 1 || list.length === places.length;
  if (
    names === undefined ||
    also === undefined ||
    !fits(names) ||
    (also.length > 1 && also.length !== names.length)
  )
    return undefined;
  const rest = new Map<string, string>();
  for (const { key, from, to } of attributes)
    if (key !== 'is' && key !== 'also') rest.set(key, text.slice(offset + from, offset + to));
  return { places, names, also, rest };
}

/** Indices of the places that a list of labels and ranges means, in its order. */
export function placesOf(values: readonly Value[], labels: readonly string[]): number[] | undefined {
  const places: number[] = [];
  for (const value of values) {
    if (value.kind !== 'item') return undefined;
    const first = labels.indexOf(value.first);
    const last = value.last === undefined ? first : labels.indexOf(value.last);
    if (first < 0 || last < 0 || value.step === 0) return undefined;
    const step = (value.step ?? 1) * (first <= last ? 1 : -1);
    for (let at = first; step > 0 ? at <= last : at >= last; at += step) places.push(at);
  }
  return places;
}

/** Names with their vectors written out, as they are written; undefined where a vector cannot be. */
export function namesOf(values: readonly Value[]): string[] | undefined {
  const names: string[] = [];
  for (const value of values) {
    if (value.kind !== 'item' || value.last === undefined) {
      names.push(printValue(value));
      continue;
    }
    const all = expandVector(value.first, value.last);
    if ('problem' in all) return undefined;
    names.push(...all.filter((_, i) => i % (value.step || 1) === 0));
  }
  return names;
}

/** The row of some of its places. */
function part(row: Row, places: readonly number[]): Row {
  const of = (list: readonly string[]): readonly string[] =>
    list.length <= 1 ? list : places.map((place) => list[row.places.indexOf(place)]!);
  return { ...row, places, names: of(row.names), also: of(row.also) };
}

/** The row with what is said of it. What it was said to be besides goes with the name that it belonged to. */
function told({ places, names, also, rest }: Row, { is, also: aliases, ...say }: Said['say']): Row {
  const kept = is === undefined ? [...rest] : [...rest].filter(([key]) => key === 'in');
  const told = new Map([...kept, ...Object.entries(say)]);
  return {
    places,
    names: is === undefined ? names : [is],
    also: aliases === undefined ? (is === undefined ? also : []) : [aliases.replace(/^also /, '')],
    rest: new Map([...told].filter(([, text]) => text !== '')),
  };
}

function written(labels: readonly string[], { places, names, also, rest }: Row): string {
  const other = also.length > 0 ? ` also ${writtenVectors(also)}` : '';
  const tail = [...rest.values()].map((one) => ` ${one}`).join('');
  return `${writtenPlaces(places, labels)} = ${writtenVectors(names)}${other}${tail}`;
}

/** Labels as a list, runs of three or more at one distance as ranges: `1..25 step 2, 26`. */
export function writtenPlaces(places: readonly number[], labels: readonly string[]): string {
  const kind = (place: number): string => labels[place]!.replace(/\d+/, '#').replace(/[A-Za-z]/g, 'a');
  return runsOf(places, (a, b) => (kind(a) === kind(b) ? b - a : 0))
    .flatMap(({ members, by }) => {
      const names = members.map((place) => labels[place]!);
      return members.length > 2 ? [rangeOf(names, Math.abs(by))] : names;
    })
    .join(', ');
}

/** Names in their order, runs of three or more of one vector as ranges: `D0..D7`. */
export function writtenVectors(names: readonly string[]): string {
  return runsOf(names, distance)
    .flatMap(({ members, by }) =>
      members.length > 2 && canSpan(members, by) ? [rangeOf(members, Math.abs(by))] : members,
    )
    .join(', ');
}

const rangeOf = (names: readonly string[], step: number): string =>
  `${names[0]}..${names.at(-1)}${step === 1 ? '' : ` step ${step}`}`;

/** How far two members of one vector lie apart; 0 where they are none. */
function distance(a: string, b: string): number {
  const [one, other] = [vectorName(a), vectorName(b)];
  if (one === undefined || other === undefined) return 0;
  return one.before === other.before && one.after === other.after ? other.number - one.number : 0;
}

/** Whether the two ends of a run, as they are written, give the same names again. */
function canSpan(names: readonly string[], by: number): boolean {
  const all = expandVector(names[0]!, names.at(-1)!);
  if ('problem' in all) return false;
  return all.filter((_, i) => i % Math.abs(by) === 0).join('\n') === names.join('\n');
}

/** Runs of members at one distance; 0 means that two do not belong together. */
function runsOf<T>(members: readonly T[], apart: (a: T, b: T) => number): { members: T[]; by: number }[] {
  const runs: { members: T[]; by: number }[] = [];
  for (const one of members) {
    const run = runs.at(-1);
    const last = run?.members.at(-1);
    const by = last === undefined ? 0 : apart(last, one);
    if (run && last !== undefined && by !== 0 && (run.members.length === 1 || run.by === by)) {
      run.members.push(one);
      run.by = by;
    } else if (run && last !== undefined && run.members.length === 2 && Math.abs(by) === 1) {
      // Two that happen to be apart do not keep the second from its neighbours.
      run.members.pop();
      runs.push({ members: [last, one], by });
    } else runs.push({ members: [one], by: 0 });
  }
  return runs;
}

/** The labels, in order, of the connector that the innermost table around a line is of. */
export function labelsAround(machine: Machine, around: readonly Entry[]): readonly string[] | undefined {
  const heading = around.at(-1);
  const on = heading && items(heading.statement, 'on').at(-1)?.first;
  const bus = machine.buses.find(({ name }) => name === on);
  const connector = bus?.pins.connector ?? machine.connectors.find(({ name }) => name === on);
  return connector?.labels;
}

/** Whether a value is a range: of contacts, or of names. */
export const isRange = (value: Value): value is Item & { readonly last: string } =>
  value.kind === 'item' && value.last !== undefined;
