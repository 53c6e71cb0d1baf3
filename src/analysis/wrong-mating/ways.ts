import { keeping } from '../../machine/keep.ts';
import type { Connector, Shape } from '../../machine/types.ts';

/** How a plug sits in a socket. Straight: not turned, nothing shifted, nothing over. */
export interface Way {
  /** Turned by half a turn about the direction in which it is plugged in. */
  readonly turned: boolean;
  /** Positions that it lies further along the socket; ±0.5 where it is skewed and each finger bridges two contacts. */
  readonly shift: number;
  /** Rows that it lies over: 1 where its first row meets the socket's second. */
  readonly over: -1 | 0 | 1;
}

export const STRAIGHT: Way = { turned: false, shift: 0, over: 0 };

/** Whether two ways are one. */
export const isSame = (a: Way, b: Way): boolean =>
  a.turned === b.turned && a.shift === b.shift && a.over === b.over;

export const isStraight = ({ turned, shift, over }: Way): boolean => !turned && shift === 0 && over === 0;

/** How far a plug is shifted by mistake, in positions: nobody misses by three without seeing it (common practice, no source). */
const FARTHEST = 2;

/**
 * The ways in which a connector of a shape can be moved on its counterpart at all, whatever keeps it from it. A D-shell and a
 * DIN 41612 body let a plug in one way only; a DIP socket lets it in turned too; only open pins take a plug one row over.
 */
const MOVES: Readonly<
  Record<Shape, { readonly turns: boolean; readonly shifts: boolean; readonly skews: boolean }>
> = {
  edge: { turns: true, shifts: true, skews: true },
  header: { turns: true, shifts: true, skews: false },
  row: { turns: true, shifts: true, skews: false },
  dip: { turns: true, shifts: false, skews: false },
  dshell: { turns: false, shifts: false, skews: false },
  din: { turns: false, shifts: false, skews: false },
};

/** What position of a plug lies under one of the socket: `along`, read backwards. */
export const under = ({ positions }: Connector, { turned, shift }: Way, position: number): number =>
  turned ? positions - 1 + shift - position : position - shift;

/** A way, and the contacts that meet in it: pairs of a plug's contact and a socket's, one after the other. */
export interface Move {
  readonly way: Way;
  readonly pairs: Int32Array;
}

/** All ways to put a plug of this kind on a socket of that kind, the straight one first; a skewed finger meets two contacts. */
export const movesBetween = keeping((plug: Connector, socket: Connector): readonly Move[] =>
  waysBetween(plug, socket).flatMap((way) => {
    const pairs = meetingContacts(plug, socket, way);
    return pairs.length > 0 ? [{ way, pairs }] : [];
  }),
);

/**
 * All ways to put a plug of this kind on a socket of that kind, the straight one first. Where the two differ in length, a
 * shift counts from the first position, and both ends are reached.
 */
function waysBetween(plug: Connector, socket: Connector): Way[] {
  const { turns, shifts, skews } = MOVES[plug.shape];
  const longer = socket.positions - plug.positions;
  const first = shifts ? Math.min(0, longer) - FARTHEST : 0;
  const last = shifts ? Math.max(0, longer) + FARTHEST : 0;
  const overs = plug.shape === 'header' && plug.rows > 1 ? ([0, -1, 1] as const) : ([0] as const);
  const ways: Way[] = [STRAIGHT];
  for (const turned of turns ? [false, true] : [false]) {
    for (const over of overs) {
      for (let shift = first; shift <= last; shift++) {
        const way = { turned, shift, over };
        if (!isStraight(way)) ways.push(way);
      }
    }
  }
  if (skews) for (const shift of [-0.5, 0.5]) ways.push({ turned: false, shift, over: 0 });
  return ways;
}

/** Contact of a connector at a row and position, from 0; −1 where there is none. */
const contactAt = keeping((connector: Connector): ((row: number, position: number) => number) => {
  const { rows, positions, labels, row, position } = connector;
  const at = new Int32Array(rows * positions).fill(-1);
  labels.forEach((_, i) => {
    at[row[i]! * positions + position[i]!] = i;
  });
  return (r, p) => (r < 0 || p < 0 || r >= rows || p >= positions ? -1 : at[r * positions + p]!);
});

/** Where a position of a plug lies along the socket; also of what lies between two positions, as a key does. */
export const along = ({ positions }: Connector, { turned, shift }: Way, position: number): number =>
  (turned ? positions - 1 - position : position) + shift;

/** Contact of the socket that a contact of the plug lands on; −1 where it hangs free. For ways without a skew. */
export function landing(plug: Connector, socket: Connector, way: Way, contact: number): number {
  return contactAt(socket)(rowOf(plug, way, contact), along(plug, way, plug.position[contact]!));
}

/** The row of the socket over which a contact of the plug lies; beside all of them where it hangs free. */
export const rowOf = (plug: Connector, { turned, over }: Way, contact: number): number =>
  (turned ? plug.rows - 1 - plug.row[contact]! : plug.row[contact]!) + over;

/**
 * Contacts that meet: pairs of a plug's contact and a socket's, one after the other. A skewed finger meets two. By where they are,
 * not by their numbers: a header numbered row by row takes the plug of one numbered in zigzag.
 */
function meetingContacts(plug: Connector, socket: Connector, way: Way): Int32Array {
  const pairs: number[] = [];
  const at = contactAt(socket);
  for (let i = 0; i < plug.labels.length; i++) {
    const row = rowOf(plug, way, i);
    const position = along(plug, way, plug.position[i]!);
    const [low, high] = [Math.floor(position), Math.ceil(position)];
    for (const one of low === high ? [low] : [low, high]) {
      const met = at(row, one);
      if (met >= 0) pairs.push(i, met);
    }
  }
  return Int32Array.from(pairs);
}

/** Whether the bodies go into each other: equal shapes, rows and pitch; where walls close the socket, the plug is no longer than it. */
export function fits(plug: Connector, socket: Connector, walled: boolean): boolean {
  if (plug === socket) return true;
  if (plug.shape !== socket.shape || plug.rows !== socket.rows) return false;
  if (plug.pitch !== undefined && socket.pitch !== undefined && !isClose(plug.pitch, socket.pitch))
    return false;
  if (plug.shape === 'edge' || plug.shape === 'header' || plug.shape === 'row')
    return !walled || plug.positions <= socket.positions;
  return plug.labels.length === socket.labels.length;
}

/** 3.96 mm and 0.156 in are one pitch: they differ by less than a hundredth. */
const isClose = (a: number, b: number): boolean => Math.abs(a - b) <= 0.01 * Math.max(a, b);
