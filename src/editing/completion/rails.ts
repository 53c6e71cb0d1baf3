import { partNamed } from '../../knowledge/lookup.ts';
import { items, subjects } from '../../language/tree.ts';
import { isGroundName, isRailName, voltsOfName } from '../../machine/names.ts';
import type { Card, Machine, Rail, Supply } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import { busesOf, claimed, connectorsOf } from './claims.ts';
import type { Cursor } from './cursor.ts';
import type { Slot } from './grammar.ts';

/** Rails and grounds, where a line wants one. */
export function rails(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, scope, analysis, elsewhere } = cursor;
  const { machine } = analysis;
  const { card, supply } = scope;
  switch (form?.id) {
    case 'rail':
    case 'ground':
    case 'sense':
    case 'order':
      return supply ? ofSupply(cursor, supply, slot) : ofBus(cursor);
    case 'feed':
      return fed(cursor);
    case 'takes': {
      const taken = new Set(
        (card?.takes ?? []).filter(({ source }) => elsewhere(source)).map(({ rail }) => rail),
      );
      return railsOn(card, machine).map((one) => (taken.has(one.label) ? { ...one, rank: 2 } : one));
    }
    case 'makes':
      return slot.key === 'from' ? regulated(card, machine, slot) : made(card, machine);
    case 'chip':
      return once([...wantedBy(slot, machine), ...(card ? madeBy(card) : []), ...railsOn(card, machine)]);
    case 'needs':
    case 'first':
      return usualRails(machine);
    default:
      return legs(cursor, slot);
  }
}

const railOf = ({ name, low, high, owner }: Rail, rank: number): Candidate => ({
  label: name,
  kind: 'rail',
  rank,
  detail: `rail ${low === high ? low : `${low}..${high}`} V of ${owner}`,
});

const groundOf = (label: string, owner: string, rank: number): Candidate => ({
  label,
  kind: 'ground',
  rank,
  detail: `ground of ${owner}`,
});

const once = (list: readonly Candidate[]): Candidate[] => {
  const best = new Map<string, Candidate>();
  for (const one of list) {
    const known = best.get(one.label);
    if (known === undefined || known.rank > one.rank) best.set(one.label, one);
  }
  return [...best.values()];
};

/** All rails that supplies and buses declare. */
const declared = ({ supplies, busRails }: Machine, rank: number): Candidate[] => [
  ...supplies.flatMap((supply) => supply.rails.map((rail) => railOf(rail, rank))),
  ...busRails.map((rail) => railOf(rail, rank)),
];

const grounds = ({ railNames, supplies }: Machine, rank: number): Candidate[] => [
  ...supplies.flatMap(({ name, grounds }) => grounds.map((ground) => groundOf(ground, name, rank))),
  ...[...railNames.grounds.keys()].map(
    (ground): Candidate => ({ label: ground, kind: 'ground', rank, detail: 'ground' }),
  ),
];

/** Rails on a card's contacts, then those of the machine. */
function railsOn(card: Card | undefined, machine: Machine): Candidate[] {
  const on = card ? claimed(connectorsOf(card), 0).filter(({ kind }) => kind === 'rail') : [];
  const voltages = new Map(declared(machine, 0).map((one) => [one.label, one.detail]));
  const told = on.map((one) => ({ ...one, detail: voltages.get(one.label) ?? one.detail! }));
  return once([...told, ...declared(machine, 1)]);
}

/** What a regulator can make the rail from: of its polarity and higher first. */
function regulated(card: Card | undefined, machine: Machine, { statement }: Slot): Candidate[] {
  const rail = subjects(statement)[0]?.first ?? '';
  const volts = voltsOfName(rail);
  return railsOn(card, machine)
    .filter(({ label }) => label !== rail)
    .map((one) => {
      const from = voltsOfName(one.label) ?? machine.railNames.rails.get(one.label)?.[0]?.low;
      if (volts === undefined || from === undefined) return one;
      const fits = Math.sign(from) === Math.sign(volts) && Math.abs(from) > Math.abs(volts);
      return fits ? one : { ...one, rank: one.rank + 2 };
    });
}

