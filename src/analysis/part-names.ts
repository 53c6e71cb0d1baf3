import { printedNames, tabledNames } from '../knowledge/lookup.ts';
import { nearest } from '../language/problems.ts';
import type { Card, Evidence, Machine, Source } from '../machine/types.ts';
import { knownPart, knownRegulator, usedParts } from './parts.ts';

/** Who is asked about a name: a regulator is no driver, and a driver no regulator. */
type PartKind = 'part' | 'regulator';

/** A line of a card that names a part of which nothing is known. */
export interface Naming {
  readonly card: Card;
  /** `drives D0`; empty for a `part` line. */
  readonly does: string;
  readonly evidence: Evidence;
  readonly line: Source;
  readonly name: Source;
}

export interface UnknownPart {
  readonly name: string;
  readonly kind: PartKind;
  readonly namings: readonly Naming[];
}

const isKnown = (machine: Machine, kind: PartKind, name: string): boolean =>
  (kind === 'regulator' ? knownRegulator(machine, name) : knownPart(machine, name)) !== undefined;

/** Parts that cards name and no table knows, each once, with the lines that name it in the order of the text. */
export function unknownParts(machine: Machine): UnknownPart[] {
  const found = new Map<string, UnknownPart & { namings: Naming[] }>();
  const asked = new Map<string, boolean>();
  const keyOf = (kind: PartKind, part: string): string => `${kind} ${part.toUpperCase()}`;
  const knows = (kind: PartKind, part: string): boolean => {
    const key = keyOf(kind, part);
    const known = asked.get(key) ?? isKnown(machine, kind, part);
    asked.set(key, known);
    return known;
  };
  const name = (kind: PartKind, part: string, naming: Naming): void => {
    if (knows(kind, part)) return;
    const key = keyOf(kind, part);
    let one = found.get(key);
    if (one === undefined) {
      one = { name: part, kind, namings: [] };
      found.set(key, one);
    }
    // A line that names many signals names its part once.
    if (one.namings.at(-1)?.line !== naming.line) one.namings.push(naming);
  };
  for (const card of machine.cards) {
    // Most cards name known parts only, on very many lines.
    const allKnown = [...usedParts(card)].every((part) => knows('part', part));
    for (const { kind, name: line, part, partSource, evidence, source } of allKnown ? [] : card.uses) {
      if (part && partSource)
        name('part', part, { card, does: `${kind} ${line}`, evidence, line: source, name: partSource });
    }
    for (const { rail, part, partSource, evidence, source } of card.makes) {
      if (part && partSource)
        name('regulator', part, { card, does: `makes ${rail}`, evidence, line: source, name: partSource });
    }
    for (const { needs, part, partSource, source } of card.chips) {
      // What the line itself says of its rails is checked without a table; a regulator may be listed as a chip.
      if (!partSource || needs.length > 0 || isKnown(machine, 'regulator', part)) continue;
      name('part', part, { card, does: '', evidence: {}, line: source, name: partSource });
    }
  }
  return [...found.values()];
}

/** What was likely meant by a name that no table knows: letters read for figures, or one slip of the hand. */
export function meantPart(machine: Machine, { name, kind }: UnknownPart): string | undefined {
  const alike = [...misread(name), ...exchanged(name)].find((one) => isKnown(machine, kind, one));
  if (alike !== undefined) return alike;
  const { families, parts, regulators } = machine.ownParts;
  const own = kind === 'regulator' ? [...regulators.keys()] : [...parts.keys(), ...families.keys()];
  const candidates = [...own, ...tabledNames(kind)];
  for (const one of printedNames(name)) {
    const near = one.length < SHORTEST ? undefined : nearest(one, candidates);
    if (near !== undefined) return near;
  }
  return undefined;
}

/** Shorter names are near to too many others. */
const SHORTEST = 4;

/** Letters that look like a 1; a capital L does not. */
const ONE = /[lIi]/g;

/** The name with the letters O, l and I read as the figures that they look like: all of a kind, all, or one. */
function misread(name: string): string[] {
  const zeros = name.replace(/o/gi, '0');
  return [zeros, name.replace(ONE, '1'), zeros.replace(ONE, '1'), ...singles(name)];
}

function singles(name: string): string[] {
  return [...name].flatMap((letter, i) => {
    const figure = /o/i.test(letter) ? '0' : /[lIi]/.test(letter) ? '1' : undefined;
    return figure === undefined ? [] : [name.slice(0, i) + figure + name.slice(i + 1)];
  });
}

/** The name with two neighbouring characters exchanged: numbers of ordinary gates are in no list. */
function exchanged(name: string): string[] {
  return [...name.slice(1)].map(
    (_, i) => name.slice(0, i) + name.charAt(i + 1) + name.charAt(i) + name.slice(i + 2),
  );
}
