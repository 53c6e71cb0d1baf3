import { placeOnBoard } from './board-nodes.ts';
import { placeOnBackplane } from './bus-lines.ts';
import type { Problems } from './scope.ts';
import type { Backplane, Board, Rework } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Straps of a backplane, and wires between its slots. Its cuts part the lines where these are made. */
export function reworkBackplane(wiring: Wiring, backplane: Backplane, problems: Problems): void {
  for (const { kind, places, source, evidence } of backplane.rework) {
    if (kind === 'cut') continue;
    const cause = wiring.joins.because(kind, source, evidence);
    const nodes = places.map((one) => reworkedPlace(wiring, backplane, one, problems));
    joinAll(
      wiring,
      nodes.filter((node) => node !== undefined),
      cause,
    );
  }
}

function reworkedPlace(
  wiring: Wiring,
  backplane: Backplane,
  { place, source }: Rework['places'][number],
  problems: Problems,
): number | undefined {
  const node = placeOnBackplane(wiring, backplane, place);
  // A backplane whose bus is not known is reported once, where the bus is named.
  if (node === undefined && backplane.buses.length > 0) {
    const message = `${backplane.name} has no place \`${place}\`; write a slot and contact such as \`1.19\`, or a line's name`;
    problems.add('name-unknown', source, message);
  }
  return node;
}

/** Straps and wires of a card, and those of the board alone. */
export function reworkBoard(wiring: Wiring, board: Board): void {
  for (const { kind, places, source, evidence } of [...board.card.rework, ...board.rework]) {
    if (kind === 'cut') continue;
    const cause = wiring.joins.because(kind, source, evidence);
    const nodes = places.map(({ place }) => placeOnBoard(wiring, board, place));
    joinAll(wiring, nodes, cause);
  }
}

function joinAll({ joins }: Wiring, [first, ...others]: readonly number[], cause: number): void {
  for (const node of others) joins.join(first!, node, cause);
}
