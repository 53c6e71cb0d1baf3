import type { Case } from '../analysis/wrong-mating/cases.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import { keyedConnector } from '../analysis/wrong-mating/keys.ts';
import { agree, spokenList, spokenNames } from '../checks/lists.ts';
import { isForMeter, whatToDo, whatToLookAt, whatToMeter } from '../checks/mating-advice.ts';
import { grouped } from '../checks/sisters.ts';
import {
  spokenCase,
  spokenContacts,
  spokenHarm,
  spokenPlug,
  spokenVerdict,
} from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import { type Block, type Entry, harmGroups, type Party } from './mismate-entries.ts';
import {
  labelled,
  MOST_NAMES,
  type Page,
  RANK_WORDS,
  spokenEntry,
  spokenPlaces,
  spokenRank,
  told,
} from './mismate-page.ts';

/** Merged harms that a block tells. */
const MOST_HARMS = 2;
/** Lines on what else comes of the same lack; asked for one plug, all are told. */
const MOST_OTHERS = 2;

/** A block: the worst in full (what, how bad, what meets what, what dies), what else there is, what keeps it out, what to do. */
export function blockLines(page: Page, { worst, others }: Block): string[] {
  const { view, wrongMating, paint } = page;
  const { rank, cases, unknown } = worst;
  const [first] = cases as readonly [Case, ...Case[]];
  const harms = wrongMating.harms(first).filter(({ kind }) => RANKS[kind] <= RANK_WORDS.length);
  const merged = mergedHarms(view, harms);
  const heading = paint.severity(rank <= RANKS['rail-on-output'] ? 'error' : 'warning', spokenRank(rank));
  const title = told(page, `${spokenRank(rank)}  ${spokenEntry(worst)}`, '', '   ');
  title[0] = title[0]!.replace(spokenRank(rank), () => heading);
  const lines = [...title];
  if (cases.length > 1)
    lines.push(...labelled(page, 'ways:', `${cases.length} alike, told by the first: ${spokenCase(first)}`));
  const shown = merged.slice(0, MOST_HARMS);
  const left = merged.length - shown.length;
  if (left > 0) shown[shown.length - 1] += `; and ${left} more`;
  if (unknown > 0) shown.push(`and ${unknown} unknown ${agree(unknown, 'contact', 'contacts')}, or more`);
  shown.forEach((harm, i) => {
    lines.push(...labelled(page, i === 0 ? 'meets:' : '', harm));
  });
  lines.push(...labelled(page, rank <= RANKS['rail-on-output'] ? 'dies:' : 'strains:', victims(harms, rank)));
  lines.push(...otherLines(page, worst, others));
  // The heading says it of those that are open.
  if (first.verdict.state !== 'open') lines.push(...labelled(page, 'guard:', spokenVerdict(first.verdict)));
  lines.push(...labelled(page, 'do:', doing(page, [worst, ...others])));
  const meter = harms[0] && isForMeter(harms[0]) ? whatToMeter(view, harms[0]) : undefined;
  if (meter !== undefined) lines.push(...labelled(page, 'meter:', `before power, ${meter}`));
  return lines;
}

/** What else is open for the same cause: how many ways, and the next worst that ends otherwise; of one plug, every way. */
function otherLines(page: Page, worst: Entry, others: readonly Entry[]): string[] {
  const { wrongMating, of } = page;
  if (others.length === 0) return [];
  const kindOf = ({ cases }: Entry): string => wrongMating.worst(cases[0]!)!.kind;
  const distinct = grouped([worst, ...others], kindOf).map(([one]) => one!);
  const told = of === undefined ? distinct.filter((one) => one !== worst).slice(0, MOST_OTHERS) : others;
  const cases = others.flatMap((one) => one.cases);
  const where = spokenPlaces([...new Set(cases.map(({ place }) => place.path))].sort(byPlace));
  const count = `${cases.length} more ${agree(cases.length, 'way', 'ways')} ${cases[0]!.plug.kind === 'board' ? 'in' : 'at'} ${where}`;
  const lines = labelled(
    page,
    'others:',
    told.length > 0 && of === undefined ? `${count}, among them` : count,
  );
  for (const { rank, cases } of told) {
    const [first] = cases as readonly [Case, ...Case[]];
    const what = of === undefined ? spokenCase(first) : spokenEntry({ rank, cases, unknown: 0 });
    lines.push(
      ...labelled(page, '', `${spokenRank(rank)}, ${what}: ${spokenHarm(wrongMating.worst(first)!)}`),
    );
  }
  return lines;
}

