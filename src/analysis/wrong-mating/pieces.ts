import { copperOn, isAbsent } from '../../machine/copper.ts';
import { netsOf, Sets } from '../../machine/nets.ts';
import type { Board, Card, Claim, JoinKind, Machine, Port, Use } from '../../machine/types.ts';
import { GROUND, isAlternating, type VoltRange, voltsOfRail } from '../meetings.ts';
import { inputOf, nominalVolts } from '../rails.ts';
import type { CableNodes } from './plugs.ts';

/** A rail or ground that is live: what a supply or regulator gives, or what a machine without supplies is said to have. */
export interface Live {
  readonly kind: 'rail' | 'ground';
  readonly name: string;
  readonly volts: VoltRange;
  readonly ac: boolean;
  /** A that its source is rated for; undefined where nobody says. */
  readonly amps?: number;
  /** `PSU`, the board of a regulator, or the backplane whose table says so. */
  readonly owner: string;
  readonly piece: number;
  /** Piece that a regulator is fed from: it gives its rail only while that is live. */
  readonly input?: number;
  readonly board?: Board;
}

/** What a board expects on a piece of its copper: a rail, be it one that it makes itself, or ground. */
export interface Wish {
  readonly board: Board;
  readonly kind: 'rail' | 'ground';
  readonly name: string;
  readonly volts?: VoltRange;
  readonly ac: boolean;
  /** Contact of the board where that is said. */
  readonly contact: number;
}

/** All that is on one piece of copper and can do or suffer harm. */
export interface Content {
  readonly live: Live[];
  readonly wishes: Wish[];
  readonly uses: Use[];
}

/**
 * The machine taken apart: all boards out of their slots, all plugs out of their ports. A **piece** is copper that stays
 * together. Cables have nodes of their own here, beyond the machine's.
 */
export interface Pieces {
  readonly count: number;
  /** Piece of each node. */
  readonly of: Int32Array;
  /** What is on each piece; undefined where there is nothing to do or suffer harm. */
  readonly content: readonly (Content | undefined)[];
  /** Pieces with a contact of which nobody knows what it is. */
  readonly unknown: ReadonlySet<number>;
  readonly lives: readonly Live[];
}

/** Joins that are made by plugging in. */
const PLUGGED: ReadonlySet<JoinKind> = new Set(['finger', 'ribbon', 'cable']);

export function piecesOf(machine: Machine, cables: CableNodes): Pieces {
  const { joins } = machine;
  const sets = new Sets(cables.nodeCount);
  const kinds = joins.causes.map(({ kind }) => kind);
  const readings: number[] = [];
  for (let i = 0; i < joins.from.length; i++) {
    const kind = kinds[joins.cause[i]!]!;
    if (kind === 'reading') readings.push(i);
    else if (!PLUGGED.has(kind)) sets.unite(joins.from[i]!, joins.to[i]!);
  }
  for (const [a, b] of cables.wires) sets.unite(a, b);
  uniteFound(machine, readings, kinds, sets);
  const { of, count } = netsOf(sets, cables.nodeCount);
  const content: (Content | undefined)[] = new Array(count).fill(undefined);
  const on = (piece: number): Content => {
    const known = content[piece];
    if (known) return known;
    const made: Content = { live: [], wishes: [], uses: [] };
    content[piece] = made;
    return made;
  };
  const at = (node: number): Content => on(of[node]!);
  const lives = livesOf(machine, of);
  for (const live of lives) on(live.piece).live.push(live);
  addWishes(machine, at);
  for (const use of machine.uses) if (use.card.kind !== 'untouched') at(use.node).uses.push(use);
  return { count, of, content, unknown: unknownPieces(machine, of), lives };
}

/**
 * What readings found joined is copper that stays, but for readings taken with all in place that only show what plugging in
 * has joined.
 */
function uniteFound(
  { joins, nodeCount }: Machine,
  readings: readonly number[],
  kinds: readonly JoinKind[],
  sets: Sets,
): void {
  if (readings.length === 0) return;
  const whole = new Sets(nodeCount);
  for (let i = 0; i < joins.from.length; i++)
    if (kinds[joins.cause[i]!] !== 'reading') whole.unite(joins.from[i]!, joins.to[i]!);
  for (const i of readings) {
    const [a, b] = [joins.from[i]!, joins.to[i]!];
    if (whole.find(a) !== whole.find(b)) sets.unite(a, b);
  }
}

function livesOf(machine: Machine, of: Int32Array): Live[] {
  const lives: Live[] = [];
  for (const source of machine.railSources) {
    const { rail: name, low, high, ac, owner, node, declared, board, make } = source;
    const input = source.kind === 'regulator' ? inputOf(machine, source) : undefined;
    const amps = declared?.max ?? make?.max;
    lives.push({
      kind: 'rail',
      name,
      volts: { low, high },
      ac,
      owner,
      piece: of[node]!,
      ...(amps === undefined ? {} : { amps }),
      ...(board ? { board } : {}),
      ...(input === undefined ? {} : { input: of[input]! }),
    });
  }
  for (const { supply, name, node } of machine.supplyGrounds)
    lives.push({ kind: 'ground', name, volts: GROUND, ac: false, owner: supply.name, piece: of[node]! });
  return machine.supplies.length > 0 ? lives : [...lives, ...saidToBeLive(machine, of)];
}

