import { isTerminator, type Network } from '../analysis/bias.ts';
import type { Biasing } from '../machine/types.ts';

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
