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
 * it. Volts are told of the contact that was measured, not of the ground that they were measured against.
 */
export function lastReadings({ readings, contactCount }: Machine, nets: NetIndex): LastReading {
  let day = '';
  const dated = readings.map((reading) => {
    day = reading.evidence.date ?? day;
    return { reading, day };
  });
  dated.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  const isGround = (node: number): boolean => {
    if (node >= contactCount) return false;
    const { pins, base } = nets.instanceOf(node);
    return pins.claims[node - base]?.kind === 'ground';
  };
  /** Index into the dated ones, by contact. */
  const last = new Map<number, number>();
  dated.forEach(({ reading: { from, to, volts } }, i) => {
    for (const [node, other] of [
      [from, to],
      [to, from],
    ] as const) {
      if (volts === undefined || !isGround(node) || isGround(other)) last.set(node, i);
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
