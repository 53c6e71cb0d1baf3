import { type Biased, biasedChips, type ChipRail } from '../analysis/bias-rails.ts';
import type { Machine, RailSource, Supply } from '../machine/types.ts';
import { spokenVoltage } from './currents.ts';
import { stepAt } from './explain.ts';
import { spokenList, spokenNames } from './lists.ts';
import type { Finding, Rule, Severity, View } from './types.ts';

/** What is known of the order in which a chip's rails come up. */
interface Order {
  readonly chips: Biased;
  readonly supply: Supply;
  /** The rail that comes too early; undefined where the order is not said. */
  readonly early?: ChipRail;
}

/** The order in which the supply's rails come up, against what the makers of chips ask for. One finding per chip line. */
export const railOrder: Rule = {
  id: 'rail-order',
  severity: 'error',
  summary:
    'a part wants one rail on first, and the supply brings another up before it, or nobody says the order',
  *check(view) {
    const found = new Map<string, Order[]>();
    for (const chips of biasedChips(view.machine)) {
      const order = orderOf(view.machine, chips);
      if (order === undefined) continue;
      const { file, from } = chips.fitted.chip.source;
      const key = `${file}\n${from}\n${order.supply.name}\n${order.early?.name}`;
      const alike = found.get(key);
      if (alike) alike.push(order);
      else found.set(key, [order]);
    }
    for (const alike of found.values()) yield finding(view, alike);
  },
};

/** Undefined where the order is right, where it is unsaid and no maker demands one, and where the rail has no source. */
function orderOf(machine: Machine, chips: Biased): Order | undefined {
  const [origin] = chips.bias.origins;
  const supply = machine.supplies.find(({ name }) => name === origin?.owner);
  if (origin === undefined || supply === undefined) return undefined;
  let unsaid = false;
  for (const other of chips.others) {
    const [its] = other.origins;
    if (its === undefined || its === origin) continue;
    const before = comesBefore(supply, its, origin);
    if (before) return { chips, supply, early: other };
    unsaid ||= before === undefined;
  }
  return unsaid && chips.binding ? { chips, supply } : undefined;
}

/** Whether one rail comes up before another; undefined where nobody says, as between two supplies. */
function comesBefore({ name, order = [] }: Supply, one: RailSource, other: RailSource): boolean | undefined {
  const [a, b] = [order.indexOf(one.rail), order.indexOf(other.rail)];
  return one.owner !== name || a < 0 || b < 0 ? undefined : a < b;
}

function finding(view: View, alike: readonly Order[]): Finding {
  const { chips, supply, early } = alike[0]!;
  const { bias, binding, fitted, board } = chips;
  const severity: Severity = early !== undefined && binding ? 'error' : 'question';
  const boards = [...new Set(alike.map((one) => one.chips.board.name))];
  const what = `${fitted.chip.part} (${spokenNames(fitted.names)}) on ${spokenList(boards)}`;
  const first = bias.name ?? spokenVoltage(bias.volts);
  const [origin] = bias.origins;
  const made = origin === undefined || origin.rail === first ? '' : `, which is made from ${origin.rail}`;
  const wants = `${what} ${binding ? 'must have' : 'are safest with'} ${first} on first and off last${made}`;
  const earlier = early?.origins[0]?.rail ?? '';
  const says =
    early === undefined
      ? `nobody says in which order the rails of ${supply.name} come up`
      : `${supply.name} brings ${earlier} up before ${origin?.rail}`;
  return {
    rule: 'rail-order',
    severity,
    message: `${wants}, and ${says}`,
    source: fitted.chip.source,
    path: [bias, ...chips.others].flatMap(({ node }) =>
      node === undefined ? [] : [stepAt(view, node, fitted.chip.source)],
    ),
    fix: fixOf(severity, early !== undefined, supply.name, origin?.rail ?? first),
    about: [first, supply.name, fitted.chip.part, board.card.name, ...boards],
  };
}

function fixOf(severity: Severity, known: boolean, supply: string, rail: string): string {
  if (severity === 'error')
    return `see that ${rail} of ${supply} is on first and off last before these chips are fitted`;
  if (known) return `find the maker of the chips and what it asks for, or bring ${rail} up first`;
  return `measure which rail of ${supply} comes up first, and say it with \`order ${rail}, …\``;
}
