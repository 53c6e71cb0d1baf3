import { vectorName } from '../../machine/names.ts';
import type { Bus, Card, Machine, PinMap } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import { busesOf, busesOfCard, connectorsOf, lines, mapsOfCage, mapsOfCard, saidNames } from './claims.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';
import { rails } from './rails.ts';
import { contactsLeft, fitting, tableNames } from './table-names.ts';
import { rangeEnds, withVectors } from './vectors.ts';

/** Names of rails and lines, by what the line says of them. */
export function names(cursor: Cursor, slot: Slot): Candidate[] {
  const list = listFor(cursor, slot);
  if (slot.first !== undefined) return rangeEnds(slot.first, list);
  const said = new Set(saidNames(otherItems(slot)));
  const offered = nextFirst(withVectors(list.filter(({ label }) => !said.has(label))), slot);
  return cursor.form?.id === 'entry' ? fitting(offered, contactsLeft(cursor, slot)) : offered;
}

/** Behind `IRQ3,` comes `IRQ4` or a range from there. */
function nextFirst(list: readonly Candidate[], { values, index }: Slot): Candidate[] {
  const before = values[index - 1];
  const last = before?.kind === 'item' ? vectorName(before.last ?? before.first) : undefined;
  if (last === undefined) return [...list];
  return list.map((one) => {
    const next = vectorName(one.label.split('..')[0]!);
    const follows =
      next?.before === last.before && next.after === last.after && next.number === last.number + 1;
    return follows ? { ...one, rank: -0.5 } : one;
  });
}

function listFor(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, scope } = cursor;
  switch (form?.id) {
    case 'entry':
      return tableNames(cursor, slot);
    case 'drives':
    case 'transceives':
    case 'receives':
    case 'pulls':
    case 'untouched':
      return scope.card ? usedLines(cursor, scope.card, form.id) : [];
    case 'starts':
    case 'passes':
      return scope.card
        ? chainsOf(
            busesOfCard(scope.card),
            new Set(
              scope.card.uses
                .filter((use) => use.kind === form.id && cursor.elsewhere(use.source))
                .map(({ name }) => name),
            ),
          )
        : [];
    case 'slot':
      return chainsOf(busesOf(scope.backplane), new Set());
    case 'terminate':
    case 'pullup':
    case 'pulldown':
      return slot.key === '' ? biasedLines(cursor) : rails(cursor, slot);
    case 'line':
      return scope.backplane
        ? lines(
            busesOf(scope.backplane).map(({ pins }) => pins),
            0,
          )
        : [];
    case 'activelow':
      return activeLowNames(cursor);
    default:
      return rails(cursor, slot);
  }
}

/** Names, and what else the same lines are called. */
function withOtherNames(maps: readonly PinMap[], names: readonly string[]): Set<string> {
  const all = new Set(names);
  for (const { claims } of maps) {
    for (const claim of claims) {
      if (claim === undefined || claim.aliases.length === 0) continue;
      const line = [claim.name, ...claim.aliases];
      if (line.some((name) => all.has(name))) for (const name of line) all.add(name);
    }
  }
  return all;
}

/** What other cards must do on a line for this one to have a reason to do its part. */
const COUNTERPARTS: Readonly<Record<string, readonly string[]>> = {
  drives: ['receives'],
  receives: ['drives', 'transceives', 'pulls'],
  transceives: ['transceives'],
  pulls: ['receives', 'pulls'],
};

/** Lines on which other cards do what goes with this; of those to drive, what nobody drives yet. */
function awaited({ cards }: Machine, card: Card, form: string): Set<string> {
  const others = cards.filter((one) => one !== card).flatMap(({ uses }) => uses);
  const found = new Set(
    others.flatMap(({ kind, name }) => (COUNTERPARTS[form]?.includes(kind) ? [name] : [])),
  );
  if (form === 'drives')
    for (const { kind, name } of others) if (kind === 'drives' || kind === 'transceives') found.delete(name);
  return found;
}

