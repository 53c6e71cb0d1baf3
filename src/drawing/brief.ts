/** Prefixes of SI that are met on a bus, with their powers of ten. */
const PREFIXES = [
  ['M', 6],
  ['k', 3],
  ['', 0],
  ['m', -3],
  ['u', -6],
  ['n', -9],
] as const;

/** An amount in five characters or less, for where there is no room: `1.25A`, `40mA`, `-12V`, `4.7k`. */
export function briefAmount(value: number, unit: string): string {
  const size = Math.abs(value);
  if (size === 0) return `0${unit}`;
  const [prefix, power] = PREFIXES.find(([, one]) => size >= 0.9995 * 10 ** one) ?? PREFIXES.at(-1)!;
  const scaled = value / 10 ** power;
  const room = 5 - prefix.length - unit.length - (value < 0 ? 1 : 0);
  const digits = Math.max(0, Math.min(2, room - 1 - String(Math.trunc(Math.abs(scaled))).length));
  return `${Number(scaled.toFixed(digits))}${prefix}${unit}`;
}
