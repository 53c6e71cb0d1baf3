import type { Severity } from '../../src/checks/types.ts';
import type { Board, Card, Claim, Instance, PinMap, Port } from '../../src/machine/types.ts';
import {
  attributeOf,
  type Edit,
  type Example,
  inserted,
  type Placed,
  replaced,
  type Seed,
  statementAt,
  subjectNames,
  textOf,
} from './example.ts';

/** A kind of fault, the rule that must find it, and every place where it can be put. */
export interface FaultKind {
  readonly kind: string;
  readonly rule: string;
  /** Where the fault is of one severity everywhere. */
  readonly severity?: Severity;
  /** What the finding must say, where one rule tells several kinds apart. */
  readonly says?: RegExp;
  seeds(example: Example): Iterable<Seed>;
}

/** One place, or none where the fault cannot be put there. */
export const seed = (place: string, edits: readonly Edit[] | undefined, ...names: string[]): Seed[] =>
  edits === undefined || edits.length === 0 ? [] : [{ place, edits, names }];

// ---- tables of contacts ----

/**
 * Contacts of a table said to be something else: index → what stands behind `=`. The other contacts of a line that
 * names several stay what they are, each on a line of its own. Undefined where a contact is one of a daisy chain, or is
 * said differently for different slots.
 */
export function retold(
  example: Example,
  owner: Port | { readonly pins: PinMap; readonly source: Port['source'] },
  changes: ReadonlyMap<number, string>,
): Edit[] | undefined {
  const { own, connector } = owner.pins;
  const lineOf = (claim: Claim | undefined): Placed | undefined =>
    claim && statementAt(example, claim.source);
  const lines = new Map<Placed, string[]>();
  const added: string[] = [];
  for (const [contact, text] of changes) {
    const line = lineOf(own[contact]);
    if (line === undefined) added.push(`${connector.labels[contact]} = ${text}`);
    else if (attributeOf(line, 'out') || attributeOf(line, 'in')) return undefined;
    else lines.set(line, []);
  }
  own.forEach((claim, contact) => {
    const line = lineOf(claim);
    const list = line && lines.get(line);
    if (claim === undefined || line === undefined || list === undefined) return;
    const is = attributeOf(line, 'is')!;
    const tail = textOf(example, line, { from: is.to, to: line.entry.statement.to });
    const text = changes.get(contact) ?? `${claim.name === '' ? claim.kind : claim.name}${tail}`;
    list.push(`${connector.labels[contact]} = ${text}`);
  });
  const edits = [...lines].map(([line, texts]) => replaced(line, texts.join('\n')));
  return added.length > 0
    ? [...edits, ...inserted(example, statementAt(example, owner.source), added)]
    : edits;
}

/** Contacts of a map by name, of one kind of claim; those that hold in some slots only are left out. */
export function contactsOf(pins: PinMap, ...kinds: Claim['kind'][]): Map<string, number[]> {
  const found = new Map<string, number[]>();
  pins.claims.forEach((claim, contact) => {
    if (claim === undefined || claim.slots !== undefined || !kinds.includes(claim.kind)) return;
    found.set(claim.name, [...(found.get(claim.name) ?? []), contact]);
  });
  return found;
}

// ---- boards ----

/** Cards with boards in slots, each with its edges and boards. */
export function slottedCards({ machine }: Example): { card: Card; boards: Board[] }[] {
  return machine.cards
    .map((card) => ({ card, boards: machine.boards.filter((one) => one.card === card && one.slot) }))
    .filter(({ boards }) => boards.length > 0);
}

/** The edges of cards in slots. */
export const fingers = (example: Example): { card: Card; edge: Port; boards: Board[] }[] =>
  slottedCards(example).flatMap((one) => one.card.edges.map((edge) => ({ ...one, edge })));

export const labelsOf = ({ pins }: Instance): readonly string[] => pins.connector.labels;

export const isPlugged = ({ plugs }: Instance): boolean => plugs.some(({ unplugged }) => !unplugged);

/** Whether a board sits before another in one row of slots. */
export const sitsBefore = (board: Board, other: Board): boolean =>
  board.slot !== undefined &&
  other.slot !== undefined &&
  board.slot.backplane === other.slot.backplane &&
  board.slot.index < other.slot.index;

// ---- what cards do on lines ----

/** Statements of cards in these forms, with the card. */
export function cardLines(example: Example, ...forms: string[]): { card: Card; line: Placed }[] {
  const { machine, statements } = example;
  return machine.cards.flatMap((card) => {
    const block = statementAt(example, card.source);
    return statements
      .filter(({ parent, entry }) => parent?.entry === block.entry && forms.includes(entry.statement.form))
      .map((line) => ({ card, line }));
  });
}

export const says = (line: Placed, name: string): boolean => subjectNames(line).includes(name);

/** All pairs of a list, each once. */
export function* pairsOf<T>(list: readonly T[]): Iterable<readonly [T, T]> {
  for (const [i, one] of list.entries()) for (const other of list.slice(i + 1)) yield [one, other];
}
