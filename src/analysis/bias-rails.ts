import type { Board, Machine, Make, RailSource } from '../machine/types.ts';
import { powerOf, wayTo } from './power.ts';
import { chipsOn, type Fitted, inputOf, nodeOnBoard, originsOf, railNameFor, sourcesAt } from './rails.ts';

/** A rail of a chip in its place: what the board calls it, and the supply rails it comes from in the end. */
export interface ChipRail {
  readonly volts: number;
  /** Undefined where nothing on the board has this voltage. */
  readonly name?: string;
  readonly node?: number;
  /** Empty where the rail is dead. */
  readonly origins: readonly RailSource[];
}

/** Chips whose kind has a rail that is to come first: the bias, without which the others destroy them. */
export interface Biased {
  readonly board: Board;
  readonly fitted: Fitted;
  readonly binding: boolean;
  readonly bias: ChipRail;
  readonly others: readonly ChipRail[];
}

/** All chips in the machine that have a rail of this sort. */
export function biasedChips(machine: Machine): Biased[] {
  return machine.boards.flatMap((board) =>
    chipsOn(machine, board).flatMap((fitted) => {
      const first = fitted.part?.first;
      if (first === undefined) return [];
      const rail = (volts: number): ChipRail => railOf(machine, board, fitted, volts);
      const others = (fitted.part?.rails ?? [])
        .map(({ volts }) => volts)
        .filter((volts) => volts !== first.volts);
      return [{ board, fitted, binding: first.binding, bias: rail(first.volts), others: others.map(rail) }];
    }),
  );
}

function railOf(machine: Machine, board: Board, { chip }: Fitted, volts: number): ChipRail {
  const name = railNameFor(machine, board, chip, volts);
  const node = name === undefined ? undefined : nodeOnBoard(machine, board, name);
  return {
    volts,
    // Where a fault joins rails, the one of the rail's own name is meant.
    origins: originsOf(machine, node).sort((a, b) => Number(a.rail !== name) - Number(b.rail !== name)),
    ...(name === undefined ? {} : { name }),
    ...(node === undefined ? {} : { node }),
  };
}

/** Something on which a rail hangs alone: one regulator, or one contact (as a node) that carries `rail`. */
export type Single =
  | { readonly kind: 'regulator'; readonly make: Make }
  | { readonly kind: 'contact'; readonly contact: number; readonly rail: string };

/** What a rail of a board hangs on alone, from the board back to its supply; nothing where it has two sources. */
export function singlesOf(machine: Machine, board: Board, node: number | undefined): Single[] {
  const singles: Single[] = [];
  const seen = new Set<number>();
  for (let [at, on] = [node, board]; at !== undefined && !seen.has(at); ) {
    seen.add(at);
    const network = powerOf(machine).at(at);
    const [source, other] = sourcesAt(machine, at);
    if (source === undefined || other !== undefined || network === undefined) break;
    const hub = network.hubOf(on);
    for (const { by, beside } of hub ? wayTo(hub).reverse() : []) {
      for (const { contacts } of by?.sides ?? []) {
        const [contact, second] = contacts;
        if (contact === undefined || second !== undefined || beside > 0) continue;
        singles.push({ kind: 'contact', contact, rail: network.rail });
      }
    }
    if (source.kind === 'supply' || source.make === undefined || source.board === undefined) break;
    if (source.make.count === 1) singles.push({ kind: 'regulator', make: source.make });
    at = inputOf(machine, source);
    on = source.board;
  }
  return singles;
}
