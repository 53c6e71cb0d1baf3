import { knownRegulator } from '../analysis/parts.ts';
import type { Network } from '../analysis/power.ts';
import { budgetOf } from '../analysis/rail-budget.ts';
import { chipCurrent, ratingOf } from '../analysis/rails.ts';
import { spokenUnsaid } from '../checks/currents.ts';
import { spokenAmount, spokenEvidence } from '../checks/explain.ts';
import type { View } from '../checks/types.ts';
import type { Machine, Rail, RailSource } from '../machine/types.ts';
import { code, plain, table } from './markdown.ts';

/** `5 V ± 2 %`, `7 to 11 V, peak 25 V`. */
export function spokenVolts({
  low,
  high,
  tolerance,
  peak,
  ac,
}: Omit<Rail, 'owner' | 'name' | 'source' | 'evidence'>): string {
  const volts =
    low === high ? spokenAmount(low, 'V') : `${spokenAmount(low, 'V')} to ${spokenAmount(high, 'V')}`;
  const around = tolerance === undefined ? '' : ` ± ${Number((tolerance * 100).toPrecision(3))} %`;
  return `${volts}${around}${ac ? ' ac' : ''}${peak === undefined ? '' : `, peak ${spokenAmount(peak, 'V')}`}`;
}

const MOST_ROWS = 10;

/** A rail's volts, where it comes from, and what takes how much of it. Markdown. */
export function railParts(
  { machine }: View,
  name: string,
  network: Network,
): { volts?: string; items: (string | undefined)[]; table?: string } {
  const { sources, loads } = network;
  const largest = [...loads].sort((a, b) => (b.take.current ?? 0) - (a.take.current ?? 0));
  const rows = largest
    .slice(0, MOST_ROWS)
    .map(({ board, take }) => [
      code(board.name),
      take.current === undefined ? 'not said' : spokenAmount(take.current, 'A'),
      plain(spokenEvidence(take.evidence)),
    ]);
  const rest = largest.slice(MOST_ROWS);
  if (rest.length > 0) {
    const sum = rest.reduce((amps, { take }) => amps + (take.current ?? 0), 0);
    rows.push([`${rest.length} more`, spokenAmount(sum, 'A'), '']);
  }
  const own = sources.find(({ rail }) => rail === name) ?? sources[0];
  return {
    ...(own ? { volts: spokenVolts(own.declared ?? own) } : {}),
    items: [
      ...(sources.length === 0
        ? ['nothing feeds it']
        : sources.map((source) => spokenSource(machine, source))),
      spokenTaken(machine, network),
    ],
    ...(rows.length > 1 ? { table: table(['board', 'takes', 'known by'], rows) } : {}),
  };
}

/** The sum of what is taken, and how much of the rating that is; of a rail made on a board, what its chips draw. */
function spokenTaken(machine: Machine, network: Network): string | undefined {
  const { sources, loads } = network;
  if (loads.length === 0) {
    const drawn = sources.flatMap(({ board, rail }) => (board && chipCurrent(machine, board, rail)) ?? []);
    if (drawn.length > 0)
      return `chips on the board draw ${spokenAmount(
        drawn.reduce((a, b) => a + b),
        'A',
      )}`;
    return sources.some(({ kind }) => kind === 'regulator') ? undefined : 'no board takes it';
  }
  const { taken, rated } = budgetOf(network);
  // Where different rails are joined, their ratings are no sum.
  const one = sources.every(({ rail }) => rail === sources[0]!.rail);
  const share =
    rated === undefined || !one
      ? ''
      : ` of ${spokenAmount(rated, 'A')} (${Math.round((taken / rated) * 100)} %)`;
  return `**taken** ${spokenAmount(taken, 'A')}${share}${plain(spokenUnsaid(loads))}`;
}

function spokenSource(machine: Machine, { owner, rail, declared, make }: RailSource): string {
  if (declared) {
    const { max, min, evidence } = declared;
    const ratings = [
      ...(max === undefined ? ['rating not said'] : [`rated ${spokenAmount(max, 'A')}`]),
      ...(min === undefined ? [] : [`at least ${spokenAmount(min, 'A')}`]),
    ];
    return `**from** ${code(`${owner}.${rail}`)}, ${ratings.join(', ')}: ${plain(spokenEvidence(evidence))}`;
  }
  if (make === undefined) return `**from** ${code(`${owner}.${rail}`)}`;
  const { from, part, count, evidence } = make;
  const rating = ratingOf(make, part === undefined ? undefined : knownRegulator(machine, part)?.current);
  const by = part === undefined ? '' : ` with ${count > 1 ? `${count} x ` : ''}${code(part)}`;
  const rated = rating === undefined ? '' : `, rated ${spokenAmount(rating, 'A')}`;
  return `**made** on ${code(owner)} from ${code(from)}${by}${rated}: ${plain(spokenEvidence(evidence))}`;
}
