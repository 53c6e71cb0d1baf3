import { contactsByName } from './claims.ts';
import { copperAt } from './copper.ts';
import type { Board, CardUse, Instance, Use } from './types.ts';
import type { NamesOfMap, Wiring } from './wiring.ts';

/** Where each name stands at a connector; chains by their own rules, and not here. */
export function namesAt(wiring: Wiring, { pins, port }: Instance): NamesOfMap {
  let names = wiring.namesOfMaps.get(pins);
  if (names === undefined) {
    const all = contactsByName(pins, port.bus?.chains ?? []);
    const isPower = (contact: number): boolean => pins.claims[contact]?.kind !== 'signal';
    const shared = [...all].filter(([, contacts]) => contacts.length > 1 || contacts.some(isPower));
    names = { all, shared };
    wiring.namesOfMaps.set(pins, names);
  }
  return names;
}

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
    const contact = instance && namesAt(wiring, instance).all.get(name)?.[0];
    if (instance && contact !== undefined) return instance.base + contact;
  }
  const nodes = wiring.boardNames.get(board)!;
  let node = nodes.get(name);
  if (node === undefined) {
    node =
      onlyContact(wiring, board, name) ?? chainContact(board, name) ?? wiring.node(`${board.name} ${name}`);
    nodes.set(name, node);
  }
  return node;
}

/** The contact of a name that stands once on a board with one connector. */
function onlyContact(wiring: Wiring, board: Board, name: string): number | undefined {
  const [instance] = board.instances;
  if (instance === undefined || board.instances.length > 1) return undefined;
  const contact = namesAt(wiring, instance).all.get(name)?.[0];
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
    for (const card of board.card.uses) uses.push({ board, card, node: nodeOfUse(wiring, board, card) });
  }
  return uses;
}

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
  board.instances.some((one) => namesAt(wiring, one).all.has(name)) ||
  wiring.boardNames.get(board)!.has(name);

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
