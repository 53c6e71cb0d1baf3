import { type WrongMating, wrongMatingOf } from '../analysis/wrong-mating/cases.ts';
import { type Harm, type HarmKind, RANKS } from '../analysis/wrong-mating/harms.ts';
import { keysAgainst } from '../checks/key-edits.ts';
import {
  HARM_WORDS,
  spokenCase,
  spokenContacts,
  spokenHarm,
  spokenVerdict,
} from '../checks/spoken-mating.ts';
import type { Edit, View } from '../checks/types.ts';
import { type Entry, entriesOf, findEntry } from './what-if-cases.ts';
import { ALL_PLUGS, type CasesShown } from './what-if-choice.ts';
import type { Weight } from './what-if-harms.ts';
import { type DrawnMate, matesOf } from './what-if-mates.ts';

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
  /** `W1 conductor 5 on GAUGE.J2.5`; empty where it happens for want of a contact. */
  readonly through: string;
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
  readonly mates: readonly DrawnMate[];
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
  /** How many are gone through, and how many of them are open and harmful. */
  readonly count: number;
  readonly open: number;
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
    open: open.length,
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

function listed(mating: WrongMating, { id, cases }: Entry): ListedCase {
  const [one, ...others] = cases;
  const also = others.length === 0 ? '' : ` and ${others.length} more slot${others.length > 1 ? 's' : ''}`;
  const worst = mating.worst(one);
  const does = worst === undefined ? 'nothing happens' : HARM_WORDS[worst.kind];
  const kept = { open: '', unsaid: ', half prevented', prevented: ', prevented' }[one.verdict.state];
  return { id, says: `${spokenCase(one)}${also}: ${does}${kept}` };
}

function caseOf(view: View, mating: WrongMating, { id, cases: [one, ...others] }: Entry): DrawnCase {
  const harms = mating.harms(one);
  const [edit] = keysAgainst(view, one);
  return {
    id,
    says: spokenCase(one),
    also: others.map(({ place }) => place.path),
    state: one.verdict.state,
    verdict: spokenVerdict(one.verdict),
    ...toldOf(view, harms, matesOf(view, one, harms, mating.joined(one))),
    ...(edit ? { key: { title: edit.title, origin: { edit } } } : {}),
  };
}

/** So much is told of a case at least. */
const TOLD = 24;

/** A short that spreads over a bus does hundreds of things: what nobody would read does not go along. */
function toldOf(
  view: View,
  harms: readonly Harm[],
  mates: readonly DrawnMate[],
): Pick<DrawnCase, 'harms' | 'more' | 'mates'> {
  const used = new Set(harms.slice(0, TOLD).keys());
  for (const { meets } of mates)
    for (const { harm, tells } of meets)
      for (const i of harm === undefined ? tells : [harm, ...tells]) used.add(i);
  const kept = [...used].sort((a, b) => a - b);
  const at = new Map(kept.map((i, place) => [i, place]));
  return {
    harms: kept.map((i) => harmOf(view, harms[i]!)),
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

const harmOf = (view: View, harm: Harm): DrawnHarm => ({
  kind: harm.kind,
  weight: weightOf(harm.kind),
  word: HARM_WORDS[harm.kind],
  says: spokenHarm(harm),
  through: spokenContacts(view, harm),
});

function weightOf(kind: HarmKind): Weight {
  const rank = RANKS[kind];
  if (rank <= RANKS['ground-lost']) return 'destroys';
  if (rank <= RANKS['rail-to-ground']) return 'shorts';
  return rank <= RANKS['ground-on-output'] ? 'strains' : 'harmless';
}