const byPlace = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true });

function doing(page: Page, entries: readonly Entry[]): string {
  const cases = entries.flatMap((one) => one.cases);
  const [first] = cases as [Case, ...Case[]];
  if (first.verdict.state === 'unsaid') return looking(cases) + guiding(cases);
  const isMoved = ({ fault }: Case): boolean => fault !== 'wrong place';
  const other = cases.find((one) => isMoved(one) !== isMoved(first));
  const also = other === undefined ? '' : `; ${whatToDo(other)}`;
  const plan = page.plans.find(({ connector }) => connector === keyedConnector(first))?.plan;
  const keyed = plan !== undefined && plan.leaves === 0;
  return `${whatToDo(first)}${also}${guiding(cases)}${keyed ? '; or key it' : ''}`;
}

/** What to look at, told once, and where else the same is to be looked at. */
function looking(cases: readonly Case[]): string {
  const [[first], ...others] = grouped(cases, whatToLookAt) as [[Case], ...[Case][]];
  const [here, ...places] = [first, ...others.map(([one]) => one)].map((one) =>
    one.plug.kind === 'board' ? one.place.path : spokenPlug(one),
  );
  const rest = [...new Set(places)].filter((one) => one !== here).sort(byPlace);
  return `${whatToLookAt(first)}${rest.length === 0 ? '' : `; the same for ${spokenPlaces(rest)}`}`;
}

/** Card guides keep a board on its own side and in its place along the socket, where there are any. */
function guiding(cases: readonly Case[]): string {
  const helps = cases.some(
    ({ plug, place, way }) =>
      plug.kind === 'board' && place.slot?.guides === false && (way.turned || Math.abs(way.shift) >= 1),
  );
  return helps ? '; say `guides` on the `slots` line if there are card guides' : '';
}

/** Harms that come by the same two contacts told once: what happens, and to what else. */
function mergedHarms(view: View, harms: readonly Harm[]): string[] {
  return harmGroups(harms).map(({ first, also }) => {
    const through = spokenContacts(view, first);
    return (
      spokenHarm(first) +
      (through === '' ? '' : ` (${through})`) +
      (also.length === 0 ? '' : `; the same for ${spokenParties(also)}`)
    );
  });
}

/** `GND of RAM-A, RAM-B and CLOCK`, `Q1..Q7 and STROBE of GAUGE (74LS244)`. */
function spokenParties(parties: readonly Party[]): string {
  const owners = grouped(parties, ({ of }) => of).map((its) => ({
    lines: spokenNames(its.map(({ line }) => line)),
    of: its[0]!.of,
  }));
  const all = grouped(owners, ({ lines }) => lines).map(
    (its) =>
      `${its[0]!.lines} of ${spokenList(
        its.map(({ of }) => of),
        MOST_NAMES,
      )}`,
  );
  return spokenList(all, MOST_NAMES);
}

/** What dies of the worst that happens, board by board: `RAM-A (74LS38, 74LS)`. */
function victims(harms: readonly Harm[], rank: number): string {
  const parts = new Map<string, Set<string>>();
  const hit = (name: string, part: string | undefined): void => {
    const its = parts.get(name) ?? new Set();
    parts.set(name, part === undefined ? its : its.add(part));
  };
  for (const { kind, power, other, wish, uses = [], board, part } of harms) {
    if (RANKS[kind] !== rank) continue;
    for (const use of uses) hit(use.board.name, use.card.part);
    if (wish) hit(wish.board.name, wish.kind === 'ground' ? undefined : `all on ${wish.name}`);
    else if (uses.length === 0 && board) hit(board.name, part);
    if (kind === 'rails-joined') hit(`what ${other!.name} of ${other!.owner} feeds`, undefined);
    if (kind === 'rail-to-ground')
      hit(`the source of ${power!.name} of ${power!.owner}, or its fuse`, undefined);
  }
  return spokenList(
    [...parts].map(([name, its]) => (its.size === 0 ? name : `${name} (${[...its].join(', ')})`)),
    2 * MOST_NAMES,
  );
}
