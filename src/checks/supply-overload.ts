import { type Network, powerOf } from '../analysis/power.ts';
import { budgetOf } from '../analysis/rail-budget.ts';
import { ROUNDING } from '../analysis/rails.ts';
import { spokenLoads, spokenUnsaid } from './currents.ts';
import { spokenAmount, stepAt } from './explain.ts';
import type { Finding, Rule, View } from './types.ts';

/** Above this part of its rating a supply runs with little to spare: common practice, no source. */
const FULL = 0.8;

/** The boards that a supply's rail reaches take more than it gives. One finding per rail net. */
export const supplyOverload: Rule = {
  id: 'supply-overload',
  severity: 'error',
  summary: 'fitted boards take more of a rail than the supply is rated for',
  *check(view) {
    for (const network of powerOf(view.machine).rails) {
      const finding = overload(view, network);
      if (finding) yield finding;
    }
  },
};

function overload(view: View, network: Network): Finding | undefined {
  const { sources, loads, rail } = network;
  const [first] = sources;
  const { taken: total, rated: max } = budgetOf(network);
  if (first === undefined || max === undefined || total <= max * FULL * (1 + ROUNDING)) return undefined;
  const over = total > max * (1 + ROUNDING);
  const name = sources.map((source) => `${source.owner}.${source.rail}`).join(' and ');
  const rated = `${name} ${sources.length > 1 ? 'are' : 'is'} rated ${spokenAmount(max, 'A')}`;
  const share = over ? 'more than it is rated for' : `${Math.round((total / max) * 100)} % of its rating`;
  return {
    rule: 'supply-overload',
    severity: over ? 'error' : 'note',
    message: `${rated} and the boards on it take ${spokenAmount(total, 'A')}, ${share}: ${spokenLoads(loads)}${spokenUnsaid(loads)}`,
    source: first.source,
    path: loads.map(({ take, board }) => ({
      ...stepAt(view, first.node, take.source),
      contact: board.name,
      signal: rail,
      source: take.source,
    })),
    fix: over
      ? 'leave boards out until the sum is below the rating, or feed some of them from another supply'
      : 'measure the current before another board is added',
    about: [
      rail,
      ...new Set([...sources.map(({ owner }) => owner), ...loads.map(({ board }) => board.name)]),
    ],
  };
}
