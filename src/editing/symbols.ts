import type { Document, Entry, Item, Statement, Value } from '../language/tree.ts';
import { items, subjects } from '../language/tree.ts';
import { expandVector } from '../machine/names.ts';
import type { Machine } from '../machine/types.ts';
import { pathsOf } from './paths.ts';
import { statementsOf } from './place.ts';
import { type Reading, readings, type SymbolKind } from './roles.ts';
import { scopesOf } from './scopes.ts';

/** A name where it stands in the text. */
export interface Occurrence {
  readonly file: string;
  readonly from: number;
  readonly to: number;
  readonly kind: SymbolKind;
  /** What it names: one name, or all of a vector's. Contacts and slots stay as written. */
  readonly names: readonly string[];
  /** What each name means over the whole machine: equal keys, one thing. Contacts have none: their table says. */
  readonly keys: readonly string[];
  readonly defines: boolean;
  /** The vector or range as written, where it is one. */
  readonly range?: Item;
  /** Whether a list of names may stand in its place. */
  readonly inList: boolean;
  /** Of a contact at the end of a path: the path, as far as the block that it lies in (`CAGE.3.14`). */
  readonly path?: string;
  readonly entry: Entry;
  /** Headings of the blocks around the statement, outermost first. */
  readonly around: readonly Entry[];
}

/** Every name of a machine's files, where it stands. */
export interface Symbols {
  /** In the order of the text. */
  in(file: string): readonly Occurrence[];
  of(key: string): readonly Occurrence[];
  /** Every key, with the place where it is first declared, or first used where nothing declares it. */
  readonly all: ReadonlyMap<string, readonly Occurrence[]>;
  /** The name that an offset touches. */
  at(file: string, offset: number): Occurrence | undefined;
}

/** A name found, before it is known what it means. */
export interface Found {
  readonly from: number;
  readonly to: number;
  readonly kind: SymbolKind;
  readonly names: readonly string[];
  /** The block that the name belongs to: `card:CPU`; empty for names of the whole machine. */
  readonly owner: string;
  readonly defines: boolean;
  readonly range?: Item;
  readonly inList: boolean;
  readonly path?: string;
}

interface Pending extends Pick<Occurrence, 'file' | 'entry' | 'around'> {
  readonly found: Found;
}

/** Gathers all names of a machine's files. Linear in the text. */
export function symbolsOf(machine: Machine, documents: ReadonlyMap<string, Document>): Symbols {
  const pending: Pending[] = [];
  const paths = pathsOf(machine);
  for (const [file, document] of documents) {
    for (const { entry, around } of statementsOf(document)) {
      for (const found of namesIn(entry, around, paths)) pending.push({ found, file, entry, around });
    }
  }
  const scopes = scopesOf(
    machine,
    pending.map(({ found }) => found),
  );
  const all = new Map<string, Occurrence[]>();
  const byFile = new Map<string, Occurrence[]>([...documents.keys()].map((file) => [file, []]));
  for (const one of pending) {
    const { kind, names, owner } = one.found;
    const keys = kind === 'contact' ? [] : names.map((name) => scopes(kind, owner, name));
    const occurrence = occurrenceOf(one, keys);
    byFile.get(one.file)!.push(occurrence);
    for (const key of new Set(keys)) {
      const list = all.get(key);
      if (list === undefined) all.set(key, [occurrence]);
      else list.push(occurrence);
    }
  }
  for (const list of byFile.values()) list.sort((a, b) => a.from - b.from || a.to - b.to);
  return {
    all,
    in: (file) => byFile.get(file) ?? [],
    of: (key) => all.get(key) ?? [],
    at: (file, offset) => nearestAt(byFile.get(file) ?? [], offset),
  };
}

/** Written out, not spread: there is one for each name in the text, after every change of it. */
function occurrenceOf({ found, file, entry, around }: Pending, keys: readonly string[]): Occurrence {
  const { from, to, kind, names, defines, inList, range, path } = found;
  const one: Writable<Occurrence> = { file, from, to, kind, names, keys, defines, inList, entry, around };
  if (range !== undefined) one.range = range;
  if (path !== undefined) one.path = path;
  return one;
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** The name that an offset touches; between two that it touches, the one that begins there. */
function nearestAt(list: readonly Occurrence[], offset: number): Occurrence | undefined {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (list[middle]!.from <= offset) low = middle + 1;
    else high = middle;
  }
  for (let i = low - 1; i >= 0 && i >= low - 4; i--) if (list[i]!.to >= offset) return list[i];
  return undefined;
}