/** Without a supply in the text, rails and grounds of a backplane are live because its table says so. */
function saidToBeLive(machine: Machine, of: Int32Array): Live[] {
  const lives = new Map<string, Live>();
  for (const { pins, base, backplane } of machine.instances) {
    if (backplane === undefined) continue;
    pins.claims.forEach((claim, i) => {
      if (claim?.kind !== 'rail' && claim?.kind !== 'ground') return;
      const { kind, name } = claim;
      const volts = kind === 'ground' ? GROUND : voltsOfRail(machine, name, claim.owner);
      const piece = of[base + i]!;
      if (volts === undefined || lives.has(`${piece} ${name}`)) return;
      const ac = isAlternating(machine, name);
      lives.set(`${piece} ${name}`, { kind, name, volts, ac, owner: backplane.name, piece });
    });
  }
  return [...lives.values()];
}

function addWishes(machine: Machine, at: (node: number) => Content): void {
  for (const { board, pins, base } of machine.instances) {
    if (board === undefined) continue;
    const copper = copperOn(board.card, pins);
    pins.claims.forEach((claim, i) => {
      if (copper[i] !== 'yes' || (claim?.kind !== 'rail' && claim?.kind !== 'ground')) return;
      const { kind, name } = claim;
      const { wishes } = at(base + i);
      if (wishes.some((wish) => wish.board === board && wish.name === name)) return;
      const volts = kind === 'ground' ? GROUND : wishedVolts(machine, board, name, claim.owner);
      wishes.push({
        board,
        kind,
        name,
        ac: isAlternating(machine, name),
        contact: base + i,
        ...(volts ? { volts } : {}),
      });
    });
  }
}

function wishedVolts(machine: Machine, board: Board, name: string, owner: string): VoltRange | undefined {
  const declared = voltsOfRail(machine, name, owner);
  if (declared) return declared;
  const volts = nominalVolts(machine, name, board.card);
  return volts === undefined ? undefined : { low: volts, high: volts };
}

/**
 * A contact is unknown where its table says so or says nothing of it, where nobody says whether a board has copper there, and where
 * it is named but nobody says what the board does on it. So is what a wire to a chip's pin leads to, and all of a ribbon of which an end
 * is plugged in nobody knows where.
 */
function unknownPieces(machine: Machine, of: Int32Array): ReadonlySet<number> {
  const unknown = new Set<number>();
  for (const { board, pins, port, base } of machine.instances) {
    const copper = board && copperOn(board.card, pins);
    const silent = board?.card.closed === true;
    const told = silent || board === undefined ? undefined : toldNames(board.card);
    pins.claims.forEach((claim, i) => {
      if (isAbsent(pins, i)) return;
      const isUnknown =
        claim === undefined
          ? !silent
          : claim.kind === 'unknown' ||
            copper?.[i] === 'unsaid' ||
            (claim.kind === 'signal' &&
              told !== undefined &&
              copper?.[i] === 'yes' &&
              !isTold(claim, port, told));
      if (isUnknown) unknown.add(of[base + i]!);
    });
  }
  const used = new Set(machine.uses.map(({ node }) => of[node]!));
  for (const board of machine.boards) {
    for (const pin of wiredPins(board)) {
      const node = machine.boardNames.get(board)?.get(pin);
      if (node !== undefined && !used.has(of[node]!)) unknown.add(of[node]!);
    }
  }
  for (const { kind, base, conductors, ends } of machine.ribbons) {
    if (kind !== 'ribbon' || ends.every(({ instance, unplugged }) => instance !== undefined || unplugged))
      continue;
    for (let conductor = 0; conductor < conductors; conductor++) unknown.add(of[base + conductor]!);
  }
  return unknown;
}

/** Names of lines of which a card says what it does on them, or what resistors it has there. */
const toldNames = (card: Card): ReadonlySet<string> =>
  new Set([
    ...card.uses.map(({ name }) => name),
    ...card.biases.flatMap(({ names }) => names.map(({ name }) => name)),
  ]);

/** A chain that the card passes or starts has two contacts and is told of by the name of one. */
function isTold({ name, aliases }: Claim, { bus }: Port, told: ReadonlySet<string>): boolean {
  const chain = bus?.chains.find((one) => one.name === name || one.outName === name);
  const names = [name, ...aliases, ...(chain ? [chain.name, chain.outName] : [])];
  return names.some((one) => told.has(one));
}

/** Pins of chips to which wires on a board lead: `U3.4`. */
const wiredPins = ({ card, rework, instances }: Board): string[] =>
  [...card.rework, ...rework]
    .filter(({ kind }) => kind === 'wire')
    .flatMap(({ places }) => places.map(({ place }) => place))
    .filter(
      (place) => place.includes('.') && !instances.some(({ port }) => place.startsWith(`${port.name}.`)),
    );
