import { contactsByName } from './claims.ts';
import { copperAt, copperOn } from './copper.ts';
import { keeping } from './keep.ts';
import type { Board, Card, CardUse, Chain, Instance, PinMap, Use } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Where each name stands in a table of contacts, and the names that need a look on each board. */
interface NamesOfMap {
  readonly all: ReadonlyMap<string, readonly number[]>;
  readonly shared: readonly (readonly [string, readonly number[]])[];
}

/** Where each name stands at a connector; chains by their own rules, and not here. */
export const namesAt = ({ pins, port }: Instance): NamesOfMap => namesOfMap(pins, port.bus?.chains ?? NONE);

const NONE: readonly Chain[] = [];

const namesOfMap = keeping((pins: PinMap, chains: readonly Chain[]): NamesOfMap => {
  const all = contactsByName(pins, chains);
  const isPower = (contact: number): boolean => pins.claims[contact]?.kind !== 'signal';
  const shared = [...all].filter(([, contacts]) => contacts.length > 1 || contacts.some(isPower));
  return { all, shared };
});

/** `edge.19`, `J1.18`: a contact of the board. */
export function contactOfBoard({ instances }: Board, place: string): number | undefined {
  const dot = place.lastIndexOf('.');
  if (dot < 0) return undefined;
  const instance = instances.find((one) => one.port.name === place.slice(0, dot));
  const index = instance?.pins.connector.indexOf.get(place.slice(dot + 1));
  return instance && index !== undefined ? instance.base + index : undefined;
}

/** The node of a name on a board, made where it is a name inside the board only. `at` names a port or edge. */
export function nodeOfName(wiring: Wiring, board: Board, name: string, at?: string): number {
  if (at !== undefined) {
    const instance = board.instances.find((one) => one.port.name === at);
    const contact = instance && namesAt(instance).all.get(name)?.[0];
    if (instance && contact !== undefined) return instance.base + contact;
  }
  const known = wiring.boardNames.get(board)!.get(name);
  if (known !== undefined) return known;
  const node =
    onlyContact(wiring, board, name) ?? chainContact(board, name) ?? wiring.node(`${board.name} ${name}`);
  wiring.nameNode(board, name, node);
  return node;
}

/** The contact of a name that stands once on a board with one connector. */
function onlyContact(wiring: Wiring, board: Board, name: string): number | undefined {
  const [instance] = board.instances;
  if (instance === undefined || board.instances.length > 1) return undefined;
  const contact = namesAt(instance).all.get(name)?.[0];
  if (contact === undefined || copperAt(instance, contact) === 'no') return undefined;
  const node = instance.base + contact;
  return wiring.isolated.get(board)?.has(node) ? undefined : node;
}

/** The contact of a chain's name: its in, or its out where that has a name of its own. A rail there is no chain. */
function chainContact({ instances }: Board, name: string): number | undefined {
  for (const { base, port, pins } of instances) {
    for (const { name: inside, outName, input, output } of port.bus?.chains ?? []) {
      const contact = inside === name ? input : outName === name ? output : undefined;
      if (contact !== undefined && pins.claims[contact]?.kind === 'signal') return base + contact;
    }
  }
  return undefined;
}

/** What boards do on lines, each in its place. */
export function placeUses(wiring: Wiring, boards: readonly Board[]): Use[] {
  const uses: Use[] = [];
  for (const board of boards) {
    const [instance, other] = board.instances;
    const plain =
      instance !== undefined && other === undefined && wiring.isolated.get(board)?.size === 0
        ? plainContacts(board.card, board.card.uses, instance.pins, instance.port.bus?.chains ?? NONE)
        : undefined;
    board.card.uses.forEach((card, i) => {
      const contact = plain?.[i] ?? -1;
      const node = contact < 0 ? nodeOfUse(wiring, board, card) : instance!.base + contact;
      uses.push({ board, card, node });
    });
  }
  return uses;
}

/**
 * The contact of each use of a card on the only connector of its board, where its table alone tells it: for a name that
 * stands there once, on a finger with copper. Else −1.
 */
const plainContacts = keeping((card: Card, uses: Card['uses'], pins: PinMap, chains: readonly Chain[]) => {
  const { all, shared } = namesOfMap(pins, chains);
  const copper = copperOn(card, pins);
  const elsewhere = new Set(shared.map(([name]) => name));
  return Int32Array.from(uses, ({ kind, name, at }) => {
    const contact = all.get(name)?.[0];
    const isPlain = kind !== 'starts' && at === undefined && !elsewhere.has(name);
    return isPlain && contact !== undefined && copper[contact] !== 'no' ? contact : -1;
  });
});

/** The node of what a card does on a line: a board that starts a chain does so on the chain's out. */
function nodeOfUse(wiring: Wiring, board: Board, { kind, name, at }: CardUse): number {
  const out = kind === 'starts' ? chainOut(board, name, at) : undefined;
  return out ?? nodeOfName(wiring, board, name, at);
}

function chainOut({ instances }: Board, name: string, at?: string): number | undefined {
  for (const { base, port, pins } of instances) {
    if (at !== undefined && port.name !== at) continue;
    const chain = port.bus?.chains.find((one) => one.name === name || one.outName === name);
    if (chain && pins.claims[chain.output]?.kind === 'signal') return base + chain.output;
  }
  return undefined;
}

/** A place in the text of a card or board: a contact, a chip's pin or a name. */
export function placeOnBoard(wiring: Wiring, board: Board, place: string): number {
  return contactOfBoard(board, place) ?? nodeOfName(wiring, board, place);
}

/** The same, where the board has the contact, the name, or a wire or part that the text puts there. */
export function knownOnBoard(wiring: Wiring, board: Board, place: string): number | undefined {
  const contact = contactOfBoard(board, place);
  if (contact !== undefined) return contact;
  const pin = /^([^.]+)\.[^.]+$/.exec(place)?.[1];
  const isChip =
    pin !== undefined && !board.instances.some((one) => one.port.name === pin) && /\d$/.test(pin);
  const isName = pin === undefined && isNamed(wiring, board, place);
  return isChip || isName ? nodeOfName(wiring, board, place) : undefined;
}

const isNamed = (wiring: Wiring, board: Board, name: string): boolean =>
  board.instances.some((one) => namesAt(one).all.has(name)) || wiring.boardNames.get(board)!.has(name);

/** What boards take, make and need are places too, also where the name is inside the board only. */
export function nameRails(wiring: Wiring, boards: readonly Board[]): void {
  for (const board of boards) {
    const { takes, makes, chips, biases } = board.card;
    for (const { rail, at } of takes) nodeOfName(wiring, board, rail, at);
    for (const { rail, from } of makes) for (const name of [rail, from]) nodeOfName(wiring, board, name);
    for (const { needs } of chips) for (const { rail } of needs) nodeOfName(wiring, board, rail);
    for (const { legs } of biases) for (const { rail } of legs) nodeOfName(wiring, board, rail);
  }
}
