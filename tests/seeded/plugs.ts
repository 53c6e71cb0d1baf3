import type { Connector, Instance, Ribbon } from '../../src/machine/types.ts';
import { type Edit, type Example, type Placed, type Seed, statementAt, without } from './example.ts';
import { takenOut } from './mating-guards.ts';
import { contactsOf, seed } from './places.ts';
import { voltsOf } from './rail-places.ts';

export interface End {
  readonly ribbon: Ribbon;
  readonly instance: Instance;
  readonly line: Placed;
}

export function* endsOf(example: Example): Iterable<End> {
  for (const ribbon of example.machine.ribbons)
    for (const { instance, source } of ribbon.ends)
      if (instance) yield { ribbon, instance, line: statementAt(example, source) };
}

/** Connectors with pins on which plugs could sit wrong, with the ends that are plugged into them. */
export function headers(example: Example): { connector: Connector; ends: End[] }[] {
  const found = new Map<Connector, End[]>();
  for (const end of endsOf(example)) {
    const { connector } = end.instance.pins;
    if (connector.shape !== 'header' && connector.shape !== 'row') continue;
    found.set(connector, [...(found.get(connector) ?? []), end]);
  }
  return [...found].map(([connector, ends]) => ({ connector, ends }));
}

/** Bumps gone from the plugs of ribbons. */
export const bumpless = (ends: readonly End[]): Edit[] => ends.flatMap(({ line }) => without(line, 'bump'));

/** All that keeps plugs straight gone: bare pins. */
export const bared = (example: Example, connector: Connector, ends: readonly End[]): Edit[] => [
  ...takenOut(example, connector, 'shroud', 'bump', 'pulled', 'plugged', 'key'),
  ...bumpless(ends),
];

/** Whether ground or a rail on the wrong contact strains anything there: a rail, or an output that drives both ways. */
export function isTouchy(ribbon: Ribbon): boolean {
  const its = ribbon.ends.flatMap(({ instance }) => instance ?? []);
  const names = new Set(its.flatMap(({ pins }) => pins.claims.map((claim) => claim?.name)));
  return its.some(
    ({ pins, board }) =>
      contactsOf(pins, 'rail').size > 0 ||
      board?.card.uses.some(
        ({ kind, name }) => (kind === 'drives' || kind === 'transceives') && names.has(name),
      ) === true,
  );
}

/** One seed for each ribbon with an end in these connectors. */
export function* byRibbon(
  example: Example,
  wanted: (ribbon: Ribbon) => boolean,
  edits: (connector: Connector, ends: readonly End[]) => Edit[],
): Iterable<Seed> {
  for (const { connector, ends } of headers(example))
    for (const ribbon of new Set(ends.map((end) => end.ribbon)))
      if (wanted(ribbon))
        yield* seed(`${ribbon.name} on ${connector.name}`, edits(connector, ends), ribbon.name);
}
/** The rail of any supply that does logic the most harm. */
export const worstOfAll = ({ machine }: Example): string =>
  machine.supplies
    .flatMap(({ rails }) => rails.map(({ name }) => name))
    .sort((a, b) => Math.abs(voltsOf(machine, b)) - Math.abs(voltsOf(machine, a)))[0]!;

/** Connectors that ribbons or cables are plugged into, of any shape, with their ends. */
export function portsInUse(example: Example): Map<Connector, End[]> {
  const found = new Map<Connector, End[]>();
  for (const end of endsOf(example)) {
    const { connector } = end.instance.pins;
    found.set(connector, [...(found.get(connector) ?? []), end]);
  }
  return found;
}

/** What of power a port has at a contact. */
export const powerAt =
  ({ claims }: Instance['pins']) =>
  (contact: number): string => {
    const claim = claims[contact];
    if (claim?.kind === 'ground') return 'GND';
    return claim?.kind === 'rail' ? claim.name : 'spare';
  };

/** A supply of its own with a port of this kind, contact by contact. */
export const supplyWith = (
  { machine }: Example,
  { labels, name }: Connector,
  isAt: (contact: number) => string,
): string[] => {
  const what = labels.map((_, contact) => isAt(contact));
  const rails = [...new Set(what)].filter((one) => one !== 'GND' && one !== 'spare');
  return [
    'supply SPARE {',
    ...rails.map((rail) => `rail ${rail} ${voltsOf(machine, rail)} V max 3 A by manual`),
    'ground GND',
    `port P1 on ${name} {`,
    ...labels.map((label, contact) => `${label} = ${what[contact]} by manual`),
    '}',
    '}',
  ];
};

/** The rail of the other sign that is farthest from 0 V. */
export function opposite({ machine }: Example, volts: number): string | undefined {
  return machine.supplies
    .flatMap(({ rails }) => rails.map(({ name }) => name))
    .filter((name) => voltsOf(machine, name) * volts < 0)
    .sort((a, b) => Math.abs(voltsOf(machine, b)) - Math.abs(voltsOf(machine, a)))[0];
}
