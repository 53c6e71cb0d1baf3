import type { Item } from '../language/tree.ts';
import { attribute, has, items, said as saidText, subjects } from '../language/tree.ts';
import { optional } from './connectors.ts';
import { isAbsent } from './copper.ts';
import {
  amount,
  contacts,
  evidenceOf,
  inside,
  type Problems,
  type Said,
  sourceOf,
  statementOf,
} from './scope.ts';
import type { Instance, Ribbon, RibbonEnd, Wire } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Finds the instance that a place in the text names, and reports where there is none. */
export type FindInstance = (path: string, said: Said, item: Item) => Instance | undefined;

/** More conductors than any ribbon has. */
const WIDEST = 1000;

export function buildRibbon(said: Said, wiring: Wiring, find: FindInstance, problems: Problems): Ribbon {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const way = attribute(statement, 'way')?.values[0];
  let count = way?.kind === 'word' ? Number(way.text) : 0;
  if (count > WIDEST) {
    problems.add(
      'range-mismatch',
      sourceOf(said),
      `a ribbon has at most ${WIDEST} conductors; ${name} has ${count}`,
    );
    count = WIDEST;
  }
  const base = wiring.nodeCount;
  for (let k = 1; k <= count; k++) wiring.node(`${name} conductor ${k}`);
  const ends: RibbonEnd[] = [];
  // Which conductor lies in each place across the ribbon; twists change it from there on.
  let order = Array.from({ length: count }, (_, k) => k);
  for (const line of inside(said)) {
    const { form } = statementOf(line);
    if (form === 'twist') order = twisted(line, order, problems);
    else if (form === 'end') ends.push(readEnd(line, name, order, base, wiring, find, problems));
  }
  return {
    name,
    kind: 'ribbon',
    conductors: count,
    ...optional('gauge', amount(statement, 'gauge', 'gauge')),
    ...optional('length', amount(statement, 'length', 'length') ?? lastEnd(ends)),
    ...optional('impedance', amount(statement, 'resistance', 'resistance')),
    rigid: has(statement, 'rigid'),
    ends,
    wires: [],
    base,
    source: sourceOf(said),
  };
}

const lastEnd = (ends: readonly RibbonEnd[]): number | undefined =>
  ends.reduce<number | undefined>(
    (far, end) => (end.along === undefined ? far : Math.max(far ?? 0, end.along)),
    undefined,
  );

/** Conductor numbers of a list such as `10..16`, from 0. */
function conductorsOf(line: Said, values: readonly Item[], count: number, problems: Problems): number[] {
  const list: number[] = [];
  // A ribbon whose heading does not say how many it has was reported there.
  for (const item of count === 0 ? [] : values) {
    const [from, to] = [Number(item.first), Number(item.last ?? item.first)];
    if (!(from >= 1 && to >= 1 && from <= count && to <= count)) {
      problems.add(
        'range-mismatch',
        sourceOf(line, item),
        `conductors are numbered 1 to ${count} from the stripe`,
      );
      continue;
    }
    const step = (item.step || 1) * (from <= to ? 1 : -1);
    for (let k = from; step > 0 ? k <= to : k >= to; k += step) list.push(k - 1);
  }
  return list;
}

function twisted(line: Said, order: readonly number[], problems: Problems): number[] {
  const places = conductorsOf(line, subjects(statementOf(line)), order.length, problems);
  const next = [...order];
  places.forEach((place, i) => {
    next[place] = order[places[places.length - 1 - i]!]!;
  });
  return next;
}

function readEnd(
  line: Said,
  ribbon: string,
  order: readonly number[],
  base: number,
  wiring: Wiring,
  find: FindInstance,
  problems: Problems,
): RibbonEnd {
  const statement = statementOf(line);
  const item = subjects(statement)[0];
  const instance = item && find(item.first, line, item);
  const stripe = items(statement, 'stripe')[0];
  const met = new Int32Array(order.length).fill(-1);
  const crimped = met.slice();
  const unplugged = has(statement, 'found');
  let turned = false;
  if (instance !== undefined) {
    const across = conductorOrder(instance, line, problems);
    turned = isTurned(line, stripe, across, instance, problems);
    const listed = has(statement, 'conductors');
    const taken = listed
      ? conductorsOf(line, items(statement, 'conductors'), order.length, problems)
      : order.map((_, place) => place);
    // A 25-way ribbon in a 26-way header, say: where the conductors are listed, the last contacts stay empty. Where either
    // has none, that was reported where it is described.
    const most = Math.min(across.length, taken.length);
    if (most > 0 && across.length !== taken.length && !(listed && taken.length < across.length)) {
      const which = `conductors ${most > 1 ? `1..${most}` : '1'}`;
      problems.add(
        'range-mismatch',
        sourceOf(line),
        `${instance.path} has ${across.length} contacts, but ${taken.length} conductors of ${ribbon} end there; say which with \`${which}\``,
      );
    }
    const cause = wiring.joins.because('ribbon', sourceOf(line), evidenceOf(statement));
    taken.slice(0, across.length).forEach((place, i) => {
      const index = across[turned ? across.length - 1 - i : i]!;
      const contact = instance.base + index;
      const conductor = order[place]!;
      crimped[conductor] = contact;
      if (isAbsent(instance.pins, index)) return;
      met[conductor] = contact;
      // An unplugged end meets nothing; it is still known where it belongs.
      if (!unplugged) wiring.joins.join(base + conductor, contact, cause);
    });
    instance.plugs.push({ name: ribbon, unplugged });
  }
  return {
    ...optional('instance', instance),
    place: item?.first ?? saidText(statement, 'text') ?? 'unknown',
    contacts: met,
    crimped,
    order,
    ...optional('stripe', stripe?.first),
    turned,
    bump: has(statement, 'bump'),
    unplugged,
    ...optional('along', amount(statement, 'along', 'length')),
    source: sourceOf(line),
  };
}