/** Lines on the card's contacts: those that others wait for first, then what it does nothing with yet, then the rest. */
function usedLines({ elsewhere, analysis: { machine } }: Cursor, card: Card, form: string): Candidate[] {
  const maps = mapsOfCard(machine, card);
  const used = withOtherNames(
    maps,
    card.uses.filter(({ source }) => elsewhere(source)).map(({ name }) => name),
  );
  const wanted = awaited(machine, card, form);
  const shared = new Set(
    maps.flatMap(({ claims }) =>
      claims.flatMap((claim) => (claim?.wiredOr ? [claim.name, ...claim.aliases] : [])),
    ),
  );
  const chains = new Set(
    busesOfCard(card).flatMap((bus) => bus.chains.flatMap(({ name, outName }) => [name, outName])),
  );
  const found = lines(maps, 0).map((one) => {
    if (chains.has(one.label)) return { ...one, rank: 3 };
    if (used.has(one.label)) return { ...one, rank: 2 };
    return wanted.has(one.label) || (form === 'pulls' && shared.has(one.label)) ? one : { ...one, rank: 1 };
  });
  return [...found, ...innerNames(card, found)];
}

/** Names that the card's lines speak of and no contact carries. */
function innerNames(card: Card, known: readonly Candidate[]): Candidate[] {
  const names = new Set(card.rework.flatMap(({ places }) => places.map(({ place }) => place)));
  for (const { label } of known) names.delete(label);
  return [...names]
    .filter((name) => !name.includes('.'))
    .map((label) => ({ label, kind: 'signal', rank: 4, detail: 'named inside the card' }));
}

/** Daisy chains, those not yet named first. */
function chainsOf(buses: readonly Bus[], used: ReadonlySet<string>): Candidate[] {
  return buses.flatMap(({ chains, pins: { connector } }) =>
    chains.flatMap(({ name, outName, input, output }) =>
      // Either end names the chain.
      [...new Set([name, outName])].map(
        (label): Candidate => ({
          label,
          kind: 'chain',
          rank: used.has(name) || used.has(outName) ? 1 : 0,
          detail: `daisy chain, in on ${connector.labels[input]}, out on ${connector.labels[output]}`,
        }),
      ),
    ),
  );
}

/** Lines for a terminator or pull-up: those that have none there yet first, shared ones first for a pull-up. */
function biasedLines({ scope, form, elsewhere, analysis: { machine } }: Cursor): Candidate[] {
  const owner = scope.card ?? scope.backplane;
  if (owner === undefined) return [];
  const word = form!.word;
  const maps = scope.card
    ? mapsOfCard(machine, scope.card)
    : [...mapsOfCage(scope.backplane!), ...scope.backplane!.ports.map(({ pins }) => pins)];
  const biased = withOtherNames(
    maps,
    owner.biases
      .filter((bias) => bias.word === word && elsewhere(bias.source))
      .flatMap((bias) => bias.names.map(({ name }) => name)),
  );
  const shared = new Set(
    maps.flatMap(({ claims }) => claims.flatMap((claim) => (claim?.wiredOr ? [claim.name] : []))),
  );
  const chains = new Set(
    (scope.card ? busesOfCard(scope.card) : busesOf(scope.backplane)).flatMap((bus) =>
      bus.chains.flatMap(({ name, outName }) => [name, outName]),
    ),
  );
  return lines(maps, 0).map((one) => {
    if (chains.has(one.label)) return { ...one, rank: 3 };
    if (biased.has(one.label)) return { ...one, rank: 2 };
    return word === 'pull-up' && !shared.has(one.label) ? { ...one, rank: 1 } : one;
  });
}

/** Names that begin with the small n of an active-low mark and are not declared so. */
function activeLowNames({ analysis: { machine } }: Cursor): Candidate[] {
  return everyLine(machine).filter(({ label }) => /^n[A-Z]/.test(label) && !machine.activeLow.has(label));
}

const everyLine = ({ buses, cards }: Machine): Candidate[] =>
  lines([...buses.map(({ pins }) => pins), ...cards.flatMap(connectorsOf)], 0);