// ---- the names of one statement ----

/** The block that a statement's names belong to, as `card:CPU`. */
function ownerOf(around: readonly Entry[], paths: ReturnType<typeof pathsOf>): string {
  const [outer, inner] = around;
  if (outer === undefined) return '';
  const name = subjects(outer.statement)[0]?.first ?? '';
  if (outer.statement.form === 'fitted')
    return inner === undefined ? `backplane:${name}` : `card:${items(inner.statement, 'is')[0]?.first ?? ''}`;
  if (outer.statement.form === 'loose') return `card:${name}`;
  if (!['supply', 'bus', 'backplane', 'card'].includes(outer.statement.form)) return '';
  return paths.isOwner(`${outer.statement.form}:${name}`) ? `${outer.statement.form}:${name}` : '';
}

function* namesIn(
  entry: Entry,
  around: readonly Entry[],
  paths: ReturnType<typeof pathsOf>,
): Iterable<Found> {
  const { statement } = entry;
  const reading = readings[statement.form];
  if (reading === undefined) return;
  const owner = ownerOf(around, paths);
  const subject = reading[''];
  if (subject !== undefined) yield* read(statement.subject, subject, entry, owner, isList(statement), paths);
  for (const attribute of statement.attributes) {
    const how = reading[attribute.key];
    if (how !== undefined) yield* read(attribute.values, how, entry, owner, LISTS.has(attribute.key), paths);
  }
}

/** Kinds of which a range names all between its ends. */
const VECTORS = new Set<SymbolKind>(['name', 'label', 'slot']);

const LISTS = new Set(['is', 'isout', 'also', 'bridge']);
const ONE_SUBJECT = new Set(['takes', 'makes', 'feed', 'rail', 'sense', 'needs', 'first', 'like']);

/** Whether the statement's subject may be a list of names. */
const isList = ({ form }: Statement): boolean => !ONE_SUBJECT.has(form);

function* read(
  values: readonly Value[],
  how: Reading,
  { offset }: Entry,
  owner: string,
  inList: boolean,
  paths: ReturnType<typeof pathsOf>,
): Iterable<Found> {
  // Where the item's own text stands, without quotes.
  const one = (item: Item, kind: SymbolKind, its = owner, defines = false): Found => {
    const quote = item.quoted ? 1 : 0;
    const [from, to] = [offset + item.from + quote, offset + item.to - quote];
    const names = VECTORS.has(kind) ? expanded(item) : [item.first];
    const found: Writable<Found> = { from, to, kind, names, owner: its, defines, inList };
    if (item.last !== undefined) found.range = item;
    return found;
  };
  const list = values.filter((value): value is Item => value.kind === 'item');
  switch (how.kind) {
    case 'place':
      for (const item of list) yield* paths.read(item, offset, owner);
      return;
    case 'buses':
      yield* busesOn(values, one);
      return;
    case 'legs':
      for (const item of list) yield { ...one(item, 'name'), inList: false };
      return;
    case 'need':
      if (list[0]) yield { ...one(list[0], 'name'), inList: false };
      return;
    case 'with':
      for (const item of list) yield one(item, 'part', '');
      return;
    default: {
      const machineWide =
        how.kind !== 'name' && how.kind !== 'port' && how.kind !== 'slot' && how.kind !== 'label';
      for (const item of list) {
        const kind = how.kind === 'bus' ? paths.kindBelow(item.first) : how.kind;
        yield one(item, kind, machineWide ? '' : owner, 'defines' in how);
      }
    }
  }
}

/** `on VME-J1`, `on P1 VME-J1, P2 VME-J2`: the last of each group is the bus. */
function* busesOn(
  values: readonly Value[],
  one: (item: Item, kind: SymbolKind, owner: string) => Found,
): Iterable<Found> {
  for (let i = 0; i < values.length; i++) {
    const [value, next] = [values[i]!, values[i + 1]];
    const isLast = next === undefined || (next.kind === 'word' && next.text === ';');
    if (value.kind === 'item' && isLast) yield one(value, 'bus', '');
  }
}

/** The names of a vector; where its ends do not fit, the two ends. */
function expanded({ first, last, step = 1 }: Item): string[] {
  if (last === undefined) return [first];
  const names = expandVector(first, last);
  if ('problem' in names) return [first, last];
  return step > 1 ? names.filter((_, i) => i % step === 0) : names;
}
