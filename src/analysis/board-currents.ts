import type { Machine } from '../machine/types.ts';
import { sunkFrom } from './bias.ts';
import { type BoardCopper, boardCopper } from './board-copper.ts';
import { type Driver, type Line, linesOf } from './line.ts';
import { type Duty, LOW_LIMIT, legsOf, sinkOf, worst } from './loading.ts';
import type { NetIndex } from './nets.ts';
import { knownPart } from './parts.ts';
import { type Network, powerOf } from './power.ts';

/**
 * A that a board takes of what is at this finger of it, below zero where it gives; undefined where nobody knows. What it
 * does on other copper of its own, though the slots join the two, is not told here.
 *
 * On a line, while it is low: what its driver must sink at worst; of a board that only hears it, what its inputs and
 * resistors give. On a rail that it makes, what others take of it: a least where some do not say it. What it takes of a
 * rail, its `takes` says; how it returns by several grounds, nobody knows.
 */
export type CurrentAt = (finger: number) => number | undefined;

/** Each net is reckoned once, and only when it is asked for. Linear in the uses of the nets that are. */
export function currentsOf(machine: Machine, nets: NetIndex): CurrentAt {
  const { of } = machine.nets;
  const copper = boardCopper(machine.joins);
  const lines = new Map(linesOf(machine, nets).map((line) => [line.view.net, line]));
  const power = powerOf(machine);
  const known = new Map<number, ReadonlyMap<number, number | undefined>>();
  return (finger) => {
    const net = of[finger]!;
    const line = lines.get(net);
    if (line === undefined) {
      const network = power.at(finger);
      return network && given(network, copper, finger);
    }
    let currents = known.get(net);
    if (currents === undefined) {
      currents = currentsOn(line, copper, startersOf(machine, line));
      known.set(net, currents);
    }
    return currents.get(copper.pieceOf(finger));
  };
}

/** Boards that start a chain here drive its out; the rules of lines leave chains alone, and do not count them. */
function startersOf(machine: Machine, { view }: Line): Driver[] {
  const starters: Driver[] = [];
  for (const use of view.uses) {
    const { kind, part } = use.card;
    if (kind !== 'starts') continue;
    const output = part === undefined ? undefined : knownPart(machine, part)?.output;
    starters.push({ use, kind: undefined, output, draw: undefined });
  }
  return starters;
}

/** What each piece of a board's copper takes of a line in the low state, if all is known that makes it up. A. */
function currentsOn(
  line: Line,
  { pieceOf }: BoardCopper,
  starters: readonly Driver[],
): ReadonlyMap<number, number | undefined> {
  const legs = legsOf(line);
  const sunk = new Map<number, number | undefined>();
  const duties: Duty[] = [];
  for (const driver of [...line.drivers, ...starters]) {
    const piece = pieceOf(driver.use.node);
    const duty = sinkOf(line, driver, legs);
    if (duty) duties.push(duty);
    // Resistors to ground may carry more than the inputs give; then the driver has nothing to sink.
    const demand = duty && Math.max(0, duty.demand);
    const other = sunk.has(piece) ? sunk.get(piece) : 0;
    sunk.set(piece, demand === undefined || other === undefined ? undefined : Math.max(demand, other));
  }
  const volts = worst(duties, 'low')?.point.voltage ?? LOW_LIMIT;
  const heard = new Map<number, number | undefined>();
  const give = (node: number, amps: number | undefined): void => {
    const piece = pieceOf(node);
    const other = heard.has(piece) ? heard.get(piece) : 0;
    heard.set(piece, amps === undefined || other === undefined ? undefined : other - amps);
  };
  const { loads, unknown } = line.loaded();
  for (const { use, low } of loads) give(use.node, low);
  for (const { node } of unknown) give(node, undefined);
  for (const { biasing, legs: own } of line.networks)
    if (biasing.board) give(biasing.node, own && sunkFrom(own, volts));
  return new Map([...heard, ...sunk]);
}

/** What a board gives to a rail that it alone makes, on this copper. Of several sources, nobody knows which gives what. */
function given({ sources, loads }: Network, { pieceOf }: BoardCopper, finger: number): number | undefined {
  const [source] = sources;
  if (source?.board === undefined || sources.length !== 1) return undefined;
  if (pieceOf(source.node) !== pieceOf(finger)) return undefined;
  const taken = loads.flatMap(({ board, take }) => (board === source.board ? [] : (take.current ?? [])));
  return taken.length === 0 ? undefined : -taken.reduce((sum, amps) => sum + amps, 0);
}
