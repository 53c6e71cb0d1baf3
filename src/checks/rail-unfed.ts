import { type BusRail, busRailsOf } from '../analysis/bus-rails.ts';
import { clashingNets } from '../analysis/meetings.ts';
import { withEdits } from './edits.ts';
import { placeOf, spokenEvidence, stepAt } from './explain.ts';
import { correcting, feeding } from './feed-edits.ts';
import type { Finding, Rule, View } from './types.ts';

/** A rail of a bus that boards take and nothing feeds. One finding per rail and backplane, not per board. */
export const railUnfed: Rule = {
  id: 'rail-unfed',
  severity: 'error',
  summary: 'a rail of the bus that a board takes and nothing feeds',
  *check(view) {
    const { machine, nets } = view;
    if (machine.supplies.length === 0) return;
    const clashing = clashingNets(machine, nets);
    for (const rail of busRailsOf(machine)) {
      if (rail.claim.kind !== 'rail' || rail.fed || rail.takers === 0) continue;
      if (![...rail.nets].some((net) => clashing.has(net))) yield unfed(view, rail);
    }
  },
};

function unfed(view: View, { backplane, claim, contact, takers }: BusRail): Finding {
  const { machine } = view;
  const label = placeOf(view, contact).split('.').at(-1);
  const supplies = machine.supplies.filter(({ rails }) => rails.some(({ name }) => name === claim.name));
  const [supply] = supplies;
  const boards = takers === 1 ? 'one board takes' : `${takers} boards take`;
  const isAstray = supply !== undefined && correcting(backplane, claim.name, supply).length > 0;
  const say = isAstray ? `correct its feed in ${backplane.name}` : `say it in ${backplane.name}`;
  const feed = `feed ${claim.name} from ${supply?.name ?? 'SUPPLY'} at ${label}`;
  return {
    rule: 'rail-unfed',
    severity: 'error',
    message: `nothing feeds ${claim.name} of ${backplane.name} (${placeOf(view, contact)}, ${spokenEvidence(claim.evidence)}), which ${boards}`,
    source: claim.source,
    path: [stepAt(view, contact, claim.source)],
    fix: supply
      ? `find where ${claim.name} of ${supply.name} enters, and ${say}: \`${feed}\``
      : `find out which supply gives ${claim.name}, describe it, and say where it enters: \`${feed}\``,
    ...withEdits(supplies.flatMap((one) => feeding(backplane, claim.name, one))),
    about: [claim.name, claim.owner, backplane.name],
  };
}