function conductorOrder(instance: Instance, line: Said, problems: Problems): readonly number[] {
  const { connector } = instance.pins;
  if (connector.conductors !== undefined) return connector.conductors;
  problems.add(
    'attribute-missing',
    sourceOf(line),
    `a connector with ${connector.rows} rows can be crimped in more than one order; say it in connector ${connector.name} with \`conductors\``,
  );
  return connector.labels.map((_, i) => i);
}

/** The stripe is conductor 1: it meets the first or the last contact. */
function isTurned(
  line: Said,
  stripe: Item | undefined,
  across: readonly number[],
  instance: Instance,
  problems: Problems,
): boolean {
  if (stripe === undefined) return false;
  const { connector } = instance.pins;
  const [first, last] = [connector.labels[across[0]!], connector.labels[across.at(-1)!]];
  if (stripe.first === first) return false;
  if (stripe.first === last) return true;
  problems.add(
    'contact-unknown',
    sourceOf(line, stripe),
    `the stripe of a ribbon meets contact \`${first}\` or \`${last}\` of ${instance.path}, not \`${stripe.first}\``,
  );
  return false;
}

/** A cable of loose wires: each wire joins two contacts. */
export function buildCable(said: Said, wiring: Wiring, find: FindInstance, problems: Problems): Ribbon {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const ends = new Map<Instance, RibbonEnd>();
  const wires: Wire[] = [];
  for (const line of inside(said)) {
    const from = placesOf(line, subjects(statementOf(line)), find, problems);
    const to = placesOf(line, items(statementOf(line), 'is'), find, problems);
    if (from.length !== to.length && from.length > 0 && to.length > 0) {
      problems.add(
        'range-mismatch',
        sourceOf(line),
        `${from.length} contacts left of \`=\`, but ${to.length} on the other side; they pair off one to one`,
      );
    }
    const cause = wiring.joins.because('cable', sourceOf(line), evidenceOf(statementOf(line)));
    from.slice(0, to.length).forEach((a, i) => {
      const b = to[i]!;
      const wire = {
        a: a.instance.base + a.contact,
        b: b.instance.base + b.contact,
        source: sourceOf(line),
      };
      wires.push(wire);
      if (![a, b].some(({ instance, contact }) => isAbsent(instance.pins, contact)))
        wiring.joins.join(wire.a, wire.b, cause);
      for (const { instance } of [a, b])
        if (!ends.has(instance)) ends.set(instance, cableEnd(instance, line));
    });
  }
  for (const instance of ends.keys()) instance.plugs.push({ name, unplugged: false });
  return {
    name,
    kind: 'cable',
    conductors: 0,
    ...optional('gauge', amount(statement, 'gauge', 'gauge')),
    ...optional('length', amount(statement, 'length', 'length')),
    rigid: false,
    ends: [...ends.values()],
    wires,
    base: -1,
    source: sourceOf(said),
  };
}

const cableEnd = (instance: Instance, line: Said): RibbonEnd => ({
  instance,
  place: instance.path,
  contacts: new Int32Array(0),
  crimped: new Int32Array(0),
  order: [],
  turned: false,
  bump: false,
  unplugged: false,
  source: sourceOf(line),
});

function placesOf(
  line: Said,
  list: readonly Item[],
  find: FindInstance,
  problems: Problems,
): { instance: Instance; contact: number }[] {
  const places: { instance: Instance; contact: number }[] = [];
  for (const item of list) {
    const dot = item.first.lastIndexOf('.');
    const instance = find(dot < 0 ? item.first : item.first.slice(0, dot), line, item);
    if (instance === undefined) continue;
    const label = { ...item, first: item.first.slice(dot + 1) };
    for (const { index } of contacts(line, [label], instance.pins.connector, problems))
      places.push({ instance, contact: index });
  }
  return places;
}
