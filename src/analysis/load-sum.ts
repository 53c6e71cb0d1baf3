import type { Use } from '../machine/types.ts';
import { givenBy, type Leg, type Network, sunkFrom } from './bias.ts';
import type { Line, Load } from './line.ts';
import { type Duty, HIGH_LIMIT } from './loading.ts';

/** One part of what a driver must carry: the loads of one kind of part, or a terminator or pull-up. A. */
export type LoadItem =
  | { readonly kind: 'loads'; readonly part: string; readonly uses: readonly Use[]; readonly amps: number }
  | { readonly kind: 'network'; readonly network: Network; readonly amps: number };

/**
 * What makes up a driver's demand at its level, the largest first; loads of one part together. What adds nothing is
 * left out; a resistor that helps the driver counts below zero.
 */
export function loadSum(
  line: Line,
  { level, driver, point }: Duty,
  networks: readonly Network[],
): LoadItem[] {
  const byPart = new Map<string, Load[]>();
  for (const load of line.loaded().loads) {
    if (load.use === driver.use) continue;
    const part = load.use.card.part ?? '';
    const list = byPart.get(part);
    if (list) list.push(load);
    else byPart.set(part, [load]);
  }
  const items: LoadItem[] = [];
  for (const [part, loads] of byPart) {
    const amps = loads.reduce((sum, load) => sum + load[level], 0);
    items.push({ kind: 'loads', part, uses: loads.map(({ use }) => use), amps });
  }
  for (const network of networks) {
    const { legs } = network;
    if (legs) items.push({ kind: 'network', network, amps: ofLegs(legs, level, point.voltage) });
  }
  return items.filter(({ amps }) => amps !== 0).sort((a, b) => b.amps - a.amps);
}

function ofLegs(legs: readonly Leg[], level: Duty['level'], volts: number): number {
  return level === 'low' ? sunkFrom(legs, volts) : -givenBy(legs, Math.min(volts, HIGH_LIMIT));
}
