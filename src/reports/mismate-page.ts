import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { ConnectorPlan } from '../analysis/wrong-mating/plans.ts';
import { isStraight } from '../analysis/wrong-mating/ways.ts';
import type { WrongMating } from '../analysis/wrong-mating/wrong-mating.ts';
import { agree, spokenList } from '../checks/lists.ts';
import { spokenCases } from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import type { Entry, Judged } from './mismate-entries.ts';
import { harmless } from './places.ts';
import { type Paint, wrapped } from './text.ts';

/** What the ranks mean, worst first: a word for the heading of an entry, and what happens. */
export const RANK_WORDS: readonly (readonly [word: string, meaning: string])[] = [
  ['dies at once', 'a voltage meets what cannot stand it, a chip loses its bias, a ground lies on a rail'],
  [
    'floats',
    'a board gets a rail but no ground: the current finds its way back through the inputs of its chips',
  ],
  ['shorts a supply', 'a rail is shorted to ground: fuse, regulator or copper gives way'],
  ['burns an output', 'a rail stands on an output that pulls against it'],
  [
    'outputs fight',
    'two outputs drive against each other: nothing works, both run hot, either may die in time',
  ],
  ['strains an output', 'an output is held to ground for as long as it is plugged in so'],
];

const NO_HARM = 'no harm';

/** `1 dies at once`. */
export const spokenRank = (rank: number): string =>
  rank > RANK_WORDS.length ? NO_HARM : `${rank} ${RANK_WORDS[rank - 1]![0]}`;

/** Names in a list before it is cut short. */
export const MOST_NAMES = 4;

export interface MismateText {
  readonly view: View;
  readonly wrongMating: WrongMating;
  /** Every wrong way that is asked for. */
  readonly judged: readonly Judged[];
  readonly plans: readonly ConnectorPlan[];
  /** What the machine is called. */
  readonly title: string;
  /** The one that is asked for: of it every way is told, the prevented and the harmless ones too. */
  readonly of?: string;
  readonly paint: Paint;
  readonly columns: number;
}

/** What every part of the report is written with. */
export interface Page extends MismateText {
  readonly width: number;
}

/** Wrapped, and safe for a terminal. */
export const told = ({ width }: Page, text: string, first: string, next: string): string[] =>
  wrapped(harmless(text), width, first, next);

/** A line or more with a label before it. */
export function labelled(page: Page, label: string, text: string): string[] {
  const [first = '', ...rest] = told(page, text, BESIDE, BESIDE);
  return [`  ${page.paint.faint(label)}${first.slice(2 + label.length)}`, ...rest];
}

const BESIDE = '           ';

/** What somebody did: `RAM-A and RAM-B put into CAGE.1`, `CPU turned in CAGE.1..10`. */
export function spokenEntry({ cases }: Entry): string {
  const names = [...new Set(cases.map(({ plug }) => plug.name))];
  const places = [...cases]
    .sort((a, b) => (a.place.slot?.index ?? 0) - (b.place.slot?.index ?? 0))
    .map(({ place }) => place.path);
  const said = spokenCases(cases, spokenList(names, MOST_NAMES), spokenPlaces([...new Set(places)]));
  const [{ plug, fault }] = cases as readonly [Case, ...Case[]];
  return plug.kind === 'board' && fault === 'wrong place' && cases.every(({ way }) => isStraight(way))
    ? `${said}, a slot that is not ${agree(names.length, 'its own', 'theirs')}`
    : said;
}

/** Slots of one backplane in a row as a range: `CAGE.1..10`; a few names where they are not. */
export function spokenPlaces(paths: readonly string[]): string {
  const parts: string[][] = [];
  for (const path of paths) {
    const run = parts.at(-1);
    if (run !== undefined && follows(run.at(-1)!, path)) run.push(path);
    else parts.push([path]);
  }
  return spokenList(
    parts.flatMap((run) =>
      run.length > 2 ? [`${run[0]}..${run.at(-1)!.slice(run[0]!.lastIndexOf('.') + 1)}`] : run,
    ),
    MOST_NAMES,
  );
}

function follows(a: string, b: string): boolean {
  const [one, next] = [a, b].map((path) => /^(.*\.)(\d+)$/.exec(path));
  return !!one && !!next && one[1] === next[1] && Number(next[2]) === Number(one[2]) + 1;
}
