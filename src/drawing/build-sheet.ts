import type { Connector, Instance, Ribbon } from '../machine/types.ts';
import type { DrawnConductor, DrawnEnd } from './ribbon-picture.ts';

/** Contacts that ring with each other, and with no other, when all ends are out of their connectors. */
export interface Buzz {
  /** The conductor; of wires that share a contact, the first. */
  readonly number: number;
  /** In the order of the ends, two at the least. */
  readonly contacts: readonly string[];
}

/** What one needs to make a ribbon or cable anew. */
export interface BuildSheet {
  /** `26-way ribbon, 28 AWG`, its length, each kind of connector with how many of it. */
  readonly parts: readonly string[];
  /** Where each connector goes, and which way round. */
  readonly places: readonly string[];
  /** In conductor order. */
  readonly buzz: readonly Buzz[];
}

export function sheetOf(
  ribbon: Ribbon,
  ends: readonly DrawnEnd[],
  conductors: readonly DrawnConductor[],
): BuildSheet {
  return {
    parts: [stockOf(ribbon, conductors), lengthOf(ribbon), ...connectorsOf(ribbon)],
    places: ribbon.kind === 'ribbon' ? ends.map((end) => placeOfEnd(end, ribbon)) : [],
    buzz: ringing(ribbon, conductors).filter(({ contacts }) => contacts.length > 1),
  };
}

/** Conductors of a ribbon each by itself; wires of a cable that share a contact together, by their first. */
function ringing({ kind }: Ribbon, conductors: readonly DrawnConductor[]): Buzz[] {
  if (kind === 'ribbon') return conductors.map((one) => ({ number: one.number, contacts: probed([one]) }));
  const groupOf = new Map<string, DrawnConductor[]>();
  for (const conductor of conductors) {
    const places = conductor.meets.flatMap((met) => met?.place ?? []);
    const met = new Set(places.flatMap((place) => groupOf.get(place) ?? []));
    const joined = [...met, conductor].sort((a, b) => a.number - b.number);
    for (const { meets } of joined) for (const one of meets) if (one) groupOf.set(one.place, joined);
  }
  return [...new Set(groupOf.values())]
    .map((group) => ({ number: group[0]!.number, contacts: probed(group) }))
    .sort((a, b) => a.number - b.number);
}

/** A pin that is pulled is missing on the board, not at the end that is out; into a hole that is plugged no probe goes. */
const probed = (conductors: readonly DrawnConductor[]): string[] => [
  ...new Set(
    conductors.flatMap(({ meets }) =>
      meets.flatMap((met) => (met === undefined || met.state === 'plugged' ? [] : met.place)),
    ),
  ),
];

function stockOf({ kind, conductors, gauge, rigid }: Ribbon, wires: readonly DrawnConductor[]): string {
  const size = gauge === undefined ? 'gauge not said' : `${gauge} AWG`;
  if (rigid) return `${conductors}-way rigid block, ${size}`;
  return kind === 'ribbon'
    ? `${conductors}-way ribbon, ${size}`
    : `${wires.length} ${wires.length === 1 ? 'wire' : 'wires'}, ${size}`;
}

const lengthOf = ({ length }: Ribbon): string =>
  length === undefined ? 'length not said' : `length ${millimetres(length * 1000)}`;

const millimetres = (mm: number): string => `${Number(mm.toPrecision(4))} mm`;

/** Connectors by what they are, those alike together; what sits on a ribbon is the other half of what is on the board. */
function connectorsOf({ ends }: Ribbon): string[] {
  const kinds = new Map<string, Instance[]>();
  for (const { instance } of ends) {
    if (instance === undefined) continue;
    const kind = describe(instance.pins.connector);
    kinds.set(kind, [...(kinds.get(kind) ?? []), instance]);
  }
  const unknown = ends.filter(({ instance }) => instance === undefined).length;
  return [
    ...[...kinds].map(
      ([kind, all]) => `${all.length} x mate of ${kind}, for ${all.map(({ path }) => path).join(', ')}`,
    ),
    ...(unknown > 0 ? [`${unknown} x connector that nobody has described`] : []),
  ];
}

function describe({ name, shape, rows, positions, labels, pitch, shroud }: Connector): string {
  const size =
    shape === 'header' || shape === 'edge' || shape === 'din' ? `${rows} x ${positions}` : labels.length;
  const apart = pitch === undefined ? 'pitch not said' : `pitch ${millimetres(pitch * 1000)}`;
  const wall = shroud === undefined ? '' : shroud === 'notch' ? ', shroud with notch' : ', shroud';
  return `${shape} ${size} (${name}), ${apart}${wall}`;
}

function placeOfEnd(
  { place, stripe, bump, unplugged, along, turned, known }: DrawnEnd,
  { rigid }: Ribbon,
): string {
  if (!known) return `${place}: nobody knows where this end belongs`;
  const facts = [
    along === undefined ? '' : `at ${millimetres(along)}`,
    rigid ? '' : stripe === undefined ? 'stripe not said' : `stripe at ${stripe}${turned ? ', turned' : ''}`,
    bump ? 'with bump' : '',
    unplugged ? 'found unplugged' : '',
  ].filter((fact) => fact !== '');
  return `${place}: ${facts.join(', ')}`;
}
