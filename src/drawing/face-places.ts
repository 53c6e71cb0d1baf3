import type { ConnectorPicture } from './connector-picture.ts';
import type { ConnectorSheet } from './connector-svg.ts';
import { cellsOfFace } from './face-cells.ts';
import type { Drawn } from './picture.ts';
import type { Place } from './places.ts';

/** The contacts of a face as they are laid out. */
export function facePlaces(
  picture: Drawn<ConnectorPicture>,
  { layout: { at, pitch }, upper }: ConnectorSheet,
): Place[] {
  const cells = cellsOfFace(picture);
  return picture.contacts.map(({ net }, i) => ({
    cell: cells[i]!,
    x: at[i]!.x - pitch / 2,
    y: upper + at[i]!.y - pitch / 2,
    width: pitch,
    height: pitch,
    nets: net === undefined ? [] : [net],
  }));
}
