import type { Case } from '../analysis/wrong-mating/cases.ts';
import { HARMLESS } from '../analysis/wrong-mating/harms.ts';
import type { Plug } from '../analysis/wrong-mating/plugs.ts';
import { isHarmful, type WrongMating } from '../analysis/wrong-mating/wrong-mating.ts';
import { spokenPlug } from '../checks/spoken-mating.ts';
import { keeping } from '../machine/keep.ts';
import { ALL_PLUGS, DOES, type Does } from './what-if-choice.ts';

/** A wrong way to plug something in, with all the places where it comes to the same. */
export interface Entry {
  /** The same from version to version of a text. */
  readonly id: string;
  /** The first stands for all. */
  readonly cases: readonly [Case, ...Case[]];
  /** As in `RANKS`; 1 is the worst. */
  readonly rank: number;
  /** Whether it does harm; `unknown` where nobody can tell, because of contacts that nobody knows. */
  readonly does: Does;
  /** How many such contacts it meets; not counted where it does harm anyhow. */
  readonly unknown: number;
  /** It does harm, or nobody can tell, and nothing that is said prevents it. */
  readonly isOpen: boolean;
}

/** What can be plugged in wrong, by the names that choose it. */
export const plugNames = ({ plugs }: WrongMating): string[] =>
  plugs.length === 0 ? [] : [ALL_PLUGS, ...plugs.map((plug) => spokenPlug({ plug }))];

/** All cases of a plug, or of all, worst first, then what cannot be judged; what nothing prevents before what something does. */
export const entriesOf = (mating: WrongMating, of: string): readonly Entry[] => {
  const known = keptEntries(mating);
  const before = known.get(of);
  if (before) return before;
  const wanted = of === ALL_PLUGS ? undefined : mating.plugs.find((plug) => spokenPlug({ plug }) === of);
  const made = of === ALL_PLUGS || wanted ? inOrder(gathered(mating, wanted)) : [];
  known.set(of, made);
  return made;
};

const keptEntries = keeping((_: WrongMating): Map<string, readonly Entry[]> => new Map());

/** Boards that differ only in the slot are one case where the same contacts meet the same tables, and come to the same. */
function gathered(mating: WrongMating, wanted: Plug | undefined): Entry[] {
  const entries: { -readonly [K in keyof Entry]: Entry[K] }[] = [];
  const alike = new Map<object, typeof entries>();
  const ids = new Map<string, number>();
  for (const one of mating.cases()) {
    if (wanted !== undefined && one.plug !== wanted) continue;
    const outcome = mating.outcome(one);
    const { rank } = outcome;
    const isHarm = isHarmful(one, outcome);
    const unknown = isHarm ? 0 : outcome.unknown;
    const pairs = one.meetings[0]!.pairs;
    const like = one.plug.kind === 'board' ? (alike.get(pairs) ?? []) : [];
    const same = like.find(
      (entry) => entry.rank === rank && entry.unknown === unknown && isAlike(entry.cases[0], one),
    );
    if (same) {
      same.cases = [...same.cases, one];
      continue;
    }
    const name = idOf(one);
    const times = ids.get(name) ?? 0;
    ids.set(name, times + 1);
    const does: Does = isHarm ? 'harm' : unknown > 0 ? 'unknown' : 'nothing';
    const isOpen = one.verdict.state !== 'prevented' && does !== 'nothing';
    const id = times === 0 ? name : `${name} ${times}`;
    const entry = { id, cases: [one] as const, rank, does, unknown, isOpen };
    entries.push(entry);
    alike.set(pairs, [...like, entry]);
  }
  return entries;
}

const isAlike = (a: Case, b: Case): boolean =>
  a.plug === b.plug &&
  a.fault === b.fault &&
  a.verdict.state === b.verdict.state &&
  a.verdict.by.join() === b.verdict.by.join() &&
  a.meetings.length === b.meetings.length &&
  a.meetings.every(({ pairs }, i) => pairs === b.meetings[i]!.pairs);

function idOf(one: Case): string {
  const { place, fault, way, also } = one;
  const how = `${way.turned ? 'turned' : 'straight'} ${way.shift} ${way.over}`;
  return [spokenPlug(one), place.path, fault, how, ...(also ? [spokenPlug({ plug: also })] : [])].join(', ');
}

const STATES = ['open', 'unsaid', 'prevented'];

const inOrder = (entries: readonly Entry[]): Entry[] =>
  [...entries].sort(
    (a, b) => DOES.indexOf(a.does) - DOES.indexOf(b.does) || a.rank - b.rank || stateOf(a) - stateOf(b),
  );

/** What does nothing has no order. */
const stateOf = ({ rank, does, cases: [{ verdict }] }: Entry): number =>
  rank === HARMLESS && does === 'nothing' ? 0 : STATES.indexOf(verdict.state);

/** The case that was called so, also where it has come to stand for fewer or more places. */
export const findEntry = (entries: readonly Entry[], id: string | undefined): Entry | undefined =>
  entries.find((one) => one.id === id) ?? entries.find(({ cases }) => cases.some((one) => idOf(one) === id));
