import type { Cell } from './picture.ts';

/** A rectangle in px of the drawing. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where a cell is drawn, and the nets that its copper is on, by the numbers of the picture. */
export interface Place extends Box {
  readonly cell: Cell;
  readonly nets: readonly number[];
}

export type Step = 'left' | 'right' | 'up' | 'down' | 'first' | 'last';

export const isSame = (a: Cell, b: Cell): boolean => a.row === b.row && a.column === b.column;

export const findPlace = (places: readonly Place[], cell: Cell): Place | undefined =>
  places.find((place) => isSame(place.cell, cell));

/** px beside a place that still mean it: copper runs on between two slots. */
const BESIDE = 24;

/** The place at a point, or the nearest one in its row. */
export function placeAt(places: readonly Place[], x: number, y: number): Place | undefined {
  const row = places.filter((one) => y >= one.y && y < one.y + one.height);
  const away = (one: Place): number => Math.max(one.x - x, x - one.x - one.width, 0);
  const nearest = least(row, away);
  return nearest && away(nearest) < BESIDE ? nearest : undefined;
}

/** All places that share a net with this one, itself included. */
export const joinedWith = (places: readonly Place[], { cell, nets }: Place): Place[] =>
  places.filter((one) => isSame(one.cell, cell) || one.nets.some((net) => nets.includes(net)));

/** The place that a step leads to, as one sees it: the nearest in that direction; the same where there is none. */
export function stepFrom(places: readonly Place[], from: Place | undefined, step: Step): Place | undefined {
  if (from === undefined) return places.find(({ cell }) => cell.row >= 0) ?? places[0];
  const [x, y] = middle(from);
  const beside = places.filter((one) => Math.abs(middle(one)[1] - y) < from.height / 2);
  if (step === 'first') return least(beside, (one) => one.x);
  if (step === 'last') return least(beside, (one) => -one.x);
  const sideways = step === 'left' || step === 'right';
  const ahead = (one: Place): number => {
    const [ox, oy] = middle(one);
    return { left: x - ox, right: ox - x, up: y - oy, down: oy - y }[step];
  };
  const candidates = (sideways ? beside : places).filter(
    (one) => ahead(one) > (sideways ? 0.5 : from.height / 2),
  );
  // Up and down: the nearest row first, then what stands nearest in it.
  const away = (one: Place): number =>
    sideways ? ahead(one) : Math.round(ahead(one)) * 10_000 + Math.abs(middle(one)[0] - x);
  return least(candidates, away) ?? from;
}

const middle = ({ x, y, width, height }: Box): [number, number] => [x + width / 2, y + height / 2];

function least(places: readonly Place[], by: (place: Place) => number): Place | undefined {
  let [best, value]: [Place | undefined, number] = [undefined, Number.POSITIVE_INFINITY];
  for (const place of places) {
    const its = by(place);
    if (its < value) [best, value] = [place, its];
  }
  return best;
}
