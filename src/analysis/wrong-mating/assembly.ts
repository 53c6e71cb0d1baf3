import { isAbsent } from '../../machine/copper.ts';
import { Sets } from '../../machine/nets.ts';
import type { Machine } from '../../machine/types.ts';
import { pushOf } from './harms.ts';
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
export const LIVE = PLUS | MINUS | GROUND;
export const RAIL = PLUS | MINUS;

/** The machine put together with some plugs left out: which pieces are joined, and what is live. */
export interface Assembly {
  /** Net of each piece. */
  readonly net: Int32Array;
  readonly nets: number;
  /** What is on each net. */
  readonly bits: Uint8Array;
  /** What is live on each net that has something live on it. */
  readonly lives: ReadonlyMap<number, readonly Live[]>;
  /** Regulators that are fed by nothing: they may be in a wrong mating. */
  readonly idle: readonly Live[];
  /** Pieces of each net: `members[start[n] … start[n + 1])`. */
  readonly start: Int32Array;
  readonly members: Int32Array;
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

/** Bit of a live rail or ground. */
export const bitOf = ({ kind, volts }: Live): number =>
  kind === 'ground' ? GROUND : volts.low + volts.high < 0 ? MINUS : PLUS;

/** Puts the plugs together that `isIn`. Near-linear in pieces and contacts. */
export function assemble(
  pieces: Pieces,
  bits: Uint8Array,
  mates: readonly Int32Array[],
  isIn: (plug: number) => boolean,
): Assembly {
  const sets = new Sets(pieces.count);
  for (let plug = 0; plug < mates.length; plug++) {
    if (!isIn(plug)) continue;
    const pairs = mates[plug]!;
    for (let i = 0; i < pairs.length; i += 2) sets.unite(pairs[i]!, pairs[i + 1]!);
  }
  const net = new Int32Array(pieces.count);
  const number = new Int32Array(pieces.count).fill(-1);
  let nets = 0;
  for (let piece = 0; piece < net.length; piece++) {
    const root = sets.find(piece);
    if (number[root] === -1) number[root] = nets++;
    net[piece] = number[root]!;
  }
  const start = new Int32Array(nets + 1);
  for (let piece = 0; piece < net.length; piece++) start[net[piece]! + 1]! += 1;
  for (let n = 0; n < nets; n++) start[n + 1]! += start[n]!;
  const next = start.slice(0, nets);
  const members = new Int32Array(net.length);
  const all = new Uint8Array(nets);
  for (let piece = 0; piece < net.length; piece++) {
    const n = net[piece]!;
    members[next[n]!++] = piece;
    all[n]! |= bits[piece]!;
  }
  const { lives, idle } = feed(pieces.lives, net, all);
  return { net, nets, bits: all, lives, idle, start, members };
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
