import type { Item } from '../language/tree.ts';
import { attribute, items, said as saidText, subjects } from '../language/tree.ts';
import { type Blocks, ofForm } from './blocks.ts';
import { checkPlaces } from './card-names.ts';
import { readRework, unknown } from './cards.ts';
import { optional } from './connectors.ts';
import { readFitted } from './fitted.ts';
import { checkWithout } from './place-names.ts';
import { inside, names, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Backplane, Board, Card, Rework, Slot, Supply } from './types.ts';

/** A card where the text puts it: into a slot, or beside the cage. */
interface Found {
  readonly card: Card;
  readonly said: Said;
  readonly slot?: Slot;
}

/** Boards of the `fitted` blocks, then of the `loose` lines. Puts boards and bridges into their slots. */
export function readBoards(
  blocks: Blocks,
  backplanes: ReadonlyMap<string, Backplane>,
  cards: ReadonlyMap<string, Card>,
  problems: Problems,
): Board[] {
  const found: Found[] = [];
  for (const said of ofForm(blocks, 'fitted')) {
    for (const { slot, line, item } of readFitted(said, backplanes, problems)) {
      const card = cardNamed(cards, item, line, problems);
      if (card) found.push({ card, said: line, slot });
      else slot.state = 'unsaid';
    }
  }
  for (const said of ofForm(blocks, 'loose')) {
    const [item] = subjects(statementOf(said));
    const card = item && cardNamed(cards, item, said, problems);
    if (card) found.push({ card, said });
  }
  return makeBoards(found, problems);
}

function cardNamed(
  cards: ReadonlyMap<string, Card>,
  item: Item,
  said: Said,
  problems: Problems,
): Card | undefined {
  const card = cards.get(item.first);
  if (card === undefined)
    problems.add('name-unknown', sourceOf(said, item), unknown('card', item.first, [...cards.keys()]));
  return card;
}

function makeBoards(found: readonly Found[], problems: Problems): Board[] {
  const times = new Map<Card, number>();
  for (const { card } of found) times.set(card, (times.get(card) ?? 0) + 1);
  const taken = new Map<string, Board>();
  return found.map(({ card, said, slot }) => {
    const [as] = items(statementOf(said), 'as');
    const only = times.get(card) === 1;
    const name = as?.first ?? (only ? card.name : `${card.name}@${slot?.label ?? 'loose'}`);
    const before = taken.get(name);
    if (before !== undefined) {
      const message = `two boards are named \`${name}\`; tell them apart with \`as NAME\``;
      problems.add('duplicate', sourceOf(said, as), message, {
        related: [{ source: before.source, message: 'named here first' }],
      });
    }
    const board: Board = {
      name,
      card,
      ...optional('slot', slot),
      ...optional('date', dateOf(said)),
      ...readBoardBlock(said, problems),
      instances: [],
      source: sourceOf(said),
    };
    for (const rework of board.rework) checkPlaces(card, rework, problems);
    checkWithout(name, card, said, problems);
    if (slot) slot.board = board;
    taken.set(name, board);
    return board;
  });
}

/** Places are told by their owner's name: a board may not be called like a supply or a backplane. */
export function checkOwners(
  others: readonly (Supply | Backplane)[],
  boards: readonly Board[],
  problems: Problems,
): void {
  const taken = new Map(others.map((one) => [one.name, one.source]));
  for (const { name, source } of boards) {
    const before = taken.get(name);
    if (before === undefined) continue;
    const message = `a board is called \`${name}\` like something else, so \`${name}.1\` could mean either; name it with \`as\``;
    problems.add('duplicate', source, message, {
      related: [{ source: before, message: 'named here first' }],
    });
  }
}

/** What a board has of its own: from the block behind its line. */
function readBoardBlock(line: Said, problems: Problems): Pick<Board, 'without' | 'rework'> {
  const without = new Set<string>();
  const rework: Rework[] = [];
  for (const inner of inside(line)) {
    const statement = statementOf(inner);
    if (statement.form === 'without')
      for (const { name } of names(inner, statement.subject, problems)) without.add(name);
    else rework.push(readRework(inner, problems));
  }
  return { without, rework };
}

function dateOf(line: Said): Board['date'] {
  const found = attribute(statementOf(line), 'date');
  const text = saidText(statementOf(line), 'date');
  return found === undefined || text === undefined ? undefined : { text, source: sourceOf(line, found) };
}
