import { keeping } from './keep.ts';
import type { Card, Claim, Instance, PinMap } from './types.ts';

/** Whether a board has copper on a contact for what its table says there, and uses it. */
export type Copper = 'yes' | 'unsaid' | 'no';

interface Mentioned {
  /** Names that the card takes, makes, drives, hears … or gives to a contact of its own. */
  readonly used: ReadonlySet<string>;
  readonly untouched: ReadonlySet<string>;
}

/** Whether nothing can meet a contact: its pin is pulled, or the hole for it is plugged. */
export const isAbsent = ({ pulled, plugged }: PinMap, contact: number): boolean =>
  pulled.has(contact) || plugged.has(contact);

const mentionedBy = keeping((card: Card, uses: Card['uses']): Mentioned => {
  const used = new Set<string>();
  const untouched = new Set<string>();
  for (const { kind, name } of uses) (kind === 'untouched' ? untouched : used).add(name);
  for (const { rail } of card.takes) used.add(rail);
  for (const { rail, from } of card.makes) used.add(rail).add(from);
  for (const { needs } of card.chips) for (const { rail } of needs) used.add(rail);
  for (const { names, legs } of card.biases) {
    for (const { name } of names) used.add(name);
    for (const { rail } of legs) used.add(rail);
  }
  for (const { places } of card.rework) for (const { place } of places) used.add(place);
  for (const { pins } of [...card.edges, ...card.ports]) {
    for (const claim of pins.own)
      if (claim) for (const name of [claim.name, ...claim.aliases]) used.add(name);
  }
  // Spare and unknown contacts have no name: a card that lists one does not use all others.
  used.delete('');
  return { used, untouched };
});

/**
 * What a card's table says of a contact it may say only because it took the table of its bus over. Such a finger is
 * known to have no copper where the card lists it `untouched`; ground is taken to be on every card (common practice,
 * no source); a name that the card neither uses nor excludes is unsaid.
 */
export const copperOn = (card: Card, pins: PinMap): readonly Copper[] => copperBy(card, card.uses, pins);

const copperBy = keeping((card: Card, uses: Card['uses'], pins: PinMap): readonly Copper[] => {
  const { used, untouched } = mentionedBy(card, uses);
  return pins.claims.map((claim, contact) => {
    if (claim === undefined || isAbsent(pins, contact) || named(claim, untouched)) return 'no';
    if (pins.own[contact] !== undefined || claim.kind === 'ground' || named(claim, used)) return 'yes';
    return card.closed ? 'no' : 'unsaid';
  });
});

/** The same of any contact: slots and ports of backplanes and supplies are what their tables say. */
export function copperAt({ board, pins }: Instance, contact: number): Copper {
  if (board !== undefined) return copperOn(board.card, pins)[contact] ?? 'no';
  return pins.claims[contact] === undefined || isAbsent(pins, contact) ? 'no' : 'yes';
}

const named = ({ name, aliases }: Claim, names: ReadonlySet<string>): boolean =>
  names.has(name) || aliases.some((alias) => names.has(alias));
