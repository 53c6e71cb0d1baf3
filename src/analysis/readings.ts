import type { Instance, Machine, Reading } from '../machine/types.ts';
import type { NetIndex } from './nets.ts';
import { isDead, type Potential, potentialAt, standsAt } from './potential.ts';

/** A rail measured against ground with power on. */
export interface Voltage {
  readonly reading: Reading;
  /** Where the rail was touched, and what it is said to be. */
  readonly node: number;
  readonly rail: Potential;
  /** V of the rail against ground, signed. */
  readonly volts: number;
  readonly agrees: boolean;
}

/** What readings with power on say of rails. Those between other places, and of dead rails nobody feeds, are left out. */
export function voltagesOf(machine: Machine, nets: NetIndex): Voltage[] {
  return machine.readings.flatMap((reading): Voltage[] => {
    if (reading.volts === undefined || reading.diode || reading.power !== 'on') return [];
    const [red, black] = [reading.from, reading.to].map((node) => potentialAt(machine, nets, node));
    const exchanged = red?.kind === 'ground';
    const [rail, ground] = exchanged ? [black, red] : [red, black];
    if (rail?.kind !== 'rail' || ground?.kind !== 'ground') return [];
    const volts = exchanged ? -reading.volts : reading.volts;
    if (!rail.fed && isDead(rail, volts)) return [];
    return [
      { reading, node: exchanged ? reading.to : reading.from, rail, volts, agrees: standsAt(rail, volts) },
    ];
  });
}

/** Two rails, or a rail and ground, between which the meter showed less than the rail can bear. */
export interface Short {
  /** The lowest reading first; the others between the same two, either way round. */
  readonly readings: readonly Reading[];
  readonly from: Potential;
  readonly to: Potential;
  /** V between the two, at most; A of the weaker rating of the two. */
  readonly volts: number;
  readonly rated: number;
  /** ohm, without the leads; and the ohm below which the rating is exceeded. */
  readonly ohms: number;
  readonly limit: number;
}

/**
 * Resistance readings between rails, or a rail and ground, below volts ÷ rated current. The leads are taken off: their
 * resistance is not in the machine when power comes on. All readings between the same two are one short. A diode
 * reading is no resistance, and with power on the meter measures none.
 */
export function shortsOf(machine: Machine, nets: NetIndex): Short[] {
  const groups = new Map<string, Reading[]>();
  for (const reading of machine.readings) {
    if (reading.ohms === undefined || reading.diode || reading.power === 'on') continue;
    const key = pairOf(machine, nets, reading);
    const group = groups.get(key);
    if (group) group.push(reading);
    else groups.set(key, [reading]);
  }
  return [...groups.values()].flatMap((group) => shortIn(machine, nets, group));
}

function shortIn(machine: Machine, nets: NetIndex, group: readonly Reading[]): Short[] {
  const metal = ({ ohms, leads }: Reading): number => Math.max(0, (ohms ?? 0) - leads);
  const readings = [...group].sort((a, b) => metal(a) - metal(b));
  const [lowest] = readings as [Reading];
  if (machine.nets.of[lowest.from] === machine.nets.of[lowest.to]) return [];
  const [from, to] = [lowest.from, lowest.to].map((node) => potentialAt(machine, nets, node));
  if (from === undefined || to === undefined) return [];
  const rated = Math.min(from.rated ?? Number.POSITIVE_INFINITY, to.rated ?? Number.POSITIVE_INFINITY);
  const volts = Math.max(Math.abs(from.high - to.low), Math.abs(to.high - from.low));
  const [ohms, limit] = [metal(lowest), volts / rated];
  return ohms < limit ? [{ readings, from, to, volts, rated, ohms, limit }] : [];
}

/**
 * The two nets of a reading, whichever lead was red, and the boards it was taken on: a short on a board in the hand is
 * another than one on the backplane.
 */
export function pairOf(machine: Machine, nets: NetIndex, { from, to }: Reading): string {
  const ends = [from, to].map((node) => `${machine.nets.of[node]} ${boardAt(machine, nets, node) ?? ''}`);
  return ends.sort().join('\n');
}

function boardAt(machine: Machine, nets: NetIndex, node: number): string | undefined {
  const instance: Instance | undefined = node < machine.contactCount ? nets.instanceOf(node) : undefined;
  return instance?.board?.name;
}