/** Rails that the part of the line needs by its table, under the machine's names for them. */
function wantedBy({ statement }: Slot, machine: Machine): Candidate[] {
  const name = items(statement, 'with')[0]?.first;
  const part =
    name === undefined ? undefined : (machine.ownParts.parts.get(name.toUpperCase()) ?? partNamed(name));
  const known = usualRails(machine);
  return (part?.rails ?? []).flatMap(({ volts }) => {
    const rail = known.find(({ label }) => voltsOfName(label) === volts);
    return rail ? [{ ...rail, rank: -1, detail: `${name} needs it` }] : [];
  });
}

const madeBy = ({ makes }: Card): Candidate[] =>
  makes.map(({ rail }) => ({ label: rail, kind: 'rail', rank: 0, detail: 'made on the card' }));

/** Rails that the card's chips or drivers want and its contacts do not bring, then usual ones. */
function made(card: Card | undefined, machine: Machine): Candidate[] {
  const brought = new Set(card ? claimed(connectorsOf(card), 0).map(({ label }) => label) : []);
  const wanted = (card?.chips ?? []).flatMap(({ part, needs }) =>
    needs.map(({ rail }): Candidate => ({ label: rail, kind: 'rail', rank: 0, detail: `needed by ${part}` })),
  );
  const elsewhere = machine.cards.flatMap((one) => madeBy(one).map((rail) => ({ ...rail, rank: 2 })));
  const list = once([
    ...wanted.filter(({ label }) => !brought.has(label)),
    ...elsewhere,
    ...usualRails(machine),
  ]);
  return list.map((one) => (brought.has(one.label) ? { ...one, rank: 3 } : one));
}

/** Rails as they are usual (common practice), with those of the machine before them. */
function usualRails(machine: Machine): Candidate[] {
  const usual = ['+5V', '-5V', '+12V', '-12V', '+15V', '-15V', '+24V'];
  return once([
    ...declared(machine, 1),
    ...usual.map(
      (label): Candidate => ({ label, kind: 'rail', rank: 2, detail: `rail ${voltsOfName(label)} V` }),
    ),
  ]);
}

/** What a supply's own lines name: rails that the machine wants of it, or those that it has. */
function ofSupply(
  { form, analysis: { machine }, elsewhere }: Cursor,
  supply: Supply,
  slot: Slot,
): Candidate[] {
  const own = supply.rails.filter(({ source }) => elsewhere(source));
  if (form!.id === 'order' || slot.key === 'for') return own.map((rail) => railOf(rail, 0));
  const has = new Set([...own.map(({ name }) => name), ...supply.grounds]);
  if (form!.id === 'ground') {
    return once([...wantedNames(machine, 'ground'), groundOf('GND', supply.name, 1)]).filter(
      ({ label }) => !has.has(label) || !groundSaid(supply, label, elsewhere),
    );
  }
  if (form!.id === 'sense')
    return ['S+', 'S-'].map((label) => ({ label, kind: 'rail', rank: 0, detail: 'sense lead' }));
  return once([...wantedNames(machine, 'rail'), ...usualRails(machine)]).filter(
    ({ label }) => !has.has(label),
  );
}

const groundSaid = (supply: Supply, name: string, elsewhere: Cursor['elsewhere']): boolean => {
  const line = supply.groundLines.get(name);
  return line !== undefined && elsewhere(line.source);
};

/** Rails or grounds that buses, cards and feeds speak of. */
function wantedNames({ buses, cards }: Machine, kind: 'rail' | 'ground'): Candidate[] {
  const on = claimed([...buses.map(({ pins }) => pins), ...cards.flatMap(connectorsOf)], 0);
  const taken = cards.flatMap((card) =>
    card.takes.map(
      ({ rail }): Candidate => ({
        label: rail,
        kind: isGroundName(rail) ? 'ground' : 'rail',
        rank: 0,
        detail: `taken by ${card.name}`,
      }),
    ),
  );
  return once([...on, ...taken].filter((one) => one.kind === kind));
}

