import { readAliases } from './aliases.ts';
import { buildBackplane, type SlotParts } from './backplanes.ts';
import { placeBiasings } from './biasings.ts';
import { type Blocks, blocksByForm, linesOf, named, ofForm } from './blocks.ts';
import { nameRails, placeUses } from './board-nodes.ts';
import { wireBoards } from './board-wiring.ts';
import { checkOwners, readBoards } from './boards.ts';
import { wireBuses } from './bus-wiring.ts';
import { type BusTable, buildBus } from './buses.ts';
import { checkCardNames } from './card-names.ts';
import { buildCard, type Lookup } from './cards.ts';
import { buildConnector } from './connectors.ts';
import { placeInstances } from './instances.ts';
import { Keeper } from './keeper.ts';
import { netsOf } from './nets.ts';
import { readOwnParts } from './parts.ts';
import { checkBackplaneNames, checkLegs, namesOfCard } from './place-names.ts';
import { findInstance, findPlace, type Owners } from './places.ts';
import { railSources, supplyGrounds } from './rail-sources.ts';
import { readRailNames } from './rails.ts';
import { joinReadings } from './reading-joins.ts';
import { readReadings } from './readings.ts';
import { reworkBackplane, reworkBoard } from './rework.ts';
import { buildCable, buildRibbon, type FindInstance } from './ribbons.ts';
import { readActiveLow, readAllowances, readTitle } from './root-lines.ts';
import { Problems, type Said } from './scope.ts';
import { namesInSlots } from './slot-pins.ts';
import { buildSupply } from './supplies.ts';
import { strapSupply, wireFeeds, wireSupply } from './supply-wiring.ts';
import type { Backplane, Board, Card, Machine, Ribbon, Slot, Supply } from './types.ts';
import { gather, type Library, type SourceFile } from './uses.ts';
import { Wiring } from './wiring.ts';

/**
 * A file and all that it uses → the machine. Never throws; what the text gets wrong is in `problems`. Parts that depend
 * on nothing that changed are taken from `before`, the machine's last version, and are the same objects.
 */
export function buildMachine(root: SourceFile, library: Library, before?: Machine): Machine {
  const keeper = new Keeper(before && keepers.get(before));
  const machine = build(root, library, keeper);
  keeper.done();
  keepers.set(machine, keeper);
  return machine;
}

const keepers = new WeakMap<Machine, Keeper>();

function build(root: SourceFile, library: Library, keeper: Keeper): Machine {
  const problems = new Problems();
  const files = gather(root, library, problems);
  const blocks = blocksByForm(files);

  const { rails, connectors, buses, tables, supplies, cards, backplanes, slots } = readTables(
    blocks,
    keeper,
    problems,
  );
  const boards = readBoards(blocks, backplanes, cards, problems);
  checkOwners([...supplies.values(), ...backplanes.values()], boards, problems);
  const owners: Owners = { supplies, backplanes, boards };

  const wiring = new Wiring();
  placeInstances(wiring, supplies.values(), backplanes.values(), { slots, tables }, boards, problems);
  wire(wiring, blocks, owners, problems);
  for (const backplane of backplanes.values()) checkBackplaneNames(wiring, backplane, rails, problems);

  const ribbons = wireRibbons(wiring, blocks, boards, problems);
  const uses = placeUses(wiring, boards);
  const biasings = placeBiasings(wiring, backplanes.values(), boards, problems);
  const sources = railSources(wiring, [...supplies.values()], boards, rails);
  nameRails(wiring, boards);
  const readings = ofForm(blocks, 'readings').flatMap((said) =>
    readReadings(said, (item, line) => findPlace(wiring, owners, item, line, problems), problems),
  );
  joinReadings(wiring, readings);

  const activeLow = keeper.names('active low', readActiveLow(blocks, problems));
  const families = named(blocks, 'family', problems, (said) => said);
  const parts = named(blocks, 'parttable', problems, (said) => said);
  const ofParts = madeOf([...families.values(), ...parts.values()]);
  const ownParts = keeper.part('own parts', ofParts, problems, (found) =>
    readOwnParts(families, parts, found),
  );
  return {
    files: files.map(({ file }) => file),
    title: readTitle(blocks),
    supplies: [...supplies.values()],
    connectors: [...connectors.values()],
    buses: [...buses.values()],
    backplanes: [...backplanes.values()],
    cards: [...cards.values()],
    boards,
    ribbons,
    instances: wiring.instances,
    railNames: rails,
    busRails: [...rails.rails.values()].flat().filter((rail) => buses.has(rail.owner)),
    uses,
    biasings,
    railSources: sources,
    boardNames: wiring.boardNames,
    supplyGrounds: supplyGrounds(wiring, [...supplies.values()]),
    readings,
    allowances: readAllowances(blocks),
    ownParts,
    activeLow,
    aliases: keeper.names('aliases', readAliases(blocks)),
    contactCount: wiring.contactCount,
    nodeCount: wiring.nodeCount,
    nodeNames: wiring.nodeNames,
    joins: wiring.joins.done(),
    nets: netsOf(wiring.joins.sets(wiring.nodeCount), wiring.nodeCount),
    problems: problems.list,
  };
}

