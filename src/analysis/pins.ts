import type { CardUse, Machine } from '../machine/types.ts';
import type { VoltRange } from './meetings.ts';
import { knownPart, outputKind } from './parts.ts';

/** What a pin's absolute maxima allow, as far as its part is known; and whether all of it is known. */
interface PinLimits {
  /** V; undefined where the part does not say. */
  readonly min?: number;
  readonly max?: number;
  readonly known: boolean;
}

const HEARS = new Set(['receives', 'transceives', 'passes']);
const DRIVES = new Set(['drives', 'transceives', 'pulls', 'starts', 'passes']);

/** V below ground that the output of a part on positive rails stands: its substrate diode opens there (from memory). */
const OUTPUT_MIN = -0.5;

/** The limits of the pin behind a use: of its input, its output or, on a transceiver, the narrower of both. */
export function limitsOf(machine: Machine, { kind, part }: CardUse): PinLimits {
  const known = part === undefined ? undefined : knownPart(machine, part);
  if (known === undefined) return { known: false };
  const hears = HEARS.has(kind);
  const drives = DRIVES.has(kind);
  const { input, output } = known;
  const highest = [...(hears && input ? [input.max] : []), ...(drives && output ? [output.max] : [])];
  const swings = known.part?.rails?.some(({ volts }) => volts < 0) === true;
  const lowest = [
    ...(hears && input ? [input.min] : []),
    ...(drives && output ? [swings ? -output.max : OUTPUT_MIN] : []),
  ];
  return {
    ...(highest.length > 0 ? { max: Math.min(...highest), min: Math.max(...lowest) } : {}),
    known: (!hears || input !== undefined) && (!drives || output !== undefined),
  };
}

/** What a stiff rail or ground does to a pin, worst first. */
export type Harm =
  | { readonly kind: 'limit'; readonly volts: number; readonly limit: number }
  | { readonly kind: 'fights'; readonly output: 'three-state' | 'totem-pole' | 'open-collector' }
  | { readonly kind: 'unsaid' };

/** V that a limit is passed by before it counts: a rail at the edge of its range is not beyond it. */
const EDGE = 1e-6;

/**
 * What happens to the pin behind a use on a line that is held at `volts`; undefined where it stands it. An output that
 * drives both ways fights any rail; an open collector fights what it pulls down, and only ground is harmless to it.
 */
export function harmOf(machine: Machine, use: CardUse, volts: VoltRange): Harm | undefined {
  const limits = limitsOf(machine, use);
  const ground = volts.low === 0 && volts.high === 0;
  if (limits.max !== undefined && volts.high > limits.max + EDGE)
    return { kind: 'limit', volts: volts.high, limit: limits.max };
  if (limits.min !== undefined && volts.low < limits.min - EDGE)
    return { kind: 'limit', volts: volts.low, limit: limits.min };
  const drives = DRIVES.has(use.kind) && use.kind !== 'passes';
  const output = drives ? outputKind(machine, use) : undefined;
  if (output !== undefined && !(ground && output === 'open-collector')) return { kind: 'fights', output };
  if (ground && (!drives || output !== undefined)) return undefined;
  return limits.known && (!drives || output !== undefined) ? undefined : { kind: 'unsaid' };
}
