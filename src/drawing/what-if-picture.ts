import type { Case } from '../analysis/wrong-mating/cases.ts';
import { type HarmKind, RANKS } from '../analysis/wrong-mating/harms.ts';
import { type WrongMating, wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import { lackAgainst, lackEdits } from '../checks/key-edits.ts';
import { agree, spokenList } from '../checks/lists.ts';
import { spokenLack } from '../checks/mating-advice.ts';
import {
  HARM_WORDS,
  spokenCase,
  spokenContacts,
  spokenHarm,
  spokenVerdict,
} from '../checks/spoken-mating.ts';
import type { Edit, View } from '../checks/types.ts';
import { type Entry, entriesOf, findEntry } from './what-if-cases.ts';
import { ALL_PLUGS, type CasesShown, type Does } from './what-if-choice.ts';
import type { Weight } from './what-if-harms.ts';
import { type DrawnMate, matesOf, type Routed } from './what-if-mates.ts';

/** A case in the list of all. */
export interface ListedCase {
  readonly id: string;
  /** `CPU turned in CAGE.1 and 9 other slots: foreign rail` */
  readonly says: string;
}

/** What happens in a case. */
export interface DrawnHarm {
  readonly kind: HarmKind;
  readonly weight: Weight;
  /** `foreign rail` */
  readonly word: string;
  /** `+24V of PSU, up to 3 A, meets D0 of CPU (74LS245), which stands 7 V` */
  readonly says: string;
  /** `W1 conductor 5 on GAUGE.J2.5`, from what does it on; empty where it happens for want of a contact. */
  readonly through: string;
  /** The same without the last, at which it is told; empty where that alone does it. */
  readonly by: string;
}

/** One case as it is drawn. */
export interface DrawnCase {
  readonly id: string;
  /** `CPU turned in CAGE.1` */
  readonly says: string;
  /** Other places where it comes to the same. */
  readonly also: readonly string[];
  readonly state: 'open' | 'unsaid' | 'prevented';
  /** `prevented by the key` */
  readonly verdict: string;
  /** What happens, the worst first; each thing once. Of very much, what is told of contacts and so much of the rest. */
  readonly harms: readonly DrawnHarm[];
  /** How much more happens. */
  readonly more: number;
  readonly does: Does;
  /** How many contacts it meets that nobody knows: what these do cannot be judged. */
  readonly unknown: number;
  readonly mates: readonly DrawnMate[];
  /** `Against the 34 harmful ways of E16: a key between 1 and 2 of E16 prevents all 34` */
  readonly against?: string;
  /** Keys that can be added against it, as an order. */
  readonly key?: { readonly title: string; readonly origin: { readonly edit: Edit } };
}

/** What happens where somebody plugs something in wrong: one case of those that there are. Plain data. */
export interface WhatIfPicture {
  readonly title: string;
  /** The plug whose cases these are: `CPU`, `W1 at GAUGE.J1`, or all. */
  readonly of: string;
  readonly cases: CasesShown;
  /** The cases around the one that is shown, worst first, and which of all the first of them is, from 0. */
  readonly list: readonly ListedCase[];
  readonly first: number;
  /** How many are gone through, and how many of those that nothing prevents do harm, or cannot be judged. */
  readonly count: number;
  readonly harmful: number;
  readonly unjudged: number;
  /** Undefined where nothing can be plugged in wrong. */
  readonly shown?: DrawnCase;
}

/** Which case is wanted; the worst where nobody says. */
export interface WantedCase {
  readonly of: string;
  readonly cases?: CasesShown | undefined;
  readonly case?: string | undefined;
}

/** So many cases are listed at once. */
const LISTED = 60;

/** The picture of a case; undefined where no plug is called so. */
export function whatIfPicture(view: View, wanted: WantedCase): WhatIfPicture | undefined {
  const { of, cases = 'open' } = wanted;
  const { machine } = view;
  const mating = wrongMatingOf(machine);
  const entries = entriesOf(mating, of);
  if (of !== ALL_PLUGS && entries.length === 0) return undefined;
  const open = entries.filter(({ isOpen }) => isOpen);
  const shown = findEntry(entries, wanted.case) ?? open[0] ?? entries[0];
  // What is shown stays in the list, also once it is prevented.
  const through = cases === 'all' ? entries : entries.filter((one) => one.isOpen || one === shown);
  const at = shown ? through.indexOf(shown) : 0;
  const first = Math.max(0, Math.min(at - LISTED / 2, through.length - LISTED));
  return {
    title: machine.title,
    of,
    cases,
    list: through.slice(first, first + LISTED).map((entry) => listed(mating, entry)),
    first,
    count: through.length,
    harmful: open.filter(({ does }) => does === 'harm').length,
    unjudged: open.filter(({ does }) => does === 'unknown').length,
    ...(shown ? { shown: caseOf(view, mating, shown) } : {}),
  };
}

/** The case of that number, from 1, of those that are gone through; undefined where there are not so many. */
export function caseNumbered(
  { machine }: View,
  { of, cases }: Required<Pick<WantedCase, 'of' | 'cases'>>,
  number: number,
): string | undefined {
  const entries = entriesOf(wrongMatingOf(machine), of);
  return entries.filter(({ isOpen }) => cases === 'all' || isOpen)[number - 1]?.id;
}

function listed(mating: WrongMating, { id, cases, does }: Entry): ListedCase {
  const [one, ...others] = cases;
  const also = others.length === 0 ? '' : ` and ${others.length} more slot${others.length > 1 ? 's' : ''}`;
  const kept = { open: '', unsaid: ', half prevented', prevented: ', prevented' }[one.verdict.state];
  const said = does === 'unknown' ? 'cannot be judged' : worstSaid(mating, one);
  return { id, says: `${spokenCase(one)}${also}: ${said}${kept}` };
}

function worstSaid(mating: WrongMating, one: Case): string {
  const worst = mating.worst(one);
  return worst === undefined ? 'nothing happens' : HARM_WORDS[worst.kind];
}

function caseOf(view: View, mating: WrongMating, entry: Entry): DrawnCase {
  const { id, does } = entry;
  const [one, ...others] = entry.cases;
  const trace = mating.trace(one);
  const harms = mating.harms(one).map((harm): Routed => ({ harm, route: trace.route(harm) }));
  const mates = matesOf(view, one, harms, { ...trace, joined: mating.joined(one) });
  const marked = mates.flatMap(({ meets }) => meets.filter(({ unknown }) => unknown)).length;
  return {
    id,
    says: spokenCase(one),
    also: others.map(({ place }) => place.path),
    state: one.verdict.state,
    verdict: spokenVerdict(one.verdict),
    does,
    // Of a harmful case not all that is unknown was counted.
    unknown: does === 'harm' ? marked : entry.unknown,
    ...toldOf(view, harms, mates, does),
    ...preventionOf(view, one),
  };
}

/** What would prevent a case, in words with what it costs, and as an order. */
function preventionOf(view: View, one: Case): Pick<DrawnCase, 'against' | 'key'> {
  const lack = lackAgainst(view, one);
  const [said] = spokenLack(lack);
  if (lack === undefined || said === undefined) return {};
  const { cases, connector } = lack;
  const isOnly = cases.length === 1 && cases[0] === one;
  const ways = `${cases.length} harmful ${agree(cases.length, 'way', 'ways')} of ${connector.name}`;
  const [edit] = lackEdits(view, lack);
  return {
    against: `${isOnly ? 'Against it' : `Against the ${ways}`}: ${said}`,
    ...(edit ? { key: { title: edit.title, origin: { edit } } } : {}),
  };
}

/** So much is told of a case at least. */
const TOLD = 24;

/** A short that spreads over a bus does hundreds of things: what nobody would read does not go along. */
function toldOf(
  view: View,
  harms: readonly Routed[],
  mates: readonly DrawnMate[],
  does: Does,
): Pick<DrawnCase, 'harms' | 'more' | 'mates'> {
  const used = new Set(harms.slice(0, TOLD).keys());
  for (const { meets } of mates)
    for (const { harm, tells } of meets)
      for (const i of harm === undefined ? tells : [harm, ...tells]) used.add(i);
  const kept = [...used].sort((a, b) => a - b);
  const at = new Map(kept.map((i, place) => [i, place]));
  return {
    harms: kept.map((i) => harmOf(view, harms[i]!, does)),
    more: harms.length - kept.length,
    mates: mates.map((mate) => ({
      ...mate,
      meets: mate.meets.map(({ harm, tells, ...rest }) => ({
        ...rest,
        ...(harm === undefined ? {} : { harm: at.get(harm)! }),
        tells: tells.map((i) => at.get(i)!),
      })),
    })),
  };
}

/** So many meetings on the way are named: a skewed board bridges a whole row. */
const FEW = 2;

function harmOf(view: View, { harm, route }: Routed, does: Does): DrawnHarm {
  const said = route.map((contacts) => spokenContacts(view, { ...harm, contacts }));
  const word = HARM_WORDS[harm.kind];
  return {
    kind: harm.kind,
    weight: weightOf(harm.kind),
    // Beside what cannot be judged, nothing is called harmless.
    word: does === 'unknown' ? word.replace(', harmless', '') : word,
    says: spokenHarm(harm),
    through: spokenList(said, FEW + 1),
    by: spokenList(said.slice(0, -1), FEW),
  };
}

function weightOf(kind: HarmKind): Weight {
  const rank = RANKS[kind];
  if (rank <= RANKS['ground-lost']) return 'destroys';
  if (rank <= RANKS['rail-to-ground']) return 'shorts';
  return rank <= RANKS['ground-on-output'] ? 'strains' : 'harmless';
}
