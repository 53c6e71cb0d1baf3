import type { Board, Machine } from '../machine/types.ts';
import { sunkFrom } from './bias.ts';
import { type Line, linesOf } from './line.ts';
import { type Duty, LOW_LIMIT, legsOf, sinkOf, worst } from './loading.ts';
import type { NetIndex } from './nets.ts';
import { type Network, powerOf } from './power.ts';

/**
 * A that a board takes of what is at this contact, below zero where it gives; undefined where nobody knows.
 *
 * On a line, while it is low: what its driver must sink at worst; of a board that only hears it, what its inputs and
 * resistors give. On a rail that it makes, what others take of it: a least where some do not say it. What it takes of a
 * rail, its `takes` says; how it returns by several grounds, nobody knows.
 */
export type CurrentAt = (contact: number, board: Board) => number | undefined;

/** Each net is reckoned once, and only when it is asked for. Linear in the uses of the nets that are. */
export function currentsOf(machine: Machine, nets: NetIndex): CurrentAt {
  const { of } = machine.nets;
  const lines = new Map(linesOf(machine, nets).map((line) => [line.view.net, line]));
  const power = powerOf(machine);
  const known = new Map<number, ReadonlyMap<Board, number | undefined>>();
  return (contact, board) => {
    const net = of[contact]!;
    const line = lines.get(net);
    if (line === undefined) {
      const network = power.at(contact);
      return network && given(network, board);
    }
    let currents = known.get(net);
    if (currents === undefined) {
      currents = currentsOn(line);
      known.set(net, currents);
    }
    return currents.get(board);
  };
}

/** What each board takes of a line in the low state, if all is known that makes it up. A. */
function currentsOn(line: Line): ReadonlyMap<Board, number | undefined> {
  const legs = legsOf(line);
  const sunk = new Map<Board, number | undefined>();
  const duties: Duty[] = [];
  for (const driver of line.drivers) {
    const { board } = driver.use;
    const duty = sinkOf(line, driver, legs);
    if (duty) duties.push(duty);
    // Resistors to ground may carry more than the inputs give; then the driver has nothing to sink.
    const demand = duty && Math.max(0, duty.demand);
    const other = sunk.has(board) ? sunk.get(board) : 0;
    sunk.set(board, demand === undefined || other === undefined ? undefined : Math.max(demand, other));
  }
  const volts = worst(duties, 'low')?.point.voltage ?? LOW_LIMIT;
  const heard = new Map<Board, number | undefined>();
  const give = (board: Board, amps: number | undefined): void => {
    const other = heard.has(board) ? heard.get(board) : 0;
    heard.set(board, amps === undefined || other === undefined ? undefined : other - amps);
  };
  const { loads, unknown } = line.loaded();
  for (const { use, low } of loads) give(use.board, low);
  for (const { board } of unknown) give(board, undefined);
  for (const { biasing, legs: own } of line.networks)
    if (biasing.board) give(biasing.board, own && sunkFrom(own, volts));
  return new Map([...heard, ...sunk]);
}

/** What a board gives to a rail that it alone makes. Of several sources, nobody knows which gives what. */
function given({ sources, loads }: Network, board: Board): number | undefined {
  if (sources.length !== 1 || sources[0]!.board !== board) return undefined;
  const taken = loads.flatMap((load) => (load.board === board ? [] : (load.take.current ?? [])));
  return taken.length === 0 ? undefined : -taken.reduce((sum, amps) => sum + amps, 0);
}
