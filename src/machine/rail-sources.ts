import { nodeOfName } from './board-nodes.ts';
import { voltsOfName } from './names.ts';
import { supplyNode } from './supply-wiring.ts';
import type { Board, RailNames, RailSource, Supply, SupplyGround } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Where current comes from: the outputs of supplies, then the regulators of boards. */
export function railSources(
  wiring: Wiring,
  supplies: readonly Supply[],
  boards: readonly Board[],
  rails: RailNames,
): RailSource[] {
  return [
    ...supplies.flatMap((supply) => ofSupply(wiring, supply)),
    ...boards.flatMap((board) => ofRegulators(wiring, board, rails)),
  ];
}

function ofSupply(wiring: Wiring, supply: Supply): RailSource[] {
  return supply.rails.map((rail) => ({
    kind: 'supply',
    node: supplyNode(wiring, supply, rail.name)!,
    rail: rail.name,
    low: rail.low,
    high: rail.high,
    owner: supply.name,
    ac: rail.ac,
    declared: rail,
    source: rail.source,
  }));
}

function ofRegulators(wiring: Wiring, board: Board, { rails }: RailNames): RailSource[] {
  return board.card.makes.map((make) => {
    const volts = make.volts ?? voltsOfName(make.rail) ?? rails.get(make.rail)?.[0]?.low ?? 0;
    return {
      kind: 'regulator',
      node: nodeOfName(wiring, board, make.rail),
      rail: make.rail,
      low: volts,
      high: volts,
      owner: board.name,
      ac: false,
      board,
      make,
      source: make.source,
    };
  });
}

/** Where the current of a supply's rails returns. */
export function supplyGrounds(wiring: Wiring, supplies: readonly Supply[]): SupplyGround[] {
  return supplies.flatMap((supply) =>
    supply.grounds.map((name) => ({ supply, name, node: supplyNode(wiring, supply, name)! })),
  );
}
