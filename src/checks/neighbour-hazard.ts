import { type Hazard, hazardsOf } from '../analysis/neighbours.ts';
import type { Bus, Instance, Port } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { claimOf, placeOf, spokenAmount, stepAt } from './explain.ts';
import { agree } from './lists.ts';
import type { Finding, Rule, View } from './types.ts';

/** Where not to let the probe slip. One finding per map of contacts in use. */
export const neighbourHazard: Rule = {
  id: 'neighbour-hazard',
  severity: 'note',
  summary: 'neighbouring contacts where one slip of the probe does harm',
  *check(view) {
    for (const [map, instance] of mapsInUse(view)) {
      const hazards = hazardsOf(view.machine, instance.pins);
      if (hazards.length > 0) yield finding(view, map, instance, hazards);
    }
  },
};

/** Each bus and port that may have power on it, with one of its places: what sits there many times is one map. */
function mapsInUse({ machine }: View): Map<Bus | Port, Instance> {
  const maps = new Map<Bus | Port, Instance>();
  for (const instance of machine.instances) {
    const { kind, port, board, plugs } = instance;
    if (kind === 'edge') continue;
    const powered = kind !== 'port' || board?.slot !== undefined || plugs.some(({ unplugged }) => !unplugged);
    const map = kind === 'slot' ? port.bus! : port;
    if (powered && !maps.has(map)) maps.set(map, instance);
  }
  return maps;
}

function finding(view: View, map: Bus | Port, instance: Instance, hazards: readonly Hazard[]): Finding {
  const { kind, path, base, backplane } = instance;
  // A table that ships with the product is not what the person is looking at.
  const source = isPublished(map.source.file) ? backplane!.source : map.source;
  const where = kind === 'slot' ? `bus ${map.name}` : path;
  const [worst] = hazards as readonly [Hazard, ...Hazard[]];
  const place = (contact: number): string =>
    `${placeOf(view, base + contact)} (${claimOf(view, base + contact)!.name})`;
  const current = worst.amps === undefined ? '' : `, up to ${spokenAmount(worst.amps, 'A')}`;
  const does = {
    logic: 'kills what hangs on the line',
    rails: 'joins two rails',
    ground: 'shorts the rail',
  }[worst.slip];
  const count = hazards.length;
  return {
    rule: 'neighbour-hazard',
    severity: 'note',
    message: `${count} ${agree(count, 'pair', 'pairs')} of neighbours on ${where} ${agree(count, 'does', 'do')} harm under a slipping probe; the worst, ${place(worst.rail)} beside ${place(worst.other)}, ${does}: ${spokenAmount(worst.volts, 'V')}${current}`,
    source,
    path: [worst.rail, worst.other].map((contact) => stepAt(view, base + contact, source)),
    fix: 'sleeve the probe down to its tip, and measure rails at contacts without such neighbours',
    about: [map.name, path, instance.pins.connector.name],
  };
}
