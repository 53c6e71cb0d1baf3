import type { BusTable } from './buses.ts';
import { contactsByName } from './claims.ts';
import { keeping } from './keep.ts';
import type { Card, PinMap } from './types.ts';

/**
 * What the uses of a card have to say in how its boards are wired: on which fingers there is copper, where that matters
 * for more than the finger itself. Equal answers of one card, equal wiring; the uses themselves where it is not that simple.
 */
export function sayInMetal(card: Card, tables: ReadonlyMap<string, BusTable>): unknown {
  const [port, other] = [...card.edges, ...card.ports];
  const { bus } = port ?? {};
  if (port === undefined) return '';
  if (other !== undefined || (bus !== undefined && tables.get(bus.name)?.inSlots.length !== 0))
    return card.uses;
  const isFree = freeNames(card, port.pins);
  return said(card.uses, isFree);
}

type IsFree = (name: string) => boolean;

const said = keeping((uses: Card['uses'], isFree: IsFree): string =>
  uses
    .filter(({ name }) => !isFree(name))
    .map(({ kind, name }) => `${kind} ${name}`)
    .join('\n'),
);

/**
 * Names that join nothing on a board with this one connector: those of a single contact that is a signal's and has no
 * other name that does, or of no contact; and that no line but uses mentions.
 */
const freeNames = keeping((card: Card, pins: PinMap): IsFree => {
  const contacts = contactsByName(pins, []);
  const others = otherNames(card);
  const isSingle = (name: string): boolean => contacts.get(name)?.length === 1 && !others.has(name);
  const kept = new Map<string, boolean>();
  return (name) => {
    let free = kept.get(name);
    if (free === undefined) {
      const [contact] = contacts.get(name) ?? [];
      const claim = contact === undefined ? undefined : pins.claims[contact];
      free =
        claim === undefined
          ? !others.has(name)
          : claim.kind === 'signal' && [claim.name, ...claim.aliases].every(isSingle);
      kept.set(name, free);
    }
    return free;
  };
});

/** Names that the other lines of a card mention. */
function otherNames({ takes, makes, chips, biases, rework }: Card): Set<string> {
  const found = new Set<string>();
  for (const { rail } of takes) found.add(rail);
  for (const { rail, from } of makes) found.add(rail).add(from);
  for (const { needs } of chips) for (const { rail } of needs) found.add(rail);
  for (const { names, legs } of biases) {
    for (const { name } of names) found.add(name);
    for (const { rail } of legs) found.add(rail);
  }
  for (const { places } of rework) for (const { place } of places) found.add(place);
  return found;
}
