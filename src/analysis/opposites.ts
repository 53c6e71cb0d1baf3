import { isGroundName, signalName } from '../machine/names.ts';
import type { Machine } from '../machine/types.ts';

/** Names that belong crossed between two equal ends (common practice; the circuits of EIA-232, from memory). */
const OPPOSITES: readonly (readonly [string, string])[] = [
  ['TX', 'RX'],
  ['TXD', 'RXD'],
  ['TD', 'RD'],
  ['RTS', 'CTS'],
  ['DTR', 'DSR'],
  ['DTR', 'DCD'],
  ['OUT', 'IN'],
];

/** `TXD` and `RXD`, `SOUT2` and `SIN2`: equal but for one such word. */
export function areOpposite(one: string, other: string): boolean {
  const [a, b] = [one.toUpperCase(), other.toUpperCase()];
  return OPPOSITES.some(
    ([left, right]) =>
      (a.includes(left) && a.replace(left, right) === b) ||
      (b.includes(left) && b.replace(left, right) === a),
  );
}

/** Whether two names differ in their active-low mark only: one of them means the opposite level. */
export function differsInPolarity({ activeLow }: Machine, one: string, other: string): boolean {
  const [a, b] = [signalName(one, activeLow), signalName(other, activeLow)];
  return a.base === b.base && a.low !== b.low && !isGroundName(one);
}
