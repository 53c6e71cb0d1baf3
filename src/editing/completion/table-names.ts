import { items } from '../../language/tree.ts';
import { expandVector, vectorName } from '../../machine/names.ts';
import type { Card, Instance, Machine, PinMap, Port } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import { busesOfCard, claimed, connectorsOf, lines, saidNames } from './claims.ts';
import { indicesOf } from './contacts.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';

/**
 * Names for the right of a table's `=`: what the other end of a ribbon calls these contacts, what other lines speak of
 * and no contact carries yet, what the line before leads to, then what is there already and may come again.
 */
export function tableNames(cursor: Cursor, slot: Slot): Candidate[] {
  const { scope, analysis } = cursor;
  const { machine } = analysis;
  const { pins } = scope;
  if (pins === undefined) return [];
  const indices = leftContacts(pins, slot);
  const count = contactsLeft(cursor, slot);
  const here = claimed([withoutLine(pins, cursor)], 0);
  const carried = new Set(here.map(({ label }) => label));
  const wanted = wantedHere(cursor).filter(({ label }) => !carried.has(label));
  const again = here.map((one) => ({ ...one, rank: one.kind === 'signal' ? 5 : 1.8 }));
  const power = powerOf(machine).map((one) => ({ ...one, rank: 1.9 }));
  const list = [
    ...(slot.index === 0 ? mates(cursor, indices) : []),
    ...(slot.index === 0 ? continued(cursor, count) : []),
    ...wanted,
    ...again,
    ...power,
  ];
  const best = new Map<string, Candidate>();
  for (const one of list) {
    const known = best.get(one.label);
    if (known === undefined || known.rank > one.rank) best.set(one.label, one);
  }
  return [...best.values()];
}

const leftContacts = ({ connector }: PinMap, { statement }: Slot): number[] =>
  statement.subject.flatMap((value) => (value.kind === 'item' ? indicesOf(value, connector) : []));

/** Contacts at the left for which no name is written yet. */
export const contactsLeft = ({ scope: { pins } }: Cursor, slot: Slot): number =>
  pins === undefined ? 0 : leftContacts(pins, slot).length - saidNames(otherItems(slot)).length;

/** Ranges of exactly as many names as contacts are left come first, longer ones last: they would not pair off. */
export function fitting(list: readonly Candidate[], count: number): Candidate[] {
  if (count < 1) return [...list];
  return list.map((one) => {
    const [first, last] = one.label.split('..');
    if (last === undefined || first === undefined) return one;
    const vector = expandVector(first, last);
    const length = 'problem' in vector ? 0 : vector.length;
    if (length > count) return { ...one, rank: one.rank + 5 };
    return length === count ? { ...one, rank: -1, preselect: true } : one;
  });
}

function withoutLine(pins: PinMap, { elsewhere }: Cursor): PinMap {
  return {
    ...pins,
    claims: pins.claims.map((claim) => (claim && elsewhere(claim.source) ? claim : undefined)),
  };
}

/** Names that cards, biases and feeds speak of and that this table should carry. */
function wantedHere({ scope, analysis: { machine }, elsewhere }: Cursor): Candidate[] {
  const { bus, card, port, backplane, supply } = scope;
  const spoken = (names: Iterable<string>, detail: string, rank = 1): Candidate[] =>
    [...new Set(names)].map((label) => ({ label, kind: 'signal', rank, detail }));
  if (bus !== undefined) {
    const cards = machine.cards.filter((one) => busesOfCard(one).includes(bus));
    const cages = machine.backplanes.filter(({ buses }) => buses.some((one) => one.bus === bus));
    return [
      ...cards.flatMap((one) => spoken(namesUsed(one, undefined, elsewhere), `used by ${one.name}`)),
      ...cages.flatMap((cage) => [
        ...spoken(
          cage.biases.flatMap(({ names }) => names.map(({ name }) => name)),
          `terminated in ${cage.name}`,
        ),
        ...cage.feeds.map(
          ({ rail }): Candidate => ({ label: rail, kind: 'rail', rank: 1, detail: `fed in ${cage.name}` }),
        ),
      ]),
    ];
  }
  if (card !== undefined) {
    const at = spoken(namesUsed(card, port?.name, elsewhere), 'used by the card');
    const others = claimed(
      connectorsOf(card).filter((one) => one !== port?.pins),
      2,
    );
    const sisters = port?.bus ? lines(sistersOn(machine, card, port), 2) : [];
    return [...at, ...others, ...sisters, ...takenRails(card)];
  }
  if (backplane !== undefined)
    return claimed(
      backplane.buses.map(({ bus: one }) => one.pins),
      1,
    );
  if (supply !== undefined) {
    return [
      ...supply.rails.map(
        ({ name }): Candidate => ({ label: name, kind: 'rail', rank: 1, detail: `rail of ${supply.name}` }),
      ),
      ...supply.grounds.map(
        (name): Candidate => ({ label: name, kind: 'ground', rank: 1, detail: `ground of ${supply.name}` }),
      ),
    ];
  }
  return [];
}

