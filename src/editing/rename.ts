import { formNamed } from '../language/forms.ts';
import { Reader } from '../language/statement.ts';
import type { Item } from '../language/tree.ts';
import { expandVector } from '../machine/names.ts';
import { isPublished } from '../machine/uses.ts';
import { type Meaning, meaningAt } from './meaning.ts';
import type { Location } from './navigation.ts';
import type { Analysis, Project } from './project.ts';
import type { SymbolKind } from './roles.ts';
import { harmOf } from './same-machine.ts';
import { isPower } from './scopes.ts';
import type { Occurrence } from './symbols.ts';

/** Why something cannot be done, as a sentence for the person. */
export interface Refusal {
  readonly refused: string;
}

export interface RenameTarget extends Location {
  /** What stands there now: a name, or a whole vector. */
  readonly text: string;
}

/** What a rename at an offset would rename, or why it cannot. */
export function renameTargetAt(project: Project, file: string, offset: number): RenameTarget | Refusal {
  const occurrence = project.of(file)?.symbols.at(file, offset);
  if (occurrence === undefined) return { refused: 'nothing here has a name of its own' };
  const refused = refusalFor(occurrence, meaningAt(project, file, offset));
  if (refused !== undefined) return { refused };
  const { from, to } = occurrence;
  return { file, from, to, text: project.document(file)!.text.slice(from, to) };
}

function refusalFor({ kind, names }: Occurrence, meaning: Meaning | undefined): string | undefined {
  if (kind === 'contact')
    return "contacts are called as the connector's `numbers` line says; change it there";
  if (kind === 'slot') return "slots are called as the backplane's `slots` line says; change it there";
  const table = meaning?.places.find((place) => isPublished(place.file));
  if (table !== undefined)
    return `\`${names[0]}\` is named in ${table.file.replace(':', ' table ')}, which ships with the product`;
  if (meaning?.places.some(({ defines }) => defines)) return undefined;
  if (kind === 'part')
    return `\`${names[0]}\` is a part number as its maker prints it; correct it where it is mistyped`;
  if (kind === 'port') return `\`${names[0]}\` has no name of its own in the text`;
  return kind === 'name' || kind === 'label' ? undefined : `nothing in the machine declares \`${names[0]}\``;
}

export interface Change extends Location {
  readonly text: string;
}

/**
 * The changes that give the name at an offset another one, over all files. Where a vector stands, `to` is a vector of
 * as many names. Refused where the new name cannot be one, or would make two things one.
 */
export function rename(
  project: Project,
  file: string,
  offset: number,
  to: string,
): readonly Change[] | Refusal {
  const target = renameTargetAt(project, file, offset);
  if ('refused' in target) return target;
  const meaning = meaningAt(project, file, offset)!;
  const { occurrence } = meaning;
  const renamed = namesFor(occurrence, to.trim());
  if ('refused' in renamed) return renamed;
  const clash = clashOf(meaning, renamed);
  if (clash !== undefined) return { refused: clash };
  const changes: Change[] = [];
  for (const place of meaning.places) {
    const change = changed(place, keysOf(meaning, place), renamed);
    if (change === undefined) continue;
    if ('refused' in change) return change;
    changes.push(change);
  }
  return harmIn(meaning, renamed, changes) ?? changes;
}

/** Refused where the machine would be another one: names mean things in more places than those where they stand. */
function harmIn({ machines }: Meaning, renamed: Renamed, changes: readonly Change[]): Refusal | undefined {
  for (const machine of machines) {
    const harm = harmOf(machine, changes);
    if (harm === undefined) continue;
    if (harm.kind === 'error') return { refused: `so called it would be an error: ${harm.message}` };
    const taken = takenIn(machine, renamed);
    return {
      refused: taken
        ? `there is a ${spokenKind(taken.kind)} \`${taken.name}\` already; two things would become one`
        : 'so called, other things would be joined in the machine than are now',
    };
  }
  return undefined;
}

/** Something that has one of the new names already. */
function takenIn(
  { symbols }: Analysis,
  renamed: Renamed,
): { readonly kind: SymbolKind; readonly name: string } | undefined {
  const fresh = new Set([...renamed.values()].filter((name) => !renamed.has(name)));
  for (const [{ kind, names }] of symbols.all.values() as Iterable<[Occurrence]>) {
    const name = names.find((one) => fresh.has(one));
    if (name !== undefined) return { kind, name };
  }
  return undefined;
}

/** Old name → new name. */
type Renamed = ReadonlyMap<string, string>;

function namesFor({ names, range, kind }: Occurrence, to: string): Renamed | Refusal {
  const [first = '', last, ...more] = to.split('..');
  if (more.length > 0) return { refused: `\`${to}\` is no name; a range has two ends` };
  for (const end of last === undefined ? [first] : [first, last]) {
    if (!isName(end, kind))
      return {
        refused: `\`${end}\` cannot be a name: letters, digits and _ + - * / ~ # $ ! make one, and words of the language are none`,
      };
  }
  const given = last === undefined ? [first] : expandVector(first, last);
  if ('problem' in given) return { refused: given.problem };
  if (given.length === names.length) return new Map(names.map((name, i) => [name, given[i]!]));
  return range === undefined
    ? { refused: `\`${names[0]}\` is one name, \`${to}\` are ${given.length}` }
    : {
        refused: `\`${range.first}..${range.last}\` are ${names.length} names; write both ends of the new ones, as in \`X0..X${names.length - 1}\``,
      };
}