/** What a bus declares of the rails on its contacts. */
function ofBus({ form, scope: { bus }, analysis: { machine }, elsewhere }: Cursor): Candidate[] {
  const saidHere = new Set(
    machine.busRails
      .filter(({ owner, source }) => owner === bus?.name && elsewhere(source))
      .map(({ name }) => name),
  );
  const on = bus ? claimed([bus.pins], 0) : [];
  if (form!.id === 'ground') {
    const ground = on.filter(({ kind, label }) => kind === 'ground' || isGroundName(label));
    return once([...ground, { label: 'GND', kind: 'ground', rank: 1, detail: 'ground' }]);
  }
  const mine = on.filter(({ kind, label }) => kind === 'rail' || isRailName(label));
  return once([...mine.map((one) => ({ ...one, kind: 'rail' as const })), ...usualRails(machine)]).filter(
    ({ label }) => !saidHere.has(label),
  );
}

/** Rails for a feed: of the supply that the line names, those that the backplane lacks first. */
function fed({ analysis: { machine }, scope: { backplane }, rest, elsewhere }: Cursor): Candidate[] {
  const named = /\bfrom\s+(\S+)/.exec(rest)?.[1];
  const supplies = machine.supplies.filter(({ name }) => named === undefined || name === named);
  const has = new Set(
    (backplane?.feeds ?? []).filter(({ source }) => elsewhere(source)).map(({ rail }) => rail),
  );
  const carried = new Set(
    claimed(
      busesOf(backplane).map(({ pins }) => pins),
      0,
    ).map(({ label }) => label),
  );
  const list = (supplies.length > 0 ? supplies : machine.supplies).flatMap((supply) => [
    ...supply.rails.map((rail) => railOf(rail, 0)),
    ...supply.grounds.map((ground) => groundOf(ground, supply.name, 0)),
  ]);
  return once(list).map((one) => {
    if (has.has(one.label)) return { ...one, rank: 2 };
    return carried.has(one.label) ? one : { ...one, rank: 1 };
  });
}

/** What a resistor goes to: a rail first, ground where a leg to a rail stands already or the line pulls down. */
function legs({ form, scope, analysis: { machine } }: Cursor, slot: Slot): Candidate[] {
  const owner = scope.card
    ? connectorsOf(scope.card)
    : [
        ...busesOf(scope.backplane).map(({ pins }) => pins),
        ...(scope.backplane?.ports ?? []).map(({ pins }) => pins),
      ];
  const here = claimed(owner, 0);
  const isPower = ({ kind }: Candidate): boolean => kind !== 'signal';
  const made = scope.card ? madeBy(scope.card) : [];
  const groundFirst = form?.id === 'pulldown' || slot.index > 1;
  const list = once([
    ...here.filter(isPower),
    ...made,
    ...declared(machine, 2).filter(({ rank }) => rank > 0),
    ...grounds(machine, 2),
  ]);
  const used = new Set(slot.values.flatMap((value) => (value.kind === 'item' ? [value.first] : [])));
  return list
    .filter(({ label }) => !used.has(label))
    .map((one) => ((one.kind === 'ground') === groundFirst ? one : { ...one, rank: one.rank + 1 }));
}

/** Rails whose voltage the name says, for a quantity: `+12V` is `12 V`. */
export function voltageOfSubject(slot: Slot | undefined): number | undefined {
  const name = slot && subjects(slot.statement)[0]?.first;
  // A quantity without a word before it is not yet named by what it measures.
  const isSaid = slot?.statement.attributes.some(({ key }) => key === '');
  if (name === undefined || isSaid) return undefined;
  return voltsOfName(name);
}
