import { buildBackplane, type SlotParts } from './backplanes.ts';
import { placeBiasings } from './biasings.ts';
import { type Blocks, linesOf, named } from './blocks.ts';
import { nameRails } from './board-nodes.ts';
import { wireBoards } from './board-wiring.ts';
import { checkOwners, readBoards } from './boards.ts';
import { wireBuses } from './bus-wiring.ts';
import { placeInstances } from './instances.ts';
import { checkBackplaneNames } from './place-names.ts';
import { findInstance, type Owners } from './places.ts';
import { railSources, supplyGrounds } from './rail-sources.ts';
import { reworkBackplane, reworkBoard } from './rework.ts';
import { buildCable, buildRibbon, type FindInstance } from './ribbons.ts';
import type { Problems } from './scope.ts';
import { strapSupply, wireFeeds, wireSupply } from './supply-wiring.ts';
import type { Tables } from './tables.ts';
import type { Biasing, Board, RailSource, Ribbon, Slot, SupplyGround } from './types.ts';
import { Wiring } from './wiring.ts';

/** Everything in its place and wired: what stays while only what cards do on their signals changes. */
export interface Metal extends Owners {
  readonly wiring: Wiring;
  readonly ribbons: readonly Ribbon[];
  readonly biasings: readonly Biasing[];
  readonly sources: readonly RailSource[];
  readonly grounds: readonly SupplyGround[];
}

export function buildMetal(blocks: Blocks, tables: Tables, problems: Problems): Metal {
  const { supplies, cards, rails } = tables;
  const slots = new Map<Slot, SlotParts>();
  const backplanes = named(blocks, 'backplane', problems, (said) => {
    const parts = buildBackplane(said, tables, supplies, problems);
    for (const [slot, its] of parts.slots) slots.set(slot, its);
    return parts.backplane;
  });
  const boards = readBoards(blocks, backplanes, cards, problems);
  checkOwners([...supplies.values(), ...backplanes.values()], boards, problems);
  const owners: Owners = { supplies, backplanes, boards };

  const wiring = new Wiring();
  const contents = { slots, tables: tables.tables };
  placeInstances(wiring, supplies.values(), backplanes.values(), contents, boards, problems);
  wire(wiring, blocks, owners, problems);
  for (const backplane of backplanes.values()) checkBackplaneNames(wiring, backplane, rails, problems);
  const ribbons = wireRibbons(wiring, blocks, boards, problems);
  const biasings = placeBiasings(wiring, backplanes.values(), boards, problems);
  const sources = railSources(wiring, [...supplies.values()], boards, rails);
  nameRails(wiring, boards);
  wiring.stand();
  const grounds = supplyGrounds(wiring, [...supplies.values()]);
  return { ...owners, wiring, ribbons, biasings, sources, grounds };
}

function wire(
  wiring: Wiring,
  blocks: Blocks,
  { supplies, backplanes, boards }: Owners,
  problems: Problems,
): void {
  for (const supply of supplies.values()) {
    wireSupply(wiring, supply);
    strapSupply(wiring, supply, linesOf(blocks, 'supply', supply.name), problems);
  }
  for (const backplane of backplanes.values()) wireBuses(wiring, backplane, problems);
  wireBoards(wiring, boards);
  for (const backplane of backplanes.values()) {
    wireFeeds(wiring, backplane);
    reworkBackplane(wiring, backplane, problems);
  }
  for (const board of boards) reworkBoard(wiring, board);
}

function wireRibbons(wiring: Wiring, blocks: Blocks, boards: readonly Board[], problems: Problems): Ribbon[] {
  const find: FindInstance = (path, said, item) => findInstance(wiring, boards, path, said, item, problems);
  const ribbons = named(blocks, 'ribbon', problems, (said) => buildRibbon(said, wiring, find, problems));
  const cables = named(blocks, 'cable', problems, (said) => buildCable(said, wiring, find, problems));
  return [...ribbons.values(), ...cables.values()];
}
