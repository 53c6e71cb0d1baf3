import type { Item } from '../language/tree.ts';
import { attribute, has, items, subjects } from '../language/tree.ts';
import { buildPort, type Lookup, readBias, readRework, unique, unknown } from './cards.ts';
import { keyBetween, optional } from './connectors.ts';
import {
  amount,
  contacts,
  evidenceOf,
  inside,
  names,
  Problems,
  type Said,
  sourceOf,
  statementOf,
} from './scope.ts';
import type { Backplane, Bias, Bus, Feed, LineData, Port, Rework, Slot, Source, Supply } from './types.ts';

/** What a slot carries: its buses, with the place of each where there are several, and keys of its own. */
export interface SlotParts {
  readonly buses: readonly { readonly place: string; readonly bus: Bus }[];
  readonly keys: readonly (readonly [number, number])[];
}

interface BackplaneParts {
  readonly backplane: Backplane;
  readonly slots: ReadonlyMap<Slot, SlotParts>;
}

export function buildBackplane(
  said: Said,
  lookup: Lookup,
  supplies: ReadonlyMap<string, Supply>,
  problems: Problems,
): BackplaneParts {
  const name = subjects(statementOf(said))[0]?.first ?? '';
  const slots = new Map<Slot, SlotParts>();
  const biases: Bias[] = [];
  const rework: Rework[] = [];
  const lines: LineData[] = [];
  const ports: Port[] = [];
  const buses: { place: string; bus: Bus }[] = [];
  const backplane: Backplane = {
    name,
    slots: [],
    buses,
    feeds: [],
    biases,
    rework,
    lines,
    ports,
    portInstances: [],
    described: false,
    source: sourceOf(said),
  };
  const feeds: Said[] = [];
  for (const line of inside(said)) {
    const { form } = statementOf(line);
    if (form === 'slots') readSlots(line, backplane, buses, slots, lookup, problems);
    else if (form === 'feed') feeds.push(line);
    else if (form === 'terminate' || form === 'pullup' || form === 'pulldown')
      biases.push(readBias(line, problems));
    else if (form === 'wire' || form === 'cut' || form === 'strap') rework.push(readRework(line, problems));
    else if (form === 'line') lines.push(readLine(line, problems));
    else if (form === 'port') {
      const port = buildPort(line, name, lookup, problems);
      if (port) ports.push(port);
    }
  }
  unique(ports, name, problems);
  for (const line of feeds) {
    const feed = readFeed(line, backplane, supplies, problems);
    if (feed) backplane.feeds.push(feed);
  }
  return { backplane, slots };
}

function readSlots(
  line: Said,
  backplane: Backplane,
  buses: { place: string; bus: Bus }[],
  slots: Map<Slot, SlotParts>,
  lookup: Lookup,
  problems: Problems,
): void {
  const statement = statementOf(line);
  const here = busesOf(line, lookup, problems);
  for (const one of here) {
    if (!buses.some(({ place, bus }) => place === one.place && bus === one.bus)) buses.push(one);
  }
  const keys: (readonly [number, number])[] = [];
  const connector = here[0]?.bus.pins.connector;
  for (const one of statement.attributes) {
    if (one.key !== 'key' || connector === undefined) continue;
    const pair = keyBetween(
      connector,
      contacts(line, one.values, connector, problems).map((c) => c.index),
    );
    if (pair) keys.push(pair);
    else
      problems.add(
        'range-mismatch',
        sourceOf(line, one),
        'a key sits between two neighbouring contacts of one row; these are not neighbours',
      );
  }
  const known = new Set(backplane.slots.map((slot) => slot.label));
  for (const { name: label, source } of names(line, statement.subject, problems)) {
    if (known.has(label)) {
      problems.add(
        'duplicate',
        source,
        `slot ${label} of ${backplane.name} is described twice; keep one line`,
      );
      continue;
    }
    const slot: Slot = {
      label,
      index: backplane.slots.length,
      backplane,
      instances: [],
      selfBridging: has(statement, 'self-bridging'),
      guides: has(statement, 'guides'),
      state: 'unsaid',
      bridges: [],
      ...optional('pitch', amount(statement, 'pitch', 'length')),
      described: sourceOf(line),
      source,
    };
    known.add(label);
    backplane.slots.push(slot);
    slots.set(slot, { buses: here, keys });
  }
}

