import { contactOfBoard, namesAt } from './board-nodes.ts';
import { copperAt, isAbsent } from './copper.ts';
import { matingEdge } from './mating.ts';
import type { Board, Claim } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Equal names on one board are one; its fingers meet their slot. */
export function wireBoards(wiring: Wiring, boards: readonly Board[]): void {
  // Boards of one card share their claims, and so the reasons of their joins.
  const causes = new Map<Claim, number>();
  for (const board of boards) {
    joinNames(wiring, board, causes);
    joinFingers(wiring, board);
  }
}

function joinNames(wiring: Wiring, board: Board, causes: Map<Claim, number>): void {
  const nodes = new Map<string, number>();
  wiring.boardNames.set(board, nodes);
  const isolated = contactsCutOff(board);
  wiring.isolated.set(board, isolated);
  for (const [name, contacts] of sharedNames(board)) {
    const joined = isolated.size === 0 ? contacts : contacts.filter((contact) => !isolated.has(contact));
    if (joined.length < 2) {
      const [only] = joined;
      if (only !== undefined) nodes.set(name, only);
      continue;
    }
    const node = wiring.node(`${board.name} ${name}`);
    nodes.set(name, node);
    for (const contact of joined) wiring.joins.join(node, contact, causeAt(wiring, board, contact, causes));
  }
}

/** Names that may stand at several contacts of a board, and its rails and grounds, with the contacts that have copper. */
function sharedNames({ instances }: Board): Map<string, number[]> {
  const names = new Map<string, number[]>();
  for (const instance of instances) {
    const { all, shared } = namesAt(instance);
    // On a board with one connector, a name at one contact is that contact: found when it is asked for.
    for (const [name, contacts] of instances.length > 1 ? all : shared) {
      // A name that the board leaves untouched joins nothing on it, whatever the bus it was made for calls it.
      const here = contacts
        .filter((contact) => copperAt(instance, contact) !== 'no')
        .map((contact) => instance.base + contact);
      const list = names.get(name);
      if (list === undefined) names.set(name, here);
      else list.push(...here);
    }
  }
  return names;
}

/** Contacts that a `cut` on the card or board sets apart from the rest. */
function contactsCutOff(board: Board): Set<number> {
  const set = new Set<number>();
  for (const { kind, places } of [...board.card.rework, ...board.rework]) {
    if (kind !== 'cut') continue;
    for (const { place } of places) {
      const contact = contactOfBoard(board, place);
      if (contact !== undefined) set.add(contact);
    }
  }
  return set;
}

function causeAt(wiring: Wiring, board: Board, contact: number, causes: Map<Claim, number>): number {
  const { base, pins } = board.instances.find(
    (one) => contact >= one.base && contact < one.base + one.pins.claims.length,
  )!;
  const claim = pins.claims[contact - base]!;
  let cause = causes.get(claim);
  if (cause === undefined) {
    cause = wiring.joins.because('board', claim.source, claim.evidence);
    causes.set(claim, cause);
  }
  return cause;
}

function joinFingers(wiring: Wiring, { slot, instances, source }: Board): void {
  if (slot === undefined) return;
  const cause = wiring.joins.because('finger', source);
  for (const socket of slot.instances) {
    const edge = matingEdge(instances, socket);
    if (edge === undefined) continue;
    const whole = [edge, socket].every(({ pins }) => pins.pulled.size + pins.plugged.size === 0);
    for (let i = 0; i < socket.pins.connector.labels.length; i++) {
      if (whole || (!isAbsent(edge.pins, i) && !isAbsent(socket.pins, i)))
        wiring.joins.join(edge.base + i, socket.base + i, cause);
    }
  }
}
