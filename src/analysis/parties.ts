import { keeping } from '../machine/keep.ts';
import type { Board, Card, Instance, Machine, Ribbon, Source, Use } from '../machine/types.ts';
import type { NetIndex, NetView } from './nets.ts';

/** Something on a line of which the file does not say what it does there. */
export interface Unsaid {
  readonly kind: 'board' | 'slot' | 'ribbon' | 'pin';
  /** `RAM-A`, `CAGE.7`, `W2`, `GAUGE U3.4` */
  readonly name: string;
  readonly source: Source;
}

/** Who is on a line, in the place where a person would look: by its slot where a board sits in one. */
export interface Parties {
  readonly view: NetView;
  /** A contact of each board that is on the line. */
  readonly boards: ReadonlyMap<Board, number>;
  /** Whether it is a line through slots; false for one that runs between boards only. */
  readonly bussed: boolean;
  /** Whether it is a link of a daisy chain and nothing else. */
  readonly chain: boolean;
  /** Whether it ends at a supply, of whose signals the language says nothing. */
  readonly supply: boolean;
  /** Whether a ribbon that leads on was found unplugged. */
  readonly unplugged: boolean;
  readonly unsaid: readonly Unsaid[];
}

/** Finds out who is on a net. Linear in its nodes. */
export function partiesOf(machine: Machine, nets: NetIndex, view: NetView): Parties {
  const { start, members } = machine.nets;
  const acting = new Set(view.uses.map(({ board }) => board));
  const boards = new Map<Board, number>();
  const unsaid = new Map<string, Unsaid>();
  let [bussed, chained, supply] = [false, false, false];
  const ask = (one: Unsaid): void => {
    unsaid.set(`${one.kind} ${one.name}`, one);
  };
  for (let i = start[view.net]!; i < start[view.net + 1]!; i++) {
    const node = members[i]!;
    if (node >= machine.contactCount) continue;
    const instance = nets.instanceOf(node);
    const { slot, board, kind } = instance;
    if (kind === 'supply port') supply = true;
    if (slot !== undefined) {
      if (isChained(instance, node - instance.base)) chained = true;
      else if (isBussed(instance, node - instance.base)) bussed = true;
      if (slot.state === 'unsaid')
        ask({ kind: 'slot', name: `${slot.backplane.name}.${slot.label}`, source: slot.source });
      if (slot.board) boards.set(slot.board, node);
    }
    if (board === undefined) continue;
    if (!boards.has(board)) boards.set(board, node);
    if (isOpen(instance, node - instance.base))
      ask({ kind: 'board', name: board.name, source: board.source });
  }
  const loose = looseEnds(machine);
  for (const one of loose.unsaid.get(view.net) ?? []) {
    if (one.kind !== 'pin' || !acting.has(one.board as Board)) ask(one);
  }
  return {
    view,
    boards,
    bussed,
    chain: chained && !bussed,
    supply,
    unplugged: loose.unplugged.has(view.net),
    unsaid: [...unsaid.values()],
  };
}

/** Whether the bus gives a contact a line through its slots; what it keeps private or does not know goes nowhere. */
function isBussed({ pins }: Instance, contact: number): boolean {
  const claim = pins.claims[contact];
  return claim !== undefined && !claim.private && (claim.kind === 'signal' || claim.kind === 'spare');
}

const chainContacts = new WeakMap<object, ReadonlySet<number>>();

/** Whether a contact of a slot or edge is the in or out of a daisy chain. */
function isChained({ port }: Instance, contact: number): boolean {
  const chains = port.bus?.chains ?? [];
  if (chains.length === 0) return false;
  let set = chainContacts.get(chains);
  if (set === undefined) {
    set = new Set(chains.flatMap(({ input, output }) => [input, output]));
    chainContacts.set(chains, set);
  }
  return set.has(contact);
}

/**
 * Whether a board may do something on a contact that its card does not tell. A card whose list is open may do more on a
 * line than what is said so far.
 */
function isOpen({ pins, board }: Instance, contact: number): boolean {
  const { card } = board as Board;
  if (pins.own[contact]?.kind === 'unknown') return true;
  if (card.closed) return false;
  const claim = pins.claims[contact];
  if (claim === undefined) return true;
  const untouched = untouchedIn(card.uses);
  return !untouched.has(claim.name) && !claim.aliases.some((name) => untouched.has(name));
}

const untouchedIn = keeping(
  (uses: Card['uses']): ReadonlySet<string> =>
    new Set(uses.filter(({ kind }) => kind === 'untouched').map(({ name }) => name)),
);

interface LooseEnds {
  /** By net: ribbons that lead nobody knows where, and chips' pins that rework wires lead to. */
  readonly unsaid: ReadonlyMap<number, readonly (Unsaid & { readonly board?: Board })[]>;
  readonly unplugged: ReadonlySet<number>;
}

const kept = new WeakMap<Machine, LooseEnds>();

function looseEnds(machine: Machine): LooseEnds {
  const before = kept.get(machine);
  if (before) return before;
  const unsaid = new Map<number, (Unsaid & { board?: Board })[]>();
  const unplugged = new Set<number>();
  const add = (node: number, one: Unsaid & { board?: Board }): void => {
    const net = machine.nets.of[node]!;
    const list = unsaid.get(net);
    if (list) list.push(one);
    else unsaid.set(net, [one]);
  };
  for (const ribbon of machine.ribbons) ribbonEnds(machine, ribbon, add, unplugged);
  for (const board of machine.boards) {
    for (const { places } of [...board.card.rework, ...board.rework]) {
      for (const { place, source } of places) {
        const node = place.includes('.') ? machine.boardNames.get(board)?.get(place) : undefined;
        if (node !== undefined && node >= machine.contactCount)
          add(node, { kind: 'pin', name: `${board.name} ${place}`, source, board });
      }
    }
  }
  const made = { unsaid, unplugged };
  kept.set(machine, made);
  return made;
}

function ribbonEnds(
  machine: Machine,
  { name, base, conductors, ends, kind }: Ribbon,
  add: (node: number, one: Unsaid) => void,
  unplugged: Set<number>,
): void {
  if (kind === 'cable') return;
  for (const { instance, source, contacts, unplugged: hangs } of ends) {
    for (let k = 0; k < conductors; k++) {
      if (instance === undefined) add(base + k, { kind: 'ribbon', name, source });
      else if (hangs && contacts[k]! >= 0) unplugged.add(machine.nets.of[base + k]!);
    }
  }
}

/** Drives, or drives and hears. */
export const drivesIt = ({ card: { kind } }: Use): boolean =>
  kind === 'drives' || kind === 'transceives' || kind === 'pulls';

/** Hears. A board that passes a chain on hears it; one that starts it does not. */
export const hearsIt = ({ card: { kind } }: Use): boolean =>
  kind === 'receives' || kind === 'transceives' || kind === 'passes';
