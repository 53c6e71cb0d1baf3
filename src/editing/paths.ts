import type { Item } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import type { Found } from './symbols.ts';

/** Reads dotted paths of the text (`CAGE.3.14`, `GAUGE.J1.18`, `U3.4`) into the names they are made of. */
export interface Paths {
  read(item: Item, offset: number, owner: string): Iterable<Found>;
  /** Whether the machine has such a block, as `card:CPU`. */
  isOwner(owner: string): boolean;
  /** What a card's edge is on: the bus of that name, else the connector. */
  kindBelow(name: string): 'bus' | 'connector';
}

/** A dot between digits belongs to a rail's name. */
const SEGMENTS = /[+-]\d+\.\d+[^.]*|[^.]+/g;

type Part = Pick<Found, 'from' | 'to'> & { readonly text: string };

/** What the paths of a machine may begin with, and what its blocks have. */
export function pathsOf(machine: Machine): Paths {
  const cards = new Map(machine.cards.map((card) => [card.name, card]));
  const backplanes = new Map(machine.backplanes.map((one) => [one.name, one]));
  const supplies = new Map(machine.supplies.map((one) => [one.name, one]));
  const boards = new Map(machine.boards.map((board) => [board.name, board.card.name]));
  const ribbons = new Map(machine.ribbons.map((one) => [one.name, one.kind]));
  const buses = new Set(machine.buses.map(({ name }) => name));
  const connectors = new Set(machine.connectors.map(({ name }) => name));
  const found = (part: Part, kind: Found['kind'], owner: string, inList = false): Found => ({
    from: part.from,
    to: part.to,
    kind,
    names: [part.text],
    owner,
    defines: false,
    inList,
  });

  /** The rest of a path, behind the block that it begins with. */
  function* within(owner: string, parts: readonly Part[], inList: boolean, before = ''): Iterable<Found> {
    const [first, ...rest] = parts;
    if (first === undefined) return;
    const [form, name] = split(owner);
    const path = before + parts.map(({ text }) => text).join('.');
    const ports =
      form === 'card'
        ? [...(cards.get(name)?.ports ?? []), ...(cards.get(name)?.edges ?? [])]
        : form === 'backplane'
          ? (backplanes.get(name)?.ports ?? [])
          : (supplies.get(name)?.ports ?? []);
    const contact = rest.at(-1);
    if (ports.some((port) => port.name === first.text)) {
      yield found(first, 'port', owner);
      if (contact) yield { ...found(contact, 'contact', owner), path };
    } else if (
      backplanes.get(name)?.slots.some(({ label }) => label === first.text) &&
      form === 'backplane'
    ) {
      yield found(first, 'slot', owner);
      if (contact) yield { ...found(contact, 'contact', owner), path };
    } else if (rest.length === 0) yield found(first, 'name', owner, inList);
    else {
      yield found(first, 'label', owner);
      if (contact) yield { ...found(contact, 'contact', owner), path };
    }
  }

  function* read(item: Item, offset: number, owner: string): Iterable<Found> {
    const start = offset + item.from + (item.quoted ? 1 : 0);
    const parts = [...item.first.matchAll(SEGMENTS)].map(({ 0: text, index }) => ({
      text,
      from: start + index,
      to: start + index + text.length,
    }));
    const [first, ...rest] = parts;
    if (first === undefined) return;
    const isVector = item.last !== undefined;
    if (owner !== '') {
      if (isVector && parts.length === 1)
        yield { ...found(first, 'name', owner, true), to: offset + item.to, range: item };
      else yield* within(owner, parts, true);
      return;
    }
    const card = boards.get(first.text);
    if (card !== undefined) {
      yield card === first.text ? found(first, 'card', '') : found(first, 'board', '');
      yield* within(`card:${card}`, rest, false, `${first.text}.`);
    } else if (backplanes.has(first.text)) {
      yield found(first, 'backplane', '');
      yield* within(`backplane:${first.text}`, rest, false, `${first.text}.`);
    } else if (supplies.has(first.text)) {
      yield found(first, 'supply', '');
      yield* within(`supply:${first.text}`, rest, false, `${first.text}.`);
    } else if (rest.length === 0) {
      const kind =
        ribbons.get(first.text) ?? (cards.has(first.text) ? 'card' : buses.has(first.text) ? 'bus' : 'name');
      yield found(first, kind, '', true);
    }
  }

  return {
    read,
    kindBelow: (name) => (!buses.has(name) && connectors.has(name) ? 'connector' : 'bus'),
    isOwner: (owner) => {
      const [form, name] = split(owner);
      return (
        (form === 'card' && cards.has(name)) ||
        (form === 'backplane' && backplanes.has(name)) ||
        (form === 'supply' && supplies.has(name)) ||
        (form === 'bus' && buses.has(name))
      );
    },
  };
}

const split = (owner: string): [string, string] => {
  const colon = owner.indexOf(':');
  return [owner.slice(0, colon), owner.slice(colon + 1)];
};
