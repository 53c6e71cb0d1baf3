import { keeping } from '../machine/keep.ts';
import { isGroundName } from '../machine/names.ts';
import { Sets } from '../machine/nets.ts';
import type {
  Bias,
  Board,
  CardUse,
  Declared,
  JoinKind,
  Joins,
  Machine,
  Make,
  Take,
} from '../machine/types.ts';
import { nodeOnBoard } from './rails.ts';

/** The pieces of copper that boards are made of: what a board's own names, wires and straps join, without its slot. */
export interface BoardCopper {
  /** A node that stands for the piece that a node of a board is on. */
  pieceOf(node: number): number;
  /** All nodes of the piece that this one is on. */
  with(node: number): readonly number[];
}

const OWN: ReadonlySet<JoinKind> = new Set(['board', 'wire', 'strap']);

/** Linear in the joins; the same as long as they are. */
export const boardCopper = keeping((joins: Joins): BoardCopper => {
  const { from, to, cause, causes } = joins;
  // Few nodes of a machine are joined on a board: they get numbers of their own.
  const numbers = new Map<number, number>();
  const nodes: number[] = [];
  const numbered = (node: number): number => {
    const known = numbers.get(node);
    if (known !== undefined) return known;
    numbers.set(node, nodes.length);
    return nodes.push(node) - 1;
  };
  const pairs: number[] = [];
  for (let i = 0; i < from.length; i++) {
    if (OWN.has(causes[cause[i]!]!.kind)) pairs.push(numbered(from[i]!), numbered(to[i]!));
  }
  const sets = new Sets(nodes.length);
  for (let i = 0; i < pairs.length; i += 2) sets.unite(pairs[i]!, pairs[i + 1]!);
  const members = new Map<number, number[]>();
  nodes.forEach((node, i) => {
    const list = members.get(sets.find(i));
    if (list) list.push(node);
    else members.set(sets.find(i), [node]);
  });
  const pieceOf = (node: number): number => {
    const number = numbers.get(node);
    return number === undefined ? node : nodes[sets.find(number)]!;
  };
  return {
    pieceOf,
    with: (node) => {
      const number = numbers.get(node);
      return number === undefined ? [node] : members.get(sets.find(number))!;
    },
  };
});

/** What a board does on one piece of its copper. */
export interface OnPiece {
  readonly makes: readonly Make[];
  readonly takes: readonly Take[];
  /** What works from it and says no amount: a regulator's input, a chip, the far end of a resistor. */
  readonly feeds: readonly Declared[];
  readonly ground: boolean;
  /** What its card says that the board does there as on a signal. */
  readonly uses: readonly CardUse[];
  readonly biases: readonly Bias[];
  /** Wires from it to a chip's pin, of which nobody says what it does. */
  readonly pins: readonly Declared[];
}

export interface Doings {
  readonly copper: BoardCopper;
  /** What a board does on all the copper that these contacts of it are on. */
  at(fingers: readonly number[]): OnPiece;
}

type Gathered = { -readonly [K in keyof OnPiece]: OnPiece[K] };

/** Shared by all, for there is one piece for each line of each board. */
const NOTHING: OnPiece = { makes: [], takes: [], feeds: [], ground: false, uses: [], biases: [], pins: [] };

const and = <T>(list: readonly T[], one: T): readonly T[] => (list.length === 0 ? [one] : [...list, one]);

/** What every board does on each piece of its copper. Linear in what the cards say, once a board. */
export function doingsOf(machine: Machine): Doings {
  const copper = boardCopper(machine.joins);
  const { pieceOf } = copper;
  const pieces = new Map<number, Gathered>();
  const on = (node: number): Gathered => {
    const piece = pieceOf(node);
    let known = pieces.get(piece);
    if (known === undefined) {
      known = { ...NOTHING };
      pieces.set(piece, known);
    }
    return known;
  };
  for (const { card, node } of machine.uses) {
    if (card.kind === 'untouched') continue;
    const here = on(node);
    here.uses = and(here.uses, card);
  }
  for (const { bias, board, node } of machine.biasings) {
    if (board === undefined) continue;
    const here = on(node);
    here.biases = and(here.biases, bias);
  }
  for (const board of machine.boards) onBoard(machine, board, on);
  return {
    copper,
    at: (fingers) => {
      const [first, ...others] = fingers;
      if (first === undefined) return NOTHING;
      const piece = pieceOf(first);
      // Fingers of one name are one piece nearly always.
      if (others.every((one) => pieceOf(one) === piece)) return pieces.get(piece) ?? NOTHING;
      return together([...new Set(fingers.map(pieceOf))].map((one) => pieces.get(one) ?? NOTHING));
    },
  };
}

const together = (all: readonly OnPiece[]): OnPiece => ({
  makes: all.flatMap(({ makes }) => makes),
  takes: all.flatMap(({ takes }) => takes),
  feeds: all.flatMap(({ feeds }) => feeds),
  ground: all.some(({ ground }) => ground),
  uses: all.flatMap(({ uses }) => uses),
  biases: all.flatMap(({ biases }) => biases),
  pins: all.flatMap(({ pins }) => pins),
});

function onBoard(machine: Machine, board: Board, on: (node: number) => Gathered): void {
  const { card, rework, without } = board;
  const named = (name: string, where?: string): Gathered => {
    const node = nodeOnBoard(machine, board, name, where);
    return node === undefined ? { ...NOTHING } : on(node);
  };
  const feed = (rail: string, by: Declared): void => {
    const here = named(rail);
    here.feeds = and(here.feeds, by);
  };
  for (const take of card.takes) {
    const here = named(take.rail, take.at);
    here.takes = and(here.takes, take);
  }
  for (const make of card.makes) {
    const here = named(make.rail);
    here.makes = and(here.makes, make);
    feed(make.from, make);
  }
  for (const { names, needs, source } of card.chips) {
    if (names.every((name) => without.has(name))) continue;
    for (const { rail } of needs) feed(rail, { evidence: {}, source });
  }
  for (const bias of card.biases) {
    if (bias.as !== undefined && without.has(bias.as)) continue;
    for (const { rail } of bias.legs) feed(rail, bias);
  }
  const names = machine.boardNames.get(board);
  for (const [name, node] of names ?? []) {
    if (isGroundName(name) || machine.railNames.grounds.has(name)) on(node).ground = true;
  }
  for (const wire of [...card.rework, ...rework]) {
    if (wire.kind === 'cut') continue;
    for (const { place } of wire.places) {
      const node = place.includes('.') ? names?.get(place) : undefined;
      if (node === undefined || node < machine.contactCount) continue;
      const here = on(node);
      here.pins = and(here.pins, wire);
    }
  }
}
