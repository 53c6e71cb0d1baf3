import type { Case } from '../analysis/wrong-mating/cases.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import { keyedConnector } from '../analysis/wrong-mating/keys.ts';
import { agree, spokenList, spokenNames } from '../checks/lists.ts';
import { isForMeter, whatToDo, whatToLookAt, whatToMeter } from '../checks/mating-advice.ts';
import { grouped } from '../checks/sisters.ts';
import { spokenCase, spokenContacts, spokenHarm, spokenVerdict } from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import { type Entry, harmGroups, type Party } from './mismate-entries.ts';
import {
  labelled,
  MOST_NAMES,
  type Page,
  RANK_WORDS,
  spokenEntry,
  spokenRank,
  told,
} from './mismate-page.ts';

/** Merged harms that an entry tells. */
const MOST_HARMS = 3;
/** An entry in full: what, how bad, what meets what, what dies, what keeps it out, what to do. */
export function entryLines(page: Page, entry: Entry): string[] {
  const { view, wrongMating, paint } = page;
  const { rank, cases, unknown } = entry;
  const [first] = cases as readonly [Case, ...Case[]];
  const harms = wrongMating.harms(first).filter(({ kind }) => RANKS[kind] <= RANK_WORDS.length);
  const merged = mergedHarms(view, harms);
  const heading = paint.severity(rank <= RANKS['rail-on-output'] ? 'error' : 'warning', spokenRank(rank));
  const title = told(page, `${spokenRank(rank)}  ${spokenEntry(entry)}`, '', '   ');
  title[0] = title[0]!.replace(spokenRank(rank), () => heading);
  const lines = [...title];
  if (cases.length > 1)
    lines.push(
      ...labelled(page, 'ways:', `${cases.length} that end alike, told by the first: ${spokenCase(first)}`),
    );
  merged.slice(0, MOST_HARMS).forEach((harm, i) => {
    lines.push(...labelled(page, i === 0 ? 'meets:' : '', harm));
  });
  if (merged.length > MOST_HARMS)
    lines.push(
      ...labelled(
        page,
        '',
        `and ${merged.length - MOST_HARMS} more such ${agree(merged.length - MOST_HARMS, 'meeting', 'meetings')}`,
      ),
    );
  if (unknown > 0)
    lines.push(
      ...labelled(page, '', `and ${unknown} unknown ${agree(unknown, 'contact', 'contacts')}, or more`),
    );
  lines.push(...labelled(page, rank <= RANKS['rail-on-output'] ? 'dies:' : 'strains:', victims(harms, rank)));
  lines.push(...labelled(page, 'guard:', spokenVerdict(first.verdict)));
  lines.push(...labelled(page, 'do:', doing(page, first)));
  const meter = harms[0] && isForMeter(harms[0]) ? whatToMeter(view, harms[0]) : undefined;
  if (meter !== undefined) lines.push(...labelled(page, 'meter:', `before power, ${meter}`));
  return lines;
}

function doing({ plans }: Page, one: Case): string {
  if (one.verdict.state === 'unsaid') return whatToLookAt(one);
  const plan = plans.find(({ connector }) => connector === keyedConnector(one))?.plan;
  const keyed = plan !== undefined && plan.leaves === 0;
  return `${whatToDo(one)}${keyed ? '; a key keeps it out for good, see below' : ''}`;
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
