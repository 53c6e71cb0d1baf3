import { awgResistance } from '../knowledge/wire.ts';
import type { Board, Machine } from '../machine/types.ts';
import type { Link } from './links.ts';
import { knownPart, usedParts } from './parts.ts';
import { currentOf, type Hub, type Network, powerOf, waysTo, wayTo } from './power.ts';
import { chipsOn, magnitudesOf, sourcesAt } from './rails.ts';

/**
 * V lost over n equal ways: I·(R_contact + R_conductor + R_contact)/n. Resistances in ohm, of one way; common practice, no
 * source.
 */
export function dropOver(current: number, ways: number, ...resistances: readonly number[]): number {
  return (current * resistances.reduce((sum, one) => sum + one, 0)) / ways;
}

/** What a board gets of a rail at worst, and why. */
export interface Arrival {
  readonly board: Board;
  readonly network: Network;
  /** V at the supply: as it is meant to be, and the least that its tolerance allows. */
  readonly nominal: number;
  readonly least: number;
  /** V lost on the way there and on the way back, at least: what nobody gives a resistance for counts as none. */
  readonly there: number;
  readonly back: number;
  /** What on the board wants the most, and the V it wants. */
  readonly part: string;
  readonly wants: number;
}

/** Every board with logic on a positive supply rail that its family works from, where some of the drop is known. */
export function arrivalsOf(machine: Machine): Arrival[] {
  const { rails, returnOf } = powerOf(machine);
  return rails.flatMap((network) => {
    const [source, other] = network.sources;
    if (source?.declared === undefined || other !== undefined || source.ac || source.low <= 0) return [];
    const nominal = (source.low + source.high) / 2;
    const { least } = magnitudesOf(source.declared);
    const boards = new Set(network.loads.map(({ board }) => board));
    return [...boards].flatMap((board) => {
      const wanted = leastSupply(machine, board, nominal);
      const hub = network.hubOf(board);
      if (wanted === undefined || hub?.up === undefined) return [];
      const there = dropTo(hub);
      const back = dropTo(returnOf(network, board)?.hubOf(board));
      return there + back > 0 ? [{ board, network, nominal, least, there, back, ...wanted }] : [];
    });
  });
}

/** V lost from the supply to a thing. */
function dropTo(hub: Hub | undefined): number {
  if (hub === undefined) return 0;
  return wayTo(hub).reduce((sum, one) => {
    const ways = waysTo(one);
    return Number.isFinite(ways) ? sum + dropOver(currentOf(one), ways, ...resistancesOf(one)) : sum;
  }, 0);
}

/** Ohm of each contact and wire that one way to a thing passes, from its neighbour on; what is unsaid is left out. */
function resistancesOf({ by, up }: Hub): number[] {
  if (by === undefined) return [];
  const contacts = by.sides.map(({ instance }) => instance.pins.connector.resistance ?? 0);
  return [...contacts, wireOf(by, up?.by)];
}

/** Ohm of one wire of a cable, or of one conductor from the ribbon's end where current comes in to where it leaves. */
function wireOf({ kind, ribbon, end }: Link, before: Link | undefined): number {
  if (ribbon?.gauge === undefined) return 0;
  if (kind === 'cable') return awgResistance(ribbon.gauge) * (ribbon.length ?? 0);
  // A ribbon's first link leads into it: its length counts where current leaves.
  if (before?.ribbon !== ribbon || end === undefined || before.end === undefined) return 0;
  const along = (i: number): number | undefined => ribbon.ends[i]?.along ?? (i === 0 ? 0 : undefined);
  const [from, to] = [along(before.end), along(end)];
  const length = from !== undefined && to !== undefined ? Math.abs(to - from) : undefined;
  return awgResistance(ribbon.gauge) * (length ?? (ribbon.ends.length === 2 ? (ribbon.length ?? 0) : 0));
}

/** The part on a board whose family wants the highest supply, among those that work from so many volts. */
function leastSupply(
  machine: Machine,
  board: Board,
  volts: number,
): { part: string; wants: number } | undefined {
  const named = new Set(usedParts(board.card));
  for (const { chip } of chipsOn(machine, board)) named.add(chip.part);
  let found: { part: string; wants: number } | undefined;
  for (const part of named) {
    const known = knownPart(machine, part);
    const family =
      known?.family ?? (known?.part?.family ? knownPart(machine, known.part.family)?.family : undefined);
    if (family === undefined || volts < family.supply.min || volts > family.supply.max) continue;
    if (found === undefined || family.supply.min > found.wants) found = { part, wants: family.supply.min };
  }
  return found;
}

/** What a board's rail is at most and at least where it enters, by magnitude: from supplies, else as its bus says. */
export function rangeAt(
  machine: Machine,
  board: Board | undefined,
  rail: string,
  node: number | undefined,
): ReturnType<typeof magnitudesOf> | undefined {
  const given = sourcesAt(machine, node).filter(({ ac }) => !ac);
  const ranges = given.map(({ declared, low, high }) => magnitudesOf(declared ?? { low, high }));
  const [first] = ranges;
  if (first) {
    return {
      sign: first.sign,
      least: Math.min(...ranges.map(({ least }) => least)),
      most: Math.max(...ranges.map(({ most }) => most)),
    };
  }
  const buses = new Set(board?.card.edges.map(({ bus }) => bus?.name));
  const said = machine.busRails.find(({ name, owner, ac }) => name === rail && buses.has(owner) && !ac);
  return said && magnitudesOf(said);
}
