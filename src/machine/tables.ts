import { type Blocks, named, ofForm } from './blocks.ts';
import { type BusTable, buildBus } from './buses.ts';
import { checkCardNames } from './card-names.ts';
import { buildCard, type Lookup, readUses, saysUses } from './cards.ts';
import { buildConnector } from './connectors.ts';
import type { Keeper } from './keeper.ts';
import { checkLegs, namesOfCard } from './place-names.ts';
import { readRailNames } from './rails.ts';
import { inside, type Problems, type Said } from './scope.ts';
import { namesInSlots } from './slot-pins.ts';
import { buildSupply } from './supplies.ts';
import type { Card, Supply } from './types.ts';

/** What the text describes, before anything is in its place. */
export interface Tables extends Lookup {
  /** The buses once more, with what holds in some of their slots only. */
  readonly tables: ReadonlyMap<string, BusTable>;
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly cards: ReadonlyMap<string, Card>;
}

/** What a part that is read of blocks or lines is made of. */
export const madeOf = (blocks: readonly Said[]): unknown[] =>
  blocks.flatMap(({ file, entry }) => [file, entry, entry.block]);

/** Reads what stands by itself; of what the last version of the machine has, all that stays. */
export function readTables(blocks: Blocks, keeper: Keeper, problems: Problems): Tables {
  const each = <T>(form: string, build: (said: Said) => T | undefined): ReadonlyMap<string, T> =>
    keeper.table(form, named(blocks, form, problems, build));
  const withRails = [...ofForm(blocks, 'supply'), ...ofForm(blocks, 'bus')];
  const rails = keeper.part('rails', madeOf(withRails), problems, (found) => readRailNames(withRails, found));
  const connectors = each('connector', (said) =>
    keeper.part(said.entry, madeOf([said]), problems, (found) => buildConnector(said, found)),
  );
  /** A block that looks names up in these tables. */
  const lookingUp = <T>(said: Said, build: (found: Problems) => T): T =>
    keeper.part(said.entry, [...madeOf([said]), connectors, rails], problems, build);
  const tables = each('bus', (said) =>
    lookingUp(said, (found) => buildBus(said, { connectors, rails }, found)),
  );
  const busOf = (): Lookup['buses'] => new Map([...tables].map(([name, { bus }]) => [name, bus]));
  const buses = keeper.part('buses', [tables], problems, busOf);
  const lookup: Lookup = { connectors, buses, rails };
  const supplies = each('supply', (said) => lookingUp(said, (found) => buildSupply(said, lookup, found)));
  const cards = each('card', (said) => readCard(said, lookup, tables, keeper, problems));
  return { ...lookup, tables, supplies, cards };
}

/** A card stays the same object while only its uses change: all else that is made of it then stays. */
function readCard(
  said: Said,
  lookup: Lookup,
  tables: ReadonlyMap<string, BusTable>,
  keeper: Keeper,
  problems: Problems,
): Card {
  const lines = inside(said);
  const { file, entry } = said;
  const { connectors, rails } = lookup;
  const fixed = madeOf(lines.filter((line) => !saysUses(line)));
  const card = keeper.part(entry, [file, ...fixed, connectors, tables, rails], problems, (found) =>
    buildCard(said, lookup, found),
  );
  const uses = lines
    .filter(saysUses)
    .map((line) => keeper.part(line.entry, [file], problems, (found) => readUses(line, found)));
  card.uses = keeper.part(`uses of ${card.name}`, uses, problems, () => uses.flat());
  const slotNames = new Map([...tables.values()].map((table) => [table.bus, namesInSlots(table)]));
  keeper.part(`names on ${card.name}`, [card, entry.block, card.uses], problems, (found) => {
    checkCardNames(said, card, slotNames, found);
    const here = namesOfCard(card);
    checkLegs(card.name, card.biases, rails, (name) => here.has(name), found);
  });
  return card;
}
