import type { ConnectorPicture } from './connector-picture.ts';
import type { Cell, Drawn } from './picture.ts';

/** Row and column of each contact on its face, from the mating side. */
export function cellsOfFace({ contacts }: Drawn<ConnectorPicture>): Cell[] {
  const ys = [...new Set(contacts.map(({ y }) => y))].sort((a, b) => a - b);
  const xs = ys.map((y) => contacts.filter((one) => one.y === y).map(({ x }) => x));
  for (const row of xs) row.sort((a, b) => a - b);
  return contacts.map(({ x, y }) => {
    const row = ys.indexOf(y);
    return { row, column: xs[row]!.indexOf(x) };
  });
}
