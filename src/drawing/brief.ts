import type { ReadingAt } from '../analysis/last-reading.ts';

/** Prefixes of SI that are met on a bus, with their powers of ten. */
const PREFIXES = [
  ['M', 6],
  ['k', 3],
  ['', 0],
  ['m', -3],
  ['u', -6],
  ['n', -9],
] as const;

/**
 * An amount from nano to mega in five characters or less and a sign, for where there is no room: `1.25A`, `40mA`,
 * `-12.1V`, `4.7k`. The unit is one letter or none.
 */
export function briefAmount(value: number, unit: string): string {
  const size = Math.abs(value);
  if (size === 0) return `0${unit}`;
  const [prefix, power] = PREFIXES.find(([, one]) => size >= 0.9995 * 10 ** one) ?? PREFIXES.at(-1)!;
  const scaled = value / 10 ** power;
  const room = 5 - prefix.length - unit.length;
  const digits = Math.max(0, Math.min(2, room - 1 - String(Math.trunc(Math.abs(scaled))).length));
  return `${Number(scaled.toFixed(digits))}${prefix}${unit}`;
}

/**
 * What the meter showed, seen from one of the two contacts: volts with the sign that they have where the red lead is
 * held to it (`5.02V`), ohms without a unit (`470`), a diode with a letter (`D0.61`), `open`.
 */
export function briefReading({ reading, contact }: ReadingAt): string | undefined {
  const { open, ohms, volts, diode, from } = reading;
  if (open) return 'open';
  // A thousandth of an ohm is nothing that a hand meter shows.
  if (ohms !== undefined) return ohms < 1 ? String(Number(ohms.toFixed(2))) : briefAmount(ohms, '');
  if (volts === undefined) return undefined;
  return diode ? `D${volts.toFixed(2)}` : briefAmount(contact === from ? volts : -volts, 'V');
}
