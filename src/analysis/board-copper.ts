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

/** What a board has on one piece of its copper. */
export interface OnPiece {
  readonly makes: readonly Make[];
  readonly takes: readonly Take[];
  /** What works from it and says no amount: a regulator's input, a chip, the far end of a resistor. */
  readonly feeds: readonly Declared[];
  /** Wires from it to a chip's pin, of which nobody says what it does. */
  readonly pins: readonly Declared[];
  readonly ground: boolean;
}

export interface Doings {
  readonly copper: BoardCopper;
  /** What its card says that the board does as a signal on the piece that a node is on. */
  usesAt(node: number): readonly CardUse[];
  biasesAt(node: number): readonly Bias[];
  powerAt(node: number): OnPiece;
}

interface Gathered {
  makes: Make[];
  takes: Take[];
  feeds: Declared[];
  pins: Declared[];
  ground: boolean;
}

const NOTHING: OnPiece = { makes: [], takes: [], feeds: [], pins: [], ground: false };

/** What every board does on each piece of its copper. Linear in what the cards say, once a board. */
export function doingsOf(machine: Machine): Doings {
  const copper = boardCopper(machine.joins);
  const uses = new Map<number, CardUse[]>();
  const biases = new Map<number, Bias[]>();
  const power = new Map<number, Gathered>();
  const put = <T>(map: Map<number, T[]>, node: number, one: T): void => {
    const piece = copper.pieceOf(node);
    const list = map.get(piece);
    if (list) list.push(one);
    else map.set(piece, [one]);
  };
  for (const { card, node } of machine.uses) if (card.kind !== 'untouched') put(uses, node, card);
  for (const { bias, board, node } of machine.biasings) if (board) put(biases, node, bias);
  for (const board of machine.boards) {
    onBoard(machine, board, (node) => {
      const piece = copper.pieceOf(node);
      const known = power.get(piece) ?? { makes: [], takes: [], feeds: [], pins: [], ground: false };
      power.set(piece, known);
      return known;
    });
  }
  return {
    copper,
    usesAt: (node) => uses.get(copper.pieceOf(node)) ?? [],
    biasesAt: (node) => biases.get(copper.pieceOf(node)) ?? [],
    powerAt: (node) => power.get(copper.pieceOf(node)) ?? NOTHING,
  };
}

function onBoard(machine: Machine, board: Board, at: (node: number) => Gathered): void {
  const { card, rework, without } = board;
  const named = (name: string, where?: string): Gathered | undefined => {
    const node = nodeOnBoard(machine, board, name, where);
    return node === undefined ? undefined : at(node);
  };
  for (const take of card.takes) named(take.rail, take.at)?.takes.push(take);
  for (const make of card.makes) {
    named(make.rail)?.makes.push(make);
    named(make.from)?.feeds.push(make);
  }
  for (const { names, needs, source } of card.chips) {
    if (names.every((name) => without.has(name))) continue;
    for (const { rail } of needs) named(rail)?.feeds.push({ evidence: {}, source });
  }
  for (const bias of card.biases) {
    if (bias.as !== undefined && without.has(bias.as)) continue;
    for (const { rail } of bias.legs) named(rail)?.feeds.push(bias);
  }
  const names = machine.boardNames.get(board);
  for (const [name, node] of names ?? []) {
    if (isGroundName(name) || machine.railNames.grounds.has(name)) at(node).ground = true;
  }
  for (const wire of [...card.rework, ...rework]) {
    if (wire.kind === 'cut') continue;
    for (const { place } of wire.places) {
      const node = place.includes('.') ? names?.get(place) : undefined;
      if (node !== undefined && node >= machine.contactCount) at(node).pins.push(wire);
    }
  }
}
