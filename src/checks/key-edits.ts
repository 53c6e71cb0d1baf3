import type { Case } from '../analysis/wrong-mating/cases.ts';
import {
  type KeyedGroup,
  type KeyPlace,
  type KeyPlan,
  keyedConnector,
  planKeys,
} from '../analysis/wrong-mating/keys.ts';
import { type ConnectorPlan, keyPlansOf, lackFor } from '../analysis/wrong-mating/plans.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Bus, Connector, PinMap, Port, Slot, Source } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { edit, saying } from './edits.ts';
import { spokenList } from './lists.ts';
import type { Change, Edit, View } from './types.ts';

/**
 * The edit that writes a plan of keys: into the connector's own block, where all that share it get the same; else into
 * what each group of the plan owns. A published connector is nobody's to key: then all that have it are keyed one by one.
 * None where a key cannot be said apart from one that it must differ from.
 */
export function keyEdits(view: View, plan: KeyPlan): Edit[] {
  const { connector, groups } = plan;
  const [first, ...others] = groups;
  if (first === undefined) return [];
  if (others.length === 0 && !isPublished(connector.source.file)) {
    const lines = linesFor(connector, connector, first.places);
    return [edit(titleOf(lines, connector.name), ...adding(lines, connector.source))];
  }
  const owned = others.length > 0 ? groups : [{ ...first, owners: ownersOf(view, connector) }];
  const changes = owned.flatMap((group) => keying(view, connector, group, owned));
  if (changes.some((change) => change === undefined)) return [];
  const title =
    others.length > 0
      ? `key ${connector.name} differently for ${spokenGroups(groups)}`
      : titleOf(linesFor(connector, connector, first.places), `everything on ${connector.name}`);
  return [edit(title, ...changes.filter((one) => one !== undefined))];
}

/** What a connector lacks, written: its keys; where it has no contact to spare, a wall and the bumps that fit its notch. */
export function lackEdits(view: View, { connector, plan, wall }: ConnectorPlan): Edit[] {
  if (plan) return keyEdits(view, plan);
  if (!wall || isPublished(connector.source.file)) return [];
  const lines = ['shroud notch', ...(connector.bump ? [] : ['bump'])];
  return [edit(titleOf(lines, connector.name), ...adding(lines, connector.source))];
}

/**
 * What a connector lacks against one case and, where such cases are harmful and open, against all of them. Undefined where nothing
 * prevents it, or where a key is there already, half said.
 */
export function lackAgainst(view: View, one: Case): ConnectorPlan | undefined {
  const { machine } = view;
  if (one.verdict.state !== 'open') return undefined;
  const connector = keyedConnector(one);
  const lack = lackFor(keyPlansOf(machine, wrongMatingOf(machine)), one);
  if (lack) return lack;
  const users = machine.instances.filter(({ pins }) => pins.connector === connector);
  const alone = planKeys(connector, [one], users);
  return alone && { connector, cases: [one], plan: alone, wall: false };
}

const titleOf = (lines: readonly string[], where: string): string =>
  `add ${spokenList(lines.map((line) => `\`${line}\``))} to ${where}`;

/** Those that get different keys: `PSU.P1 and LAMPS.J1 than for PSU.P2`. */
const spokenGroups = (groups: readonly KeyedGroup[]): string =>
  groups.map(({ names }) => spokenList(names)).join(' than for ');

/** Whatever has a connector of this kind: buses with their slots and edges, and ports and edges of their own. */
function ownersOf({ machine }: View, connector: Connector): (Bus | Port)[] {
  const ports = machine.instances.map(({ port }) => port);
  const owners = [...machine.buses, ...ports.filter(({ bus }) => bus === undefined)];
  return [...new Set(owners)].filter(({ pins }) => pins.connector === connector);
}

const adding = (lines: readonly string[], into: Source): Change[] =>
  lines.map((line) => ({ kind: 'add', line, into }));

/** What a block says of keys at these places, but for what it says already. */
function linesFor(
  { labels }: Connector,
  { pulled, plugged }: Pick<PinMap, 'pulled' | 'plugged'>,
  places: readonly KeyPlace[],
): string[] {
  const contacts = places.flatMap((place) => (place.length === 1 ? place : []));
  const missing = (said: ReadonlySet<number>): string =>
    contacts.flatMap((contact) => (said.has(contact) ? [] : labels[contact]!)).join(', ');
  const halves = [
    ['pulled', missing(pulled)],
    ['plugged', missing(plugged)],
  ];
  return [
    ...places.flatMap((place) => (place.length === 2 ? [betweenOf(labels, place)] : [])),
    ...halves.flatMap(([word, list]) => (list === '' ? [] : [`${word} ${list}`])),
  ];
}

const betweenOf = (labels: readonly string[], [a, b]: readonly [number, number]): string =>
  `key between ${labels[a]}, ${labels[b]}`;

/** The keys of one group, at all that it owns; undefined among them where one cannot be written. */
function keying(
  view: View,
  connector: Connector,
  { owners, places }: KeyedGroup,
  all: readonly KeyedGroup[],
): (Change | undefined)[] {
  return owners.flatMap((owner) => {
    if (!('taken' in owner)) return atPort(connector, owner, places);
    const edges = view.machine.cards.flatMap((card) => card.edges).filter(({ bus }) => bus === owner);
    return [
      ...slotLines(view, owner).map((slot) => inSlots(connector, slot, places, owner, all)),
      ...edges.flatMap((edge) => atPort(connector, edge, places)),
    ];
  });
}

const atPort = (connector: Connector, { pins, source }: Port, places: readonly KeyPlace[]) =>
  isPublished(source.file) ? [undefined] : adding(linesFor(connector, pins, places), source);

/** A slot for each line by which slots carry a bus. */
function slotLines({ machine }: View, bus: Bus): Slot[] {
  const lines = new Map<string, Slot>();
  for (const backplane of machine.backplanes)
    for (const slot of backplane.slots)
      if (slot.instances.some(({ port }) => port.bus === bus))
        lines.set(`${slot.described.file} ${slot.described.from}`, slot);
  return [...lines.values()];
}

/**
 * Keys said on a line of slots, with those that it says already. It says them of all its connectors of one kind, by the
 * contacts of its first: none where another bus there must be keyed differently.
 */
function inSlots(
  connector: Connector,
  { instances, described }: Slot,
  places: readonly KeyPlace[],
  bus: Bus,
  all: readonly KeyedGroup[],
): Change | undefined {
  const here = instances.filter(({ pins }) => pins.connector === connector);
  const isOther = ({ owners }: KeyedGroup): boolean => !owners.includes(bus);
  const differs = all
    .filter(isOther)
    .some(({ owners }) => here.some(({ port }) => owners.includes(port.bus!)));
  const pairs = places.flatMap((place) => (place.length === 2 ? [place] : []));
  if (instances[0]?.pins.connector !== connector || differs || pairs.length === 0) return undefined;
  if (isPublished(described.file)) return undefined;
  const own = here[0]!.pins.keys.slice(here[0]!.port.pins.keys.length);
  const keys = [...own, ...pairs].map((pair) => betweenOf(connector.labels, pair));
  return saying(described, { key: [...new Set(keys)].join(' ') });
}
