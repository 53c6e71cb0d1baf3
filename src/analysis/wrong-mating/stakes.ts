import { keeping } from '../../machine/keep.ts';
import type { Board, Machine } from '../../machine/types.ts';
import { biasedChips } from '../bias-rails.ts';
import { type Assembly, GROUND, MINUS, PLUS } from './assembly.ts';
import type { Pieces } from './pieces.ts';

/** The ground of a board, and all of its copper that a rail could reach. */
export interface Grounding {
  readonly board: Board;
  readonly grounds: readonly number[];
  readonly pieces: readonly number[];
}

/** A chip that dies where its bias rail is absent while another of its rails is there. All by pieces. */
export interface Bias {
  readonly board: Board;
  /** What the chips are, and what their line calls them. */
  readonly part: string;
  readonly chips: readonly string[];
  readonly volts: number;
  readonly bias: number;
  readonly others: readonly { readonly piece: number; readonly volts: number }[];
}

/** What boards need of their plugs beyond that nothing foreign comes in by them. */
export interface Stakes {
  readonly groundings: readonly Grounding[];
  readonly biases: readonly Bias[];
}

export function stakesOf(machine: Machine, pieces: Pieces): Stakes {
  const grounds = new Map<Board, Set<number>>();
  const copper = new Map<Board, Set<number>>();
  const into = (map: Map<Board, Set<number>>, board: Board, piece: number): void => {
    const set = map.get(board);
    if (set) set.add(piece);
    else map.set(board, new Set([piece]));
  };
  pieces.content.forEach((content, piece) => {
    for (const { board, kind } of content?.wishes ?? [])
      into(kind === 'ground' ? grounds : copper, board, piece);
    for (const { board } of content?.uses ?? []) into(copper, board, piece);
  });
  const groundings = [...grounds].map(([board, its]) => ({
    board,
    grounds: [...its],
    pieces: [...(copper.get(board) ?? [])],
  }));
  const biases = biasedChips(machine).flatMap(({ board, fitted, bias, others }): Bias[] => {
    if (bias.node === undefined) return [];
    const { chip, names } = fitted;
    const rails = others.flatMap(({ node, volts }) =>
      node === undefined ? [] : [{ piece: pieces.of[node]!, volts }],
    );
    return [
      { board, part: chip.part, chips: names, volts: bias.volts, bias: pieces.of[bias.node]!, others: rails },
    ];
  });
  return { groundings, biases };
}

/** Bit of a rail of so many V. */
export const signOf = (volts: number): number => (volts < 0 ? MINUS : PLUS);

/** What is not as it is needed in an assembly: what hangs on the plug that is out. */
export const lackingIn = keeping((assembly: Assembly, stakes: Stakes): Stakes => {
  const { net, bits } = assembly;
  return {
    groundings: stakes.groundings.filter(({ grounds }) => !grounds.some((one) => bits[net[one]!]! & GROUND)),
    biases: stakes.biases.filter(({ bias, volts }) => !(bits[net[bias]!]! & signOf(volts))),
  };
});

/** What a plug that is out leaves lacking which is there when all is in place; of a board that is put in, whatever it lacks. */
export function atStake(out: Stakes, whole: Stakes, own: Board | undefined): Stakes {
  const counts = ({ board }: { readonly board: Board }, lacking: readonly object[], one: object): boolean =>
    board === own || !lacking.includes(one);
  return {
    groundings: out.groundings.filter((one) => counts(one, whole.groundings, one)),
    biases: out.biases.filter((one) => counts(one, whole.biases, one)),
  };
}
