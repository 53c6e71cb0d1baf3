/** How the trade writes names: active-low marks, rails, vectors. */

interface SignalName {
  /** The name without its active-low mark. */
  readonly base: string;
  readonly low: boolean;
  /** How the mark is written: `/x`, `x*`, … ; empty for an active-high name. */
  readonly style: string;
}

/** `/RD`, `-RD`, `~RD`, `RD/`, `RD*`, `RD#`, `RD_L`; `nRD` where the file declares it. */
export function signalName(name: string, activeLow: ReadonlySet<string>): SignalName {
  const first = name[0] as string;
  const last = name.at(-1) as string;
  if (name.length > 1 && (first === '/' || first === '~' || (first === '-' && !isRailName(name)))) {
    return { base: name.slice(1), low: true, style: `${first}x` };
  }
  if (name.length > 1 && (last === '*' || last === '#' || last === '/')) {
    return { base: name.slice(0, -1), low: true, style: `x${last}` };
  }
  if (name.length > 2 && name.endsWith('_L')) return { base: name.slice(0, -2), low: true, style: 'x_L' };
  if (name.length > 1 && activeLow.has(name)) return { base: name.slice(1), low: true, style: 'nx' };
  return { base: name, low: false, style: '' };
}

const RAIL = /^([+-])(\d+(?:\.\d+)?)(?:V|$)/i;

/** Whether a name is spelled like a rail: `+5V`, `-5.2V`, `+5VSTDBY`, `+12`. */
export function isRailName(name: string): boolean {
  return RAIL.test(name);
}

/** V that a rail's name says, signed; undefined where it says none. */
export function voltsOfName(name: string): number | undefined {
  const found = RAIL.exec(name);
  return found ? Number(found[2]) * (found[1] === '-' ? -1 : 1) : undefined;
}

/** Names that mean ground without being declared: common practice, no source. */
export function isGroundName(name: string): boolean {
  return name === '0V' || /(?:^|[A-Z_-])GND\d*$/.test(name);
}

export interface VectorName {
  readonly before: string;
  readonly number: number;
  /** Digits as written, so that `A01` is not `A1`. */
  readonly digits: string;
  readonly after: string;
}

/** The last number of a name, and what stands around it: `VI0*` is VI, 0, *. */
export function vectorName(name: string): VectorName | undefined {
  // Read from the end, once: a regular expression looks at each digit again and again.
  let to = name.length;
  while (to > 0 && !isDigit(name.charCodeAt(to - 1))) to--;
  let from = to;
  while (from > 0 && isDigit(name.charCodeAt(from - 1))) from--;
  if (from === to) return undefined;
  const digits = name.slice(from, to);
  return { before: name.slice(0, from), number: Number(digits), digits, after: name.slice(to) };
}

const isDigit = (code: number): boolean => code >= 48 && code <= 57;

/** Why a range could not be expanded. */
interface RangeProblem {
  readonly problem: string;
}

/** More members than any connector has contacts: a slip of the finger, not a vector. */
const LONGEST = 4096;

/**
 * The names of a vector from its two ends: `D0..D7`, `IRQ7*..IRQ1*`. The ends differ in one number; the number of
 * digits is kept (`A01..A15`).
 */
export function expandVector(first: string, last: string): string[] | RangeProblem {
  const parts = (name: string): string[] => name.split(/(\d+)/);
  const a = parts(first);
  const b = parts(last);
  const differing = a.map((text, i) => (text === b[i] ? -1 : i)).filter((i) => i >= 0);
  const at = differing[0] ?? a.findIndex((text) => /^\d+$/.test(text));
  if (a.length !== b.length || differing.length > 1 || at < 0 || at % 2 === 0) {
    return { problem: `\`${first}\` and \`${last}\` do not differ in one number` };
  }
  const [from, to] = [Number(a[at]), Number(b[at])];
  if (!(Math.abs(to - from) < LONGEST && Number.isSafeInteger(from) && Number.isSafeInteger(to)))
    return { problem: `\`${first}..${last}\` has more than ${LONGEST} members` };
  const width = Math.min((a[at] as string).length, (b[at] as string).length);
  const padded = (a[at] as string).startsWith('0') || (b[at] as string).startsWith('0');
  const names: string[] = [];
  const step = from <= to ? 1 : -1;
  for (let n = from; n !== to + step; n += step) {
    const digits = padded ? String(n).padStart(width, '0') : String(n);
    names.push([...a.slice(0, at), digits, ...a.slice(at + 1)].join(''));
  }
  return names;
}

/** Letters that card-edge lettering leaves out, because they look like digits or each other. */
const SKIPPED = new Set(['G', 'I', 'O', 'Q']);

/** Labels between two ends in a connector's `numbers`: `1..22`, `a1..a32`, `A..Z` (without G I O Q), `AA..RR`. */
export function expandLabels(first: string, last: string): string[] | RangeProblem {
  if (/\d/.test(first)) return expandVector(first, last);
  const lettered = /^([A-Z])(?:\1)?$/i;
  if (!lettered.test(first) || !lettered.test(last) || first.length !== last.length) {
    return { problem: `\`${first}..${last}\` is not a row of numbers or letters` };
  }
  const labels: string[] = [];
  const [from, to] = [first.charCodeAt(0), last.charCodeAt(0)];
  for (let letter = from; letter <= to; letter++) {
    const character = String.fromCharCode(letter);
    if (!SKIPPED.has(character.toUpperCase())) labels.push(character.repeat(first.length));
  }
  return labels.length > 0 ? labels : { problem: `\`${first}..${last}\` runs backwards` };
}
