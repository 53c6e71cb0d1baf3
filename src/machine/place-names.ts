import { nearest } from '../language/problems.ts';
import { hasLine } from './bus-lines.ts';
import { unknown } from './cards.ts';
import { chainBegunBy, isOfChain } from './claims.ts';
import { isGroundName, voltsOfName } from './names.ts';
import { inside, names, type Problems, type Said, statementOf } from './scope.ts';
import type { Backplane, Bias, Card, RailNames } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Reports what a backplane's text names and it does not have: chains of slots, lines, rails of resistors. */
export function checkBackplaneNames(
  wiring: Wiring,
  backplane: Backplane,
  rails: RailNames,
  problems: Problems,
): void {
  const isLine = (name: string): boolean => hasLine(wiring, backplane, name);
  checkChainsAndLines(backplane, isLine, problems);
  const straps = new Set(backplane.rework.flatMap(({ places }) => places.map(({ place }) => place)));
  const isHere = (name: string): boolean => backplane.buses.length === 0 || isLine(name) || straps.has(name);
  checkLegs(backplane.name, backplane.biases, rails, isHere, problems);
}

/** Bridges of chains that the slot does not have, and line data of lines that the backplane does not have. */
function checkChainsAndLines(
  backplane: Backplane,
  isLine: (name: string) => boolean,
  problems: Problems,
): void {
  if (backplane.buses.length === 0) return;
  const told = new Set<number>();
  for (const { bridges, instances } of backplane.slots) {
    const chains = instances.flatMap(({ port }) => port.bus?.chains ?? []);
    for (const { name, source } of bridges) {
      if (told.has(source.from) || chains.some((chain) => isOfChain(name, chain))) continue;
      told.add(source.from);
      const known = chains.map((chain) => chain.name);
      const meant = source.to - source.from === name.length ? chainBegunBy(name, chains) : undefined;
      const fix = meant && { title: `write \`${meant}\``, text: meant, source };
      problems.add('name-unknown', source, unknown('daisy chain', name, known), fix ? { fix } : {});
    }
  }
  const isChain = (name: string): boolean =>
    backplane.buses.some(({ bus }) => bus.chains.some((chain) => isOfChain(name, chain)));
  for (const { names: said, source } of backplane.lines) {
    const missing = said.find((name) => !isLine(name) && !isChain(name));
    if (missing === undefined) continue;
    problems.add('name-unknown', source, `no line of ${backplane.name} is called \`${missing}\``);
  }
}

/**
 * Reports resistors to a rail that is neither declared nor on any contact here, and whose name says no voltage: what
 * such a resistor does to its line nobody can tell.
 */
export function checkLegs(
  owner: string,
  biases: readonly Bias[],
  { rails, grounds }: RailNames,
  isHere: (name: string) => boolean,
  problems: Problems,
): void {
  const isKnown = (rail: string): boolean =>
    rails.has(rail) ||
    grounds.has(rail) ||
    isGroundName(rail) ||
    voltsOfName(rail) !== undefined ||
    isHere(rail);
  for (const { legs, source } of biases) {
    const missing = legs.find(({ rail }) => !isKnown(rail));
    if (missing === undefined) continue;
    const meant = nearest(missing.rail, new Set([...rails.keys(), ...grounds.keys()]));
    const message = `${owner} has no rail \`${missing.rail}\`${meant ? `; there is \`${meant}\`` : ''}`;
    problems.add('name-unknown', source, message);
  }
}

/** What a card may tie a resistor to: names on its contacts, and rails that it takes or makes. */
export function namesOfCard({ edges, ports, makes, takes, rework }: Card): ReadonlySet<string> {
  const found = new Set<string>();
  for (const { pins } of [...edges, ...ports]) {
    for (const claim of pins.claims)
      if (claim) for (const one of [claim.name, ...claim.aliases]) found.add(one);
  }
  for (const { rail, from } of makes) found.add(rail).add(from);
  for (const { rail } of takes) found.add(rail);
  for (const { places } of rework) for (const { place } of places) found.add(place);
  return found;
}

/** Asks about parts that a board is without and that its card does not describe: taking them off changes nothing here. */
export function checkWithout(board: string, card: Card, said: Said, problems: Problems): void {
  const known = new Set(card.chips.flatMap((chip) => chip.names));
  for (const { as } of card.biases) if (as !== undefined) known.add(as);
  for (const line of inside(said)) {
    const statement = statementOf(line);
    if (statement.form !== 'without') continue;
    const missing = names(line, statement.subject, problems).filter(({ name }) => !known.has(name));
    const [first] = missing;
    if (first === undefined) continue;
    const list = missing.map(({ name }) => `\`${name}\``).join(', ');
    const meant = nearest(first.name, known);
    const message = `${board} is without ${list}, and what that part does is not said of ${card.name}${meant ? `; there is \`${meant}\`` : ''}`;
    problems.add('name-unknown', first.source, message, { severity: 'question' });
  }
}
