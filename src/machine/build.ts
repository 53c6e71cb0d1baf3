import { readAliases } from './aliases.ts';
import { type Blocks, blocksByForm, named, ofForm } from './blocks.ts';
import { placeUses } from './board-nodes.ts';
import { flowOf } from './flow.ts';
import { Keeper } from './keeper.ts';
import { buildMetal, type Metal } from './metal.ts';
import { netsOf } from './nets.ts';
import { readOwnParts } from './parts.ts';
import { findPlace } from './places.ts';
import { joinReadings } from './reading-joins.ts';
import { readReadings } from './readings.ts';
import { readActiveLow, readAllowances, readTitle } from './root-lines.ts';
import { sayInMetal } from './say-in-metal.ts';
import { Problems } from './scope.ts';
import { madeOf, readTables, type Tables } from './tables.ts';
import type { Machine } from './types.ts';
import { gather, type Library, type SourceFile } from './uses.ts';

/**
 * A file and all that it uses → the machine. Never throws; what the text gets wrong is in `problems`. Parts that depend
 * on nothing that changed are taken from `before`, the machine's last version, which must not be used any more.
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
  const tables = readTables(blocks, keeper, problems);
  const { rails, connectors, buses, supplies, cards } = tables;
  const metal = metalOf(files, blocks, tables, keeper, problems);
  const { wiring, boards, backplanes } = metal;

  // What is said of signals comes last, so that it can be taken back and said anew while the metal stays.
  wiring.clear();
  const uses = placeUses(wiring, boards);
  const readings = ofForm(blocks, 'readings').flatMap((said) =>
    readReadings(said, (item, line) => findPlace(wiring, metal, item, line, problems), problems),
  );
  joinReadings(wiring, readings);
  const ofJoins = [metal, ...madeOf(ofForm(blocks, 'readings')), ...wiring.joins.later()];
  const joins = keeper.part('joins', ofJoins, problems, () => wiring.joins.done());
  const { nodeCount } = wiring;
  const nets = keeper.part('nets', [joins, nodeCount], problems, () =>
    netsOf(wiring.joins.sets(nodeCount), nodeCount),
  );

  const families = named(blocks, 'family', problems, (said) => said);
  const parts = named(blocks, 'parttable', problems, (said) => said);
  const ofParts = madeOf([...families.values(), ...parts.values()]);
  return {
    flow: flowOf(metal, joins, nets, keeper),
    files: files.map(({ file }) => file),
    title: readTitle(blocks),
    supplies: [...supplies.values()],
    connectors: [...connectors.values()],
    buses: [...buses.values()],
    backplanes: [...backplanes.values()],
    cards: [...cards.values()],
    boards,
    ribbons: metal.ribbons,
    instances: wiring.instances,
    railNames: rails,
    busRails: [...rails.rails.values()].flat().filter((rail) => buses.has(rail.owner)),
    uses,
    biasings: metal.biasings,
    railSources: metal.sources,
    boardNames: wiring.boardNames,
    supplyGrounds: metal.grounds,
    readings,
    allowances: readAllowances(blocks),
    ownParts: keeper.part('own parts', ofParts, problems, (found) => readOwnParts(families, parts, found)),
    activeLow: keeper.names('active low', readActiveLow(blocks, problems)),
    aliases: keeper.names('aliases', readAliases(blocks)),
    contactCount: wiring.contactCount,
    nodeCount,
    nodeNames: wiring.nodeNames,
    joins,
    nets,
    problems: problems.list,
  };
}

/** What has no say in how the machine is wired, or says it apart from the metal. */
const NO_METAL = new Set(['card', 'title', 'allow', 'readings', 'activelow']);

/** The metal is made of nearly every block of every file, and of what cards have a say in. */
function metalOf(
  files: readonly SourceFile[],
  blocks: Blocks,
  tables: Tables,
  keeper: Keeper,
  problems: Problems,
): Metal {
  const of: unknown[] = [tables.connectors, tables.tables, tables.supplies, tables.cards];
  for (const { file, document } of files) {
    of.push(file);
    for (const entry of document.root.entries)
      if (!NO_METAL.has(entry.statement.form)) of.push(entry, entry.block);
  }
  for (const card of tables.cards.values()) of.push(sayInMetal(card, tables.tables));
  return keeper.part('metal', of, problems, (found) => buildMetal(blocks, tables, found));
}
