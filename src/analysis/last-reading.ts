import type { Machine, Reading } from '../machine/types.ts';
import type { NetIndex } from './nets.ts';

/** A reading, and the contact at which one of its leads was held. */
export interface ReadingAt {
  readonly reading: Reading;
  readonly contact: number;
}

/** The last reading at any of these contacts. */
export type LastReading = (contacts: readonly number[]) => ReadingAt | undefined;

/**
 * Last by its date, of one day the later in the text; one without a date counts as taken after the one written before
 * it. Volts are told of a contact that was measured against ground, and not of that ground: what lies between two other
 * places is the voltage of neither. A diode reading is told of the side that is not ground.
 */
export function lastReadings(machine: Machine, nets: NetIndex): LastReading {
  const { readings, contactCount } = machine;
  const { of } = machine.nets;
  const grounds = new Set(machine.supplyGrounds.map(({ node }) => of[node]!));
  let day = '';
  const dated = readings.map((reading) => {
    day = reading.evidence.date ?? day;
    return { reading, day };
  });
  dated.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  /** What a contact is said to be; of one that nobody names, and of any other place, what it is joined with. */
  const isGround = (node: number): boolean => {
    if (node < contactCount) {
      const { pins, base } = nets.instanceOf(node);
      const claim = pins.claims[node - base];
      if (claim !== undefined && claim.name !== '') return claim.kind === 'ground';
    }
    return grounds.has(of[node]!) || nets.at(node).claims.some(({ claim }) => claim.kind === 'ground');
  };
  /** Index into the dated ones, by contact. */
  const last = new Map<number, number>();
  dated.forEach(({ reading: { from, to, volts, diode } }, i) => {
    for (const [node, other] of [
      [from, to],
      [to, from],
    ] as const) {
      if (volts === undefined || isGround(other) || (diode && !isGround(node))) last.set(node, i);
    }
  });
  return (contacts) => {
    let [at, contact] = [-1, -1];
    for (const one of contacts) {
      const i = last.get(one) ?? -1;
      if (i > at) [at, contact] = [i, one];
    }
    return at < 0 ? undefined : { reading: dated[at]!.reading, contact };
  };
}
