import { nearest } from '../language/problems.ts';
import { items, subjects } from '../language/tree.ts';
import { chainBegunBy } from './claims.ts';
import { inside, type Named, names, Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Bus, Card, Chain, PinMap, Port, Rework } from './types.ts';

/** Lines of a card that speak of lines on its contacts. */
const OF_LINES = new Set<string>(
  'drives transceives receives pulls starts passes untouched terminate pullup pulldown'.split(' '),
);

/** Lines of a card that may say at which connector. */
const AT_PORTS = new Set<string>([...OF_LINES, 'takes']);

/** Names that a bus gives to contacts in some of its slots only. */
type SlotNames = ReadonlyMap<Bus, ReadonlySet<string>>;

/**
 * Reports names of lines that no contact of the card carries, and connectors and contacts it does not have; one problem
 * a statement. A card with a connector that could not be built was told so, and is not told that it lacks lines.
 */
export function checkCardNames(said: Said, card: Card, slotNames: SlotNames, problems: Problems): void {
  const ports = new Map([...card.edges, ...card.ports].map((port) => [port.name, port]));
  const declared = connectorsNamed(said);
  const whole = declared.every((name) => ports.has(name));
  const carried = new Map([...ports].map(([name, port]) => [name, namesOn(port, slotNames)]));
  const [only] = carried.values();
  const everywhere =
    carried.size === 1 && only ? only : new Set([...carried.values()].flatMap((one) => [...one]));
  const inner = innerNames(card);
  for (const line of inside(said)) {
    const statement = statementOf(line);
    const at = AT_PORTS.has(statement.form) ? items(statement, 'at')[0] : undefined;
    const port = at && portMeant(at.first, declared);
    if (at !== undefined && port === undefined) {
      const message = `${card.name} has no connector \`${at.first}\`${known('it has', declared)}`;
      problems.add('name-unknown', sourceOf(line, at), message);
    }
    if (!whole || !OF_LINES.has(statement.form) || (at !== undefined && port === undefined)) continue;
    const here = port === undefined ? everywhere : carried.get(port)!;
    // What is wrong with a vector itself was reported when the card was read.
    const lacks = (name: string): boolean => !here.has(name) && !inner.has(name);
    // Vectors apart, a line of known names needs no second reading.
    if (subjects(statement).every(({ first, last }) => last === undefined && !lacks(first))) continue;
    const missing = names(line, statement.subject, new Problems()).filter(({ name }) => lacks(name));
    if (missing.length === 0) continue;
    const chains = statement.form === 'starts' || statement.form === 'passes' ? chainsOf(card) : [];
    reportLines(port ? `${card.name}.${port}` : card.name, missing, here, chains, problems);
  }
  for (const rework of card.rework) checkPlaces(card, rework, problems);
}

/** Reports contacts in a wire or cut that the card's connector does not have. */
export function checkPlaces(
  { name, edges, ports }: Card,
  { kind, places }: Rework,
  problems: Problems,
): void {
  const connectors = new Set([...edges, ...ports].map((port) => port.name));
  for (const { place, source } of kind === 'cut' ? places : []) {
    if (connectors.has(place.slice(0, Math.max(0, place.lastIndexOf('.'))))) continue;
    const message = `a cut on a board sets a contact apart from the rest: found \`${place}\`, expected a contact of ${name} such as \`edge.12\``;
    problems.add('contact-unknown', source, message);
  }
  const missing: { place: string; port: Port; source: Named['source'] }[] = [];
  for (const { place, source } of places) {
    const dot = place.lastIndexOf('.');
    const port = dot < 0 ? undefined : [...edges, ...ports].find((one) => one.name === place.slice(0, dot));
    if (port !== undefined && !port.pins.connector.indexOf.has(place.slice(dot + 1)))
      missing.push({ place, port, source });
  }
  const [first] = missing;
  if (first === undefined) return;
  const { labels } = first.port.pins.connector;
  const list = missing.map(({ place }) => `\`${place}\``).join(', ');
  const message = `${name} has no contact ${list}; ${first.port.name} has ${labels.length}, from \`${labels[0]}\` to \`${labels.at(-1)}\``;
  problems.add('name-unknown', first.source, message);
}

/** Names of the edges and ports that the card's text has, also of those that could not be built. */
function connectorsNamed(said: Said): string[] {
  return inside(said)
    .map(statementOf)
    .filter(({ form }) => form === 'edge' || form === 'port')
    .map((statement) => subjects(statement)[0]?.first ?? (statement.form === 'edge' ? 'edge' : ''));
}

/** `J1`, or `J1.3` for one of its contacts. */
function portMeant(place: string, declared: readonly string[]): string | undefined {
  if (declared.includes(place)) return place;
  const dot = place.lastIndexOf('.');
  return declared.find((name) => dot > 0 && name === place.slice(0, dot));
}

/** What cards that take their bus's table over as it is carry, once a bus. */
const onTaken = new WeakMap<PinMap, ReadonlySet<string>>();

function namesOn({ pins, bus }: Port, slotNames: SlotNames): ReadonlySet<string> {
  const kept = onTaken.get(pins);
  if (kept) return kept;
  const found = new Set<string>((bus && slotNames.get(bus)) ?? []);
  for (const claim of [...pins.claims, ...pins.own]) {
    if (claim !== undefined && claim.name !== '')
      for (const name of [claim.name, ...claim.aliases]) found.add(name);
  }
  if (pins === bus?.taken) onTaken.set(pins, found);
  return found;
}

/** The daisy chains of a card's buses. */
const chainsOf = ({ edges, ports }: Card): Chain[] => [
  ...new Set([...edges, ...ports].flatMap(({ bus }) => bus?.chains ?? [])),
];

/** Names inside the board: what it makes, and what its straps and wires tie to something. */
function innerNames({ makes, rework }: Card): Set<string> {
  const found = new Set(makes.map(({ rail }) => rail));
  for (const { places } of rework) for (const { place } of places) found.add(place);
  return found;
}

/** `; it has A, B …`, or nothing where there is none. */
function known(how: string, all: readonly string[]): string {
  const list = all.slice(0, 8).map((one) => `\`${one}\``);
  return list.length === 0 ? '' : `; ${how} ${list.join(', ')}${all.length > list.length ? ' …' : ''}`;
}

function reportLines(
  where: string,
  missing: readonly Named[],
  here: ReadonlySet<string>,
  chains: readonly Chain[],
  problems: Problems,
): void {
  const [first] = missing as readonly [Named, ...Named[]];
  const list = missing.slice(0, 8).map(({ name }) => `\`${name}\``);
  const more = missing.length > list.length ? ` and ${missing.length - list.length} more` : '';
  const meant =
    missing.length === 1 ? (nearest(first.name, here) ?? chainBegunBy(first.name, chains)) : undefined;
  const names = [...new Set(chains.flatMap(({ name, outName }) => [name, outName]))];
  const kin =
    names.length > 0 ? known('its daisy chains are', names) : known('its contacts carry', [...here]);
  const alone = first.source.to - first.source.from === first.name.length;
  const message = `no contact of ${where} carries ${list.join(', ')}${more}${meant ? `; there is \`${meant}\`` : kin}`;
  const fix = meant && alone ? { title: `write \`${meant}\``, text: meant, source: first.source } : undefined;
  problems.add('name-unknown', first.source, message, fix ? { fix } : {});
}
