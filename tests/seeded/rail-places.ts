import { voltsOfName } from '../../src/machine/names.ts';
import type { Backplane, Board, Bus, Card, Machine, Port, Supply } from '../../src/machine/types.ts';
import { type Edit, type Example, inserted, type Placed, statementAt } from './example.ts';
import { contactsOf, fingers, isPlugged } from './places.ts';

/** V of a rail by its declaration, else by its name. */
export function voltsOf({ railNames }: Machine, name: string): number {
  const declared = railNames.rails.get(name)?.[0];
  return declared ? (declared.low + declared.high) / 2 : (voltsOfName(name) ?? 0);
}

/** The rails of a bus that a supply feeds, with their contacts. */
export function fedRails({ machine }: Example, bus: Bus): [string, number[]][] {
  const fed = machine.backplanes
    .filter(({ buses }) => buses.some((one) => one.bus === bus))
    .flatMap(({ feeds }) => feeds.map(({ rail }) => rail));
  return [...contactsOf(bus.pins, 'rail')].filter(([name]) => fed.includes(name));
}

/** The rail of a bus, of those that are fed, that does logic the most harm. */
export function worstRail(example: Example, bus: Bus): string | undefined {
  const size = (name: string): number => Math.abs(voltsOf(example.machine, name));
  return fedRails(example, bus)
    .map(([name]) => name)
    .sort((a, b) => size(b) - size(a))[0];
}

/** Each card's edge with the bus of the slots that it sits in. */
export function* edges(example: Example): Iterable<{ card: Card; edge: Port; bus: Bus; boards: Board[] }> {
  for (const one of fingers(example)) if (one.edge.bus) yield { ...one, bus: one.edge.bus };
}

/** Buses of backplanes with the label of a slot that carries them. */
export function busesInUse({ machine }: Example): { backplane: Backplane; bus: Bus; slot: string }[] {
  return machine.backplanes.flatMap((backplane) =>
    backplane.buses.map(({ bus, place }) => ({
      backplane,
      bus,
      slot: [backplane.slots[0]!.label, place].filter((part) => part !== '').join('.'),
    })),
  );
}

export function* feeds(
  example: Example,
): Iterable<{ backplane: Backplane; line: Placed; rail: string; supply: Supply }> {
  for (const backplane of example.machine.backplanes) {
    for (const { rail, supply, source } of backplane.feeds)
      yield { backplane, rail, supply, line: statementAt(example, source) };
  }
}

/** Cards with what each takes through its edge. */
export function* taken(
  example: Example,
): Iterable<{ card: Card; edge: Port; rail: string; contacts: number[] }> {
  for (const { card, edge, bus } of edges(example)) {
    const rails = contactsOf(bus.pins, 'rail');
    for (const rail of new Set(card.takes.filter(({ at }) => at === undefined).map((take) => take.rail))) {
      const contacts = rails.get(rail);
      if (contacts) yield { card, edge, rail, contacts };
    }
  }
}

/** A card's contacts cut off. */
export function cut(example: Example, card: Card, edge: Port, contacts: readonly number[]): Edit[] {
  const places = contacts.map((contact) => `${edge.name}.${edge.pins.connector.labels[contact]}`);
  return inserted(example, statementAt(example, card.source), [`cut ${places.join(', ')} by trace`]);
}

/** Loose boards that are fed by a cable or ribbon. */
export const fedLoose = ({ machine }: Example): Board[] =>
  machine.boards.filter(
    ({ slot, instances, card }) => slot === undefined && card.takes.length > 0 && instances.some(isPlugged),
  );

/** The rail without which chips with three rails die, from their data books: see the parts table. */
export const BIAS = new Map([
  ['4116', '-5V'],
  ['2708', '-5V'],
]);