function busesOf(line: Said, lookup: Lookup, problems: Problems): { place: string; bus: Bus }[] {
  const list: { place: string; bus: Bus }[] = [];
  let group: Item[] = [];
  for (const value of attribute(statementOf(line), 'on')?.values ?? []) {
    if (value.kind === 'item') {
      group.push(value);
      continue;
    }
    const named = group.at(-1) as Item;
    const bus = lookup.buses.get(named.first);
    if (bus && list.some((one) => one.bus === bus)) {
      problems.add(
        'duplicate',
        sourceOf(line, named),
        `a slot carries bus ${named.first} once; describe the second as a bus of its own`,
      );
    } else if (bus) list.push({ place: group.length > 1 ? (group[0] as Item).first : '', bus });
    else
      problems.add(
        'name-unknown',
        sourceOf(line, named),
        unknown('bus', named.first, [...lookup.buses.keys()]),
      );
    group = [];
  }
  return list;
}

function readFeed(
  line: Said,
  backplane: Backplane,
  supplies: ReadonlyMap<string, Supply>,
  problems: Problems,
): Feed | undefined {
  const statement = statementOf(line);
  const from = items(statement, 'from')[0];
  const rail = subjects(statement)[0]?.first ?? '';
  const supply = from && supplies.get(from.first);
  if (supply === undefined) {
    if (from)
      problems.add('name-unknown', sourceOf(line, from), unknown('supply', from.first, [...supplies.keys()]));
    return undefined;
  }
  if (!supply.rails.some((one) => one.name === rail) && !supply.grounds.includes(rail)) {
    const known = [...supply.rails.map((one) => one.name), ...supply.grounds];
    problems.add('name-unknown', sourceOf(line, subjects(statement)[0]), unknown('rail', rail, known));
    return undefined;
  }
  const at: Feed['contacts'][number][] = [];
  // A backplane whose bus is not known is reported once, where the bus is named.
  for (const item of backplane.buses.length === 0 ? [] : items(statement, 'at')) {
    const dot = item.first.indexOf('.');
    const place = dot < 0 ? '' : item.first.slice(0, dot);
    const found =
      backplane.buses.find((one) => one.place === place) ?? (dot < 0 ? backplane.buses[0] : undefined);
    if (found === undefined || (dot < 0 && SLOT_WORDS.test(item.first))) {
      noFeedPlace(item, sourceOf(line, item), rail, backplane, problems);
      continue;
    }
    const label = { ...item, first: item.first.slice(dot + 1) };
    for (const { index } of contacts(line, [label], found.bus.pins.connector, problems)) {
      at.push({ instanceBus: found.bus, contact: index });
    }
    // Slots of another bus on the same backplane have this rail on a contact of the same label.
    for (const { bus } of backplane.buses.filter((one) => one !== found && one.place === found.place)) {
      for (const { index } of contacts(line, [label], bus.pins.connector, new Problems()))
        if (bus.pins.claims[index]?.name === rail) at.push({ instanceBus: bus, contact: index });
    }
  }
  const by = attribute(statement, 'by')?.values ?? [];
  const hardware = by[0]?.kind === 'text' ? by[0].value : undefined;
  const evidence = hardware === undefined ? evidenceOf(statement) : {};
  return { rail, supply, contacts: at, ...optional('hardware', hardware), evidence, source: sourceOf(line) };
}

/** A slot where a contact is meant, as `feed +5V from PSU at slot 1` has it. */
const SLOT_WORDS = /^slots?$/i;

/** A feed enters in all slots of the backplane: a slot before its contact means nothing. */
function noFeedPlace(
  item: Item,
  source: Source,
  rail: string,
  backplane: Backplane,
  problems: Problems,
): void {
  const places = backplane.buses.map(({ place }) => place).filter((place) => place !== '');
  const dot = item.first.indexOf('.');
  const [owner, label] = [item.first.slice(0, Math.max(0, dot)), item.first.slice(dot + 1)];
  if (dot >= 0 && places.length > 0) {
    problems.add('name-unknown', source, unknown('place', owner, places));
    return;
  }
  const [{ bus }] = backplane.buses as [Backplane['buses'][number]];
  const { connector, claims } = bus.pins;
  const own = claims.findIndex((claim) => claim?.name === rail);
  const such = connector.labels[Math.max(0, own)];
  const meant = dot >= 0 && item.last === undefined && connector.indexOf.has(label) ? label : undefined;
  problems.add(
    'contact-unknown',
    source,
    `a feed enters at a contact of the bus, in all its slots: found \`${item.first}\`, expected a contact of ${bus.name} such as \`${meant ?? such}\``,
    meant === undefined ? {} : { fix: { title: `write \`${meant}\``, text: meant, source } },
  );
}

function readLine(line: Said, problems: Problems): LineData {
  const statement = statementOf(line);
  return {
    names: names(line, statement.subject, problems).map(({ name }) => name),
    ...optional('impedance', amount(statement, 'resistance', 'resistance')),
    ...optional('capacitance', amount(statement, 'capacitance per length', 'capacitance per length')),
    ...optional('inductance', amount(statement, 'inductance per length', 'inductance per length')),
    ...optional('delay', amount(statement, 'delay', 'delay')),
    source: sourceOf(line),
  };
}
