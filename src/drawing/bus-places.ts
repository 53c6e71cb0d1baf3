import { type BusLayout, type LinesPiece, LONGEST, ROW, SLOT } from './bus-layout.ts';
import {
  type BusPicture,
  type Cell,
  columnOf,
  columnOfGap,
  type Drawn,
  HEAD,
  type LineRow,
} from './picture.ts';
import type { Place } from './places.ts';

/** The column of what lies elsewhere on a line's net, behind the slots. */
export const columnBeyond = ({ slots }: Drawn<BusPicture>): number => columnOfGap(slots.length) + 1;

/** All cells of a bus as it is laid out: the slots' names, then line by line its name, slots, ends, what lies beyond. */
export function busPlaces(picture: Drawn<BusPicture>, layout: BusLayout): Place[] {
  const { pieces, columns } = layout;
  const head = pieces.find(({ kind }) => kind === 'head')!;
  const places: Place[] = picture.slots.map((_, slot) => ({
    cell: { row: HEAD, column: columnOf(slot) },
    x: columns.slots[slot]! - SLOT / 2,
    y: head.top,
    width: SLOT,
    height: head.height,
    nets: [],
  }));
  for (const piece of pieces) if (piece.kind === 'lines') places.push(...placesIn(picture, piece, layout));
  return places;
}

function placesIn(
  picture: Drawn<BusPicture>,
  { first, count, top }: LinesPiece,
  { lines, rows, columns }: BusLayout,
): Place[] {
  const places: Place[] = [];
  for (let i = 0; i < count; i++) {
    const line = lines[first + i]!;
    const row = rows[first + i]!;
    const own = netsOf(line);
    const add = (column: number, x: number, width: number, nets: readonly number[]): void => {
      const cell: Cell = { row, column };
      places.push({ cell, x, y: top + i * ROW, width, height: ROW, nets });
    };
    const right = columns.gaps[0]! - 5;
    add(HEAD, columns.names - 4, Math.min(right - columns.names + 4, 2 * LONGEST), own);
    line.crossings.forEach((crossing, slot) => {
      // A chain is one way through many nets.
      if (crossing)
        add(columnOf(slot), columns.slots[slot]! - SLOT / 2, SLOT, line.chain ? own : [crossing.net]);
    });
    for (const gap of new Set(line.ends.map((end) => end.gap)))
      add(columnOfGap(gap), columns.gaps[gap]! - SLOT / 2, SLOT, own);
    if (line.beyond.length > 0)
      add(columnBeyond(picture), columns.beyond - 4, columns.width - columns.beyond, own);
  }
  return places;
}

/** A chain goes in on one net and out on another. */
const netsOf = ({ crossings }: Drawn<LineRow>): number[] => [
  ...new Set(crossings.flatMap((one) => [one?.net, one?.out].filter((net) => net !== undefined))),
];