/** What the text describes, before anything is in its place. */
interface Tables extends Lookup {
  /** The buses once more, with what holds in some of their slots only. */
  readonly tables: ReadonlyMap<string, BusTable>;
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly cards: ReadonlyMap<string, Card>;
  readonly backplanes: ReadonlyMap<string, Backplane>;
  readonly slots: ReadonlyMap<Slot, SlotParts>;
}

/** What a part that is read of blocks is made of. */
const madeOf = (blocks: readonly Said[]): unknown[] =>
  blocks.flatMap(({ file, entry }) => [file, entry, entry.block]);

function readTables(blocks: Blocks, keeper: Keeper, problems: Problems): Tables {
  /** Each block of a form is a part, made of its entry and of the tables in which it looks names up. */
  const each = <T>(
    form: string,
    of: readonly unknown[],
    build: (said: Said, found: Problems) => T | undefined,
  ): ReadonlyMap<string, T> =>
    keeper.table(
      form,
      named(blocks, form, problems, (said) =>
        keeper.part(said.entry, [...madeOf([said]), ...of], problems, (found) => build(said, found)),
      ),
    );
  const withRails = [...ofForm(blocks, 'supply'), ...ofForm(blocks, 'bus')];
  const rails = keeper.part('rails', madeOf(withRails), problems, (found) => readRailNames(withRails, found));
  const connectors = each('connector', [], buildConnector);
  const tables = each('bus', [connectors, rails], (said, found) =>
    buildBus(said, { connectors, rails }, found),
  );
  const buses = keeper.part(
    'buses',
    [tables],
    problems,
    () => new Map([...tables].map(([name, { bus }]) => [name, bus])),
  );
  const lookup: Lookup = { connectors, buses, rails };
  const slotNames = new Map([...tables.values()].map((table) => [table.bus, namesInSlots(table)]));
  const supplies = each('supply', [connectors, rails], (said, found) => buildSupply(said, lookup, found));
  const cards = each('card', [connectors, tables, rails], (said, found) => {
    const card = buildCard(said, lookup, found);
    checkCardNames(said, card, slotNames, found);
    const here = namesOfCard(card);
    checkLegs(card.name, card.biases, rails, (name) => here.has(name), found);
    return card;
  });
  const slots = new Map<Slot, SlotParts>();
  // Boards are put into a backplane's slots, so each machine has its own.
  const backplanes = named(blocks, 'backplane', problems, (said) => {
    const parts = buildBackplane(said, lookup, supplies, problems);
    for (const [slot, its] of parts.slots) slots.set(slot, its);
    return parts.backplane;
  });
  return { ...lookup, tables, supplies, cards, backplanes, slots };
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
