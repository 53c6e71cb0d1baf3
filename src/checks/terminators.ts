import { isTerminator, type Network } from '../analysis/bias.ts';
import type { LoadItem } from '../analysis/load-sum.ts';
import type { Biasing } from '../machine/types.ts';
import { spokenSome } from './sisters.ts';

/** Where a terminator or pull-up sits: `on RAM-A`, `after slot 8`, `on CAGE`. */
export function spokenPlace({ board, backplane, bias }: Biasing): string {
  const { place } = bias;
  if (board !== undefined) return `on ${board.name}${place ? ` at ${place.of}` : ''}`;
  if (place === undefined) return `on ${backplane?.name}`;
  return place.word === 'at' ? `at ${place.of}` : `${place.word} slot ${place.of} of ${backplane?.name}`;
}

/** What is called a terminator in the text and has a terminator's resistance. */
export const isSaidTerminator = (network: Network): boolean =>
  network.biasing.bias.word === 'terminate' && isTerminator(network);

/** One part of what a driver carries: `8 x 74LS on CPU, RAM and 6 more`, `terminator after slot 8 of CAGE`. */
export function spokenItem(item: LoadItem): string {
  if (item.kind === 'network') {
    const { word } = item.network.biasing.bias;
    return `${word === 'terminate' ? 'terminator' : word} ${spokenPlace(item.network.biasing)}`;
  }
  const boards = spokenSome(item.uses.map(({ board }) => board.name));
  return `${item.uses.length > 1 ? `${item.uses.length} x ` : ''}${item.part} on ${boards}`;
}
