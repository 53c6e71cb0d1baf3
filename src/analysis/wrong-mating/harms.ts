import type { Board, Machine, Use } from '../../machine/types.ts';
import { differ, type VoltRange } from '../meetings.ts';
import { outputKind } from '../parts.ts';
import { harmOf } from '../pins.ts';
import type { Content, Live, Wish } from './pieces.ts';

/** What a wrong mating does, in words for programs; `RANKS` orders them. */
export type HarmKind =
  /** A rail beyond what a pin or a board stands meets it. */
  | 'foreign-rail'
  /** Two rails that differ are joined. */
  | 'rails-joined'
  /** A board's ground stands on a rail: all its other contacts are below its ground. */
  | 'ground-on-rail'
  /** A chip's bias rail is absent while another of its rails is there. */
  | 'bias-lost'
  /** No ground reaches a board, and a rail does. */
  | 'ground-lost'
  | 'rail-to-ground'
  | 'rail-on-output'
  | 'outputs-fight'
  | 'ground-on-output'
  | 'ground-on-line'
  /** Two sources of one voltage are joined. Does no harm by itself. */
  | 'rails-paralleled';

/**
 * How bad it is, 1 the worst: what dies at once and cannot be had again, down to what is harmless. The order is common practice at the
 * bench, no source; what each needs is stated beside it below.
 */
export const RANKS: Readonly<Record<HarmKind, number>> = {
  'foreign-rail': 1,
  'rails-joined': 1,
  'ground-on-rail': 1,
  'bias-lost': 1,
  'ground-lost': 2,
  'rail-to-ground': 3,
  'rail-on-output': 4,
  'outputs-fight': 5,
  'ground-on-output': 6,
  'ground-on-line': 7,
  'rails-paralleled': 8,
};

/** No harm at all. */
export const HARMLESS = 9;

/** One thing that happens in a wrong mating. */
export interface Harm {
  readonly kind: HarmKind;
  /** What is live. */
  readonly power?: Live;
  /** What it meets: another rail or ground that is live … */
  readonly other?: Live;
  /** … what a board expects there … */
  readonly wish?: Wish;
  /** … or what a board does on its line; two of them where outputs fight. */
  readonly uses?: readonly Use[];
  /** V that the pin behind the use stands. */
  readonly limit?: number;
  /** The board that is hit. */
  readonly board?: Board;
  /** The chips that lose their bias: what they are, what their line calls them, and V of the bias. */
  readonly part?: string;
  readonly chips?: readonly string[];
  readonly volts?: number;
  /** Two contacts that meet, by nodes, through which it happens; −1 where it happens for want of a contact. */
  readonly contacts: readonly [number, number];
}

export type Meet = Omit<Harm, 'contacts'>;

/**
 * What a live rail or ground does to everything on a piece of copper that it should not meet; what is live there is another matter.
 * `shorted`: the rail is on live ground as well. Then no board's ground stands on it: the short takes it down.
 */
export function meetsOf(machine: Machine, power: Live, { wishes, uses }: Content, shorted: boolean): Meet[] {
  return [
    ...wishes.flatMap((wish) => (shorted && wish.kind === 'ground' ? [] : (wishMet(power, wish) ?? []))),
    ...uses.flatMap((use) => useMet(machine, power, use) ?? []),
  ];
}

/** What two rails or grounds that are both live do to each other. */
export function livesMeet(machine: Machine, power: Live, other: Live): Meet | undefined {
  if (power.kind === 'ground' && other.kind === 'ground') return undefined;
  if (power.kind !== other.kind) {
    const rail = power.kind === 'rail' ? power : other;
    return { kind: 'rail-to-ground', power: rail, other: rail === power ? other : power };
  }
  if (power.ac !== other.ac || differ(power.volts, other.volts)) {
    const [high, low] = size(power.volts) >= size(other.volts) ? [power, other] : [other, power];
    return { kind: 'rails-joined', power: high, other: low };
  }
  const declared = power.name === other.name ? power.owner === other.owner : false;
  if (declared || machine.aliases.has(`${power.name}\n${other.name}`)) return undefined;
  return { kind: 'rails-paralleled', power, other };
}

const size = ({ low, high }: VoltRange): number => Math.max(Math.abs(low), Math.abs(high));

/** A board stands less than it expects, and not more, nor the other sign. Its own ground may stand on no rail. */
function wishMet(power: Live, wish: Wish): Meet | undefined {
  const { board, kind, volts } = wish;
  if (power.kind === 'ground') return undefined;
  if (kind === 'ground') return { kind: 'ground-on-rail', power, wish, board };
  if (volts === undefined) return undefined;
  const foreign =
    power.ac !== wish.ac ||
    (differ(power.volts, volts) &&
      (power.volts.high < 0 !== volts.high < 0 || size(power.volts) > size(volts)));
  return foreign ? { kind: 'foreign-rail', power, wish, board } : undefined;
}

/** A rail within the limits of an output is shorted by it; ground under an output that drives both ways only strains it. */
function useMet(machine: Machine, power: Live, use: Use): Meet | undefined {
  const { board } = use;
  const hit = { power, uses: [use], board };
  if (power.ac) return { kind: 'foreign-rail', ...hit };
  const harm = harmOf(machine, use.card, power.volts);
  if (power.kind === 'ground')
    return { kind: harm?.kind === 'fights' ? 'ground-on-output' : 'ground-on-line', ...hit };
  if (harm?.kind === 'limit') return { kind: 'foreign-rail', ...hit, limit: harm.limit };
  return harm?.kind === 'fights' ? { kind: 'rail-on-output', ...hit } : undefined;
}

/**
 * Whether nobody knows what a rail or ground does to the pin behind a use: its part is not said, its limits are not known, or
 * nobody says what kind of output it is.
 */
export const isUnknownPin = (machine: Machine, power: Live, { card }: Use): boolean =>
  harmOf(machine, card, power.volts)?.kind === 'unsaid';

const OUTPUTS: ReadonlySet<Use['card']['kind']> = new Set(['drives', 'transceives', 'pulls', 'starts']);

/** How a use pushes its line about: both ways, or only down; undefined where it only listens. */
export function pushOf(machine: Machine, { card }: Use): 'both' | 'down' | undefined {
  if (!OUTPUTS.has(card.kind)) return undefined;
  const output = outputKind(machine, card);
  if (output === undefined) return undefined;
  return output === 'open-collector' ? 'down' : 'both';
}

/** Whether nobody says how a use pushes its line about, though it does. */
export const mayPush = (machine: Machine, use: Use): boolean =>
  OUTPUTS.has(use.card.kind) && pushOf(machine, use) === undefined;

/** Two outputs fight where one of them drives both ways. */
export const fights = (a: 'both' | 'down', b: 'both' | 'down'): boolean => a === 'both' || b === 'both';