const reader = new Reader();

/** Whether a text reads as a name where such names stand. */
function isName(text: string, kind: SymbolKind): boolean {
  const [form, line] =
    kind === 'part' ? ['receives', `receives X with ${text}`] : ['untouched', `untouched ${text}`];
  const { statement, problems } = reader.read(formNamed(form!), line!);
  if (statement === undefined || problems.length > 0) return false;
  const values = kind === 'part' ? statement.attributes[0]?.values : statement.subject;
  const [value] = values ?? [];
  return value?.kind === 'item' && value.first === text && !value.quoted;
}

/** Kinds whose names must differ: what a path may begin with or `allow` may be at, and what an edge may be on. */
const APART: readonly (readonly SymbolKind[])[] = [
  ['card', 'board', 'supply', 'backplane', 'ribbon', 'cable'],
  ['bus', 'connector'],
];

/** Why the new names would make two things one, or change what kind of thing it is. */
function clashOf({ occurrence: { kind }, places, machines }: Meaning, renamed: Renamed): string | undefined {
  for (const [from, to] of renamed) {
    if (renamed.has(to)) continue;
    const kinds = APART.find((some) => some.includes(kind)) ?? [kind];
    for (const { symbols, machine } of machines) {
      const taken =
        kind === 'name' || kind === 'port' || kind === 'label'
          ? inSameBlocks(places, [...symbols.all.values()].flat(), kind, to)
          : kinds.map((one) => symbols.of(`${one}:${to}`)[0]).find((one) => one !== undefined);
      if (taken !== undefined)
        return `there is a ${spokenKind(taken.kind)} \`${to}\` already; two things would become one`;
      if (kind !== 'name') continue;
      const [was, will] = [isPower(from, machine.railNames), isPower(to, machine.railNames)];
      if (!was && will) return `\`${to}\` reads as a rail or a ground, and \`${from}\` is a signal`;
      const declared = places.some(({ entry }) => ['rail', 'ground', 'sense'].includes(entry.statement.form));
      if (was && !will && !declared)
        return `\`${from}\` is a rail by its name only; declare it in a supply before it is called \`${to}\``;
    }
  }
  return undefined;
}

/** Blocks in which equal names are one. */
const OWNING = new Set(['supply', 'bus', 'card', 'backplane']);

/** A use of the name in one of the blocks that the renamed thing stands in. */
function inSameBlocks(
  places: readonly Occurrence[],
  all: readonly Occurrence[],
  kind: SymbolKind,
  name: string,
): Occurrence | undefined {
  const owners = places.map(({ around }) => around[0]).filter((one) => OWNING.has(one?.statement.form ?? ''));
  const blocks = new Set(owners);
  return all.find((one) => one.kind === kind && one.names.includes(name) && blocks.has(one.around[0]));
}

const spokenKind = (kind: SymbolKind): string =>
  kind === 'name' ? 'line or rail' : kind === 'label' ? 'part' : kind;

/** The keys of this meaning as the machine of the place has them. */
function keysOf({ machines, occurrence }: Meaning, place: Occurrence): ReadonlySet<string> {
  const keys = new Set(occurrence.keys);
  for (const { symbols } of machines) {
    for (const key of symbols.at(occurrence.file, occurrence.from)?.keys ?? []) keys.add(key);
  }
  return new Set(place.keys.filter((key) => keys.has(key)));
}

function changed(
  place: Occurrence,
  keys: ReadonlySet<string>,
  renamed: Renamed,
): Change | Refusal | undefined {
  const names = place.names.map((name, i) => (keys.has(place.keys[i]!) ? (renamed.get(name) ?? name) : name));
  if (names.every((name, i) => name === place.names[i])) return undefined;
  const { file, from, to, range } = place;
  const text = range === undefined ? names.join('') : written(names, range);
  if (!place.inList && text.includes(',')) {
    return {
      refused: `\`${range!.first}..${range!.last}\` stands where a list cannot; write its names one by one first`,
    };
  }
  return { file, from, to, text };
}

/** Names as a list: runs that are vectors as ranges, in the step they were written in. */
function written(names: readonly string[], { step = 1 }: Item): string {
  const whole = expandVector(names[0]!, names.at(-1)!);
  if (step > 1 && !('problem' in whole)) {
    const stepped = whole.filter((_, i) => i % step === 0);
    if (stepped.join() === names.join()) return `${names[0]}..${names.at(-1)} step ${step}`;
  }
  const parts: string[] = [];
  for (let i = 0; i < names.length; ) {
    let end = names.length - 1;
    while (end > i && !isVector(names.slice(i, end + 1))) end--;
    parts.push(end > i ? `${names[i]}..${names[end]}` : names[i]!);
    i = end + 1;
  }
  return parts.join(', ');
}

function isVector(names: readonly string[]): boolean {
  const all = expandVector(names[0]!, names.at(-1)!);
  return !('problem' in all) && all.join() === names.join();
}