const takenRails = ({ takes }: Card): Candidate[] =>
  takes.map(({ rail }) => ({ label: rail, kind: 'rail', rank: 2, detail: 'taken by the card' }));

/** What other cards on the same bus say of their own edge. */
const sistersOn = ({ cards }: Machine, card: Card, { bus }: Port): PinMap[] =>
  cards.flatMap((one) =>
    one === card ? [] : one.edges.filter((edge) => edge.bus === bus).map(({ pins }) => pins),
  );

/** Names that a card's lines speak of: at one connector, where they say at which. */
function namesUsed(card: Card, at: string | undefined, elsewhere: Cursor['elsewhere']): Set<string> {
  const uses = card.uses.filter(
    (use) => elsewhere(use.source) && (at === undefined || (use.at ?? at) === at),
  );
  const biases = card.biases.filter(
    ({ place, source }) => elsewhere(source) && (at === undefined || (place?.of ?? at) === at),
  );
  return new Set([
    ...uses.map(({ name }) => name),
    ...biases.flatMap(({ names }) => names.map(({ name }) => name)),
  ]);
}

/** Rails and grounds of the machine's supplies. */
function powerOf({ supplies, railNames }: Machine): Candidate[] {
  const rails = supplies.flatMap(({ rails, name }) =>
    rails.map((rail): Candidate => ({ label: rail.name, kind: 'rail', rank: 0, detail: `rail of ${name}` })),
  );
  const grounds = [...railNames.grounds.keys()].map(
    (label): Candidate => ({ label, kind: 'ground', rank: 0, detail: 'ground' }),
  );
  return [...rails, ...grounds];
}

/** What stands at the other ends of this port's ribbons, at the same contacts. */
function mates({ scope, analysis: { machine } }: Cursor, indices: readonly number[]): Candidate[] {
  const { port } = scope;
  if (port === undefined || port.bus !== undefined) return [];
  const found: Candidate[] = [];
  for (const { ends } of machine.ribbons) {
    if (!ends.some(({ instance }) => instance?.port === port)) continue;
    for (const { instance } of ends) {
      if (instance === undefined || instance.port === port) continue;
      found.push(...atContacts(instance, indices));
    }
  }
  return found;
}

function atContacts({ pins: { claims }, path }: Instance, indices: readonly number[]): Candidate[] {
  const names = indices.flatMap((index) => {
    const claim = claims[index];
    return claim && claim.name !== '' ? [claim] : [];
  });
  return names.map(({ name, kind }) => ({
    label: name,
    kind: kind === 'rail' || kind === 'ground' ? kind : 'signal',
    rank: 0,
    detail: `so called at ${path}`,
  }));
}

/** `D8..D15` where the line before ended with `D7` and eight contacts are to be named. */
function continued({ around, offset }: Cursor, count: number): Candidate[] {
  const entries = around.at(-1)?.block?.entries ?? [];
  const before = entries.findLast(
    (entry) => entry.offset + entry.statement.to < offset && entry.statement.form === 'entry',
  );
  const last = before && items(before.statement, 'is').at(-1);
  const name = last && (last.last ?? last.first);
  const vector = name === undefined ? undefined : vectorName(name);
  if (vector === undefined || count < 1 || /^[+-]\d/.test(name!)) return [];
  const member = (number: number): string =>
    vector.before +
    String(number).padStart(vector.digits.startsWith('0') ? vector.digits.length : 1, '0') +
    vector.after;
  const next = member(vector.number + 1);
  const label = count === 1 ? next : `${next}..${member(vector.number + count)}`;
  return [{ label, kind: 'signal', rank: 1.5, detail: 'next of its vector' }];
}
