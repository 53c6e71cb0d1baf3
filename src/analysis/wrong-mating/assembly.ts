import { isAbsent } from '../../machine/copper.ts';
import type { Machine } from '../../machine/types.ts';
import { mayPush, pushOf } from './harms.ts';
import type { Live, Pieces } from './pieces.ts';
import type { Plug } from './plugs.ts';

/** What is on a net, as bits. */
export const PLUS = 1;
export const MINUS = 2;
export const GROUND = 4;
export const PUSHES_BOTH = 8;
export const PUSHES_DOWN = 16;
/** Something there can suffer harm. */
export const SUFFERS = 32;
/** Something there is unknown. */
export const UNKNOWN = 64;
/** Something there drives, and nobody says how. */
export const MAY_PUSH = 128;
export const LIVE = PLUS | MINUS | GROUND;
export const RAIL = PLUS | MINUS;

/**
 * The machine put together with some plugs left out: which pieces are joined, and what is live. A net is known by its first piece.
 * There are many of these, so that each is flat and small.
 */
export interface Assembly {
  /** Net of each piece. */
  readonly net: Int32Array;
  /** What is on each net. */
  readonly bits: Uint8Array;
  /** The piece that comes after each on its net; −1 after the last. */
  readonly next: Int32Array;
  /** What is live on each net that has something live on it. */
  readonly lives: ReadonlyMap<number, readonly Live[]>;
  /** Regulators that are fed by nothing: they may be in a wrong mating. */
  readonly idle: readonly Live[];
}

/** Bits of each piece that do not depend on what is plugged in. */
export function bitsOf(machine: Machine, { count, content, unknown }: Pieces): Uint8Array {
  const bits = new Uint8Array(count);
  for (const piece of unknown) bits[piece]! |= UNKNOWN;
  content.forEach((one, piece) => {
    if (one === undefined) return;
    if (one.wishes.length + one.uses.length > 0) bits[piece]! |= SUFFERS;
    for (const use of one.uses) {
      const push = pushOf(machine, use);
      if (push) bits[piece]! |= push === 'both' ? PUSHES_BOTH : PUSHES_DOWN;
      else if (mayPush(machine, use)) bits[piece]! |= MAY_PUSH;
    }
  });
  return bits;
}

/** Pieces that a plug joins when it is where it belongs, in pairs. */
export function matesOf(plug: Plug, of: Int32Array): Int32Array {
  const pairs: number[] = [];
  for (const { pins, home, copper } of plug.parts) {
    if (home === undefined) continue;
    copper.forEach((node, i) => {
      if (node >= 0 && !isAbsent(pins, i) && !isAbsent(home.pins, i))
        pairs.push(of[node]!, of[home.base + i]!);
    });
  }
  return Int32Array.from(pairs);
}

/** Bits of a live rail or ground. What alternates feeds regulators of both signs, through rectifiers. */
export const bitOf = ({ kind, volts, ac }: Live): number => {
  if (kind === 'ground') return GROUND;
  if (ac) return RAIL;
  return volts.low + volts.high < 0 ? MINUS : PLUS;
};

/** Puts the plugs together that `isIn`. Near-linear in pieces and contacts. */
export function assemble(
  pieces: Pieces,
  bits: Uint8Array,
  mates: readonly Int32Array[],
  isIn: (plug: number) => boolean,
): Assembly {
  const { count } = pieces;
  const net = new Int32Array(count);
  for (let piece = 0; piece < count; piece++) net[piece] = piece;
  for (let plug = 0; plug < mates.length; plug++) if (isIn(plug)) uniteAll(net, mates[plug]!);
  // The first piece of a net leads to itself, and each other one to an earlier one.
  for (let piece = 0; piece < count; piece++) net[piece] = net[net[piece]!]!;
  const all = new Uint8Array(count);
  const next = new Int32Array(count).fill(-1);
  for (let piece = count - 1; piece >= 0; piece--) {
    const first = net[piece]!;
    all[first]! |= bits[piece]!;
    if (first === piece) continue;
    next[piece] = next[first]!;
    next[first] = piece;
  }
  return { net, bits: all, next, ...feed(pieces.lives, net, all) };
}

/** Joins pieces in pairs; of two sets the one with the earlier first piece leads. */
function uniteAll(lead: Int32Array, pairs: Int32Array): void {
  for (let i = 0; i < pairs.length; i += 2) {
    let [a, b] = [pairs[i]!, pairs[i + 1]!];
    while (lead[a] !== a) {
      lead[a] = lead[lead[a]!]!;
      a = lead[a]!;
    }
    while (lead[b] !== b) {
      lead[b] = lead[lead[b]!]!;
      b = lead[b]!;
    }
    if (a < b) lead[b] = a;
    else lead[a] = b;
  }
}

/** What is live where. A regulator gives its rail while the piece it is fed from has a rail of the same sign. */
function feed(all: readonly Live[], net: Int32Array, bits: Uint8Array): Pick<Assembly, 'lives' | 'idle'> {
  const lives = new Map<number, Live[]>();
  let waiting: Live[] = [];
  const enter = (live: Live): void => {
    const at = net[live.piece]!;
    bits[at]! |= bitOf(live);
    const list = lives.get(at);
    if (list) list.push(live);
    else lives.set(at, [live]);
  };
  for (const live of all) {
    if (live.input === undefined) enter(live);
    else waiting.push(live);
  }
  for (let before = -1; before !== waiting.length; ) {
    before = waiting.length;
    const still: Live[] = [];
    for (const live of waiting) {
      if (bits[net[live.input!]!]! & bitOf(live)) enter(live);
      else still.push(live);
    }
    waiting = still;
  }
  return { lives, idle: waiting };
}
