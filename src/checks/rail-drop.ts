import { type Arrival, arrivalsOf } from '../analysis/drop.ts';
import { powerOf } from '../analysis/power.ts';
import { ROUNDING } from '../analysis/rails.ts';
import { spokenAmount, stepsBetween } from './explain.ts';
import { spokenList } from './lists.ts';
import type { Finding, Rule, View } from './types.ts';

/** What is lost on the way to a board and back leaves its logic too little. One finding per card and rail. */
export const railDrop: Rule = {
  id: 'rail-drop',
  severity: 'warning',
  summary: 'the drop to a board and back leaves it below what its logic family wants',
  *check(view) {
    const found = new Map<string, Arrival[]>();
    for (const one of arrivalsOf(view.machine)) {
      if (left(one) >= one.wants - ROUNDING) continue;
      // Where the tolerance alone reaches the limit, it is the supply that wants adjusting, once, not every board.
      const adjust = isAdjustment(one);
      const key = `${one.network.rail}\n${adjust ? (one.network.sources[0]?.owner ?? '') : `\n${one.board.card.name}`}`;
      const alike = found.get(key);
      if (alike) alike.push(one);
      else found.set(key, [one]);
    }
    for (const alike of found.values()) {
      const worst = alike.reduce((a, b) => (left(b) < left(a) ? b : a));
      yield finding(view, worst, alike);
    }
  },
};

const left = ({ least, there, back }: Arrival): number => least - there - back;

/** Whether the supply's tolerance, not the way, takes the rail below the limit. */
const isAdjustment = ({ nominal, least, there, back, wants }: Arrival): boolean =>
  least <= wants + ROUNDING && nominal - there - back >= wants - ROUNDING;

/** Millivolts: where a few of them decide, `4.75 V` for 4.746 V says nothing. */
const millivolts = (volts: number): string => `${(Math.round(volts * 1000) / 1000).toString()} V`;

function finding(view: View, worst: Arrival, alike: readonly Arrival[]): Finding {
  const { board, network, nominal, least, there, back, part, wants } = worst;
  const note = isAdjustment(worst);
  const [source] = network.sources;
  const tolerance = source?.declared?.tolerance;
  const from = `${millivolts(least)} at ${source?.owner}${tolerance ? ` (${millivolts(nominal)} less ${Math.round(tolerance * 1000) / 10} %)` : ''}`;
  const returns = back > 0 ? ` and ${spokenAmount(back, 'V')} in the ground return` : '';
  const sum = `${from}, less ${spokenAmount(there, 'V')} on the way${returns}`;
  const others = alike.filter((one) => one !== worst).map((one) => one.board.name);
  const likewise = others.length === 0 ? '' : `; likewise ${spokenList(others)}`;
  const load = network.loads.find((one) => one.board === board);
  const at = note ? source?.source : load?.take.source;
  return {
    rule: 'rail-drop',
    severity: note ? 'note' : 'warning',
    message: `${network.rail} may be ${millivolts(left(worst))} at ${board.name}, and ${part} wants ${millivolts(wants)}: ${sum}${likewise}`,
    source: at ?? board.source,
    path: pathOf(view, worst),
    fix: note
      ? `measure ${network.rail} at ${board.name} under load, and set the supply so that it stays above ${millivolts(wants)} there`
      : `clean the contacts, add contacts or thicker wire for ${network.rail} and ground, and measure at ${board.name} under load`,
    about: [network.rail, source?.owner ?? '', ...alike.map((one) => one.board.name)],
  };
}

function pathOf(view: View, { board, network }: Arrival): Finding['path'] {
  const [source] = network.sources;
  const side = powerOf(view.machine).at(source?.node)?.hubOf(board)?.by?.sides.at(-1);
  const [contact] = side?.contacts ?? [];
  return source && contact !== undefined ? stepsBetween(view, source.node, contact, source.source) : [];
}
