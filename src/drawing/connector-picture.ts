import { type Hazard, hazardsOf } from '../analysis/neighbours.ts';
import { spokenAmount, spokenClaim } from '../checks/explain.ts';
import type { View } from '../checks/types.ts';
import type { Connector, Instance, PinMap, Shape } from '../machine/types.ts';
import { joinedAt, netNumbers, spotOf } from './drawn-bus.ts';
import { faceOf } from './face-shapes.ts';
import type { ContactOrigin, Spot } from './picture.ts';
import { type Told, toldOf } from './told.ts';

/** A contact in its place: from the first position to the right and from the upper row down, in pitches, from the mating side. */
export interface FaceContact extends Told {
  readonly x: number;
  readonly y: number;
  /** Contacts with one number are on one net; undefined on a kind of connector, which is in no machine. */
  readonly net?: number;
  readonly origin?: ContactOrigin;
}

/** Two neighbours, by index, where one slip of the probe does harm. */
export interface FaceHazard {
  readonly a: number;
  readonly b: number;
  /** `3 +12V beside 4 D0: 12 V, up to 3 A; kills what hangs on the line` */
  readonly says: string;
}

/** One connector face as it is drawn. Plain data; the side it is seen from is chosen when it is drawn. */
export interface ConnectorPicture {
  readonly title: string;
  /** `CAGE.3`, or the connector's own name where a kind is drawn. */
  readonly of: string;
  /** What sits in the slot; empty where nothing does, or where it is no slot. */
  readonly board: string;
  readonly connector: string;
  readonly shape: Shape;
  readonly rows: number;
  readonly positions: number;
  /** mm; undefined where nobody says it: then the drawing is not to scale. */
  readonly pitch?: number;
  readonly half: string;
  /** Where the distance of the rows comes from; empty where it is the pitch. */
  readonly rowsSay: string;
  readonly contacts: readonly FaceContact[];
  /** Pairs of contacts with a key between them, by index. */
  readonly keys: readonly (readonly [number, number])[];
  readonly hazards: readonly FaceHazard[];
  readonly shroud?: 'plain' | 'notch';
  readonly bump: boolean;
  readonly ends?: 'open' | 'closed';
  readonly spot: Spot;
}

/** All that can be drawn: every connector in the machine by its path, then the kinds by their names. */
export const facesOf = ({ machine }: View): string[] => [
  ...machine.instances.map(({ path }) => path),
  ...machine.connectors.map(({ name }) => name),
];

/** A connector by its path (`CAGE.3`, `CPU.J2`, `CPU.edge`), or a kind of connector by its name. */
export function connectorPicture(view: View, of: string): ConnectorPicture | undefined {
  const { machine } = view;
  const instance = machine.instances.find(({ path }) => path === of);
  if (instance) return pictureOf(view, of, instance.pins, instance);
  const kind = machine.connectors.find(({ name }) => name === of);
  return kind && pictureOf(view, of, mapOf(kind));
}

/** The map of a kind of connector: nothing is said of its contacts. */
export const mapOf = (connector: Connector): PinMap => {
  const { keys, pulled, plugged, ends, shroud, bump } = connector;
  const claims = connector.labels.map(() => undefined);
  const walls = { ...(ends ? { ends } : {}), ...(shroud ? { shroud } : {}), bump };
  return { connector, claims, own: claims, keys, pulled, plugged, ...walls };
};

function pictureOf(view: View, of: string, pins: PinMap, instance?: Instance): ConnectorPicture {
  const { machine } = view;
  const { connector } = pins;
  const numbered = netNumbers();
  const { name, shape, rows, positions, pitch } = connector;
  const { shroud, ends, bump } = pins;
  const { places, half, rows: rowsSay } = faceOf(connector, instance?.kind);
  return {
    title: machine.title,
    of,
    board: instance?.slot?.board?.name ?? '',
    connector: name,
    shape,
    rows,
    positions,
    ...(pitch === undefined ? {} : { pitch: pitch * 1000 }),
    half,
    rowsSay,
    contacts: places.map((place, i) => ({
      ...toldOf(pins, i),
      ...place,
      ...(instance ? joinedAt(view, instance.base + i, numbered) : {}),
    })),
    keys: pins.keys,
    hazards: hazardsOf(machine, pins).map((hazard) => ({
      a: hazard.rail,
      b: hazard.other,
      says: spokenHazard(pins, hazard),
    })),
    ...(shroud ? { shroud } : {}),
    bump,
    ...(ends ? { ends } : {}),
    spot: spotOf(instance?.port.source ?? connector.source),
  };
}

const DOES = {
  logic: 'kills what hangs on the line',
  rails: 'joins two rails',
  ground: 'shorts the rail',
} as const;

function spokenHazard({ connector, claims }: PinMap, { rail, other, volts, amps, slip }: Hazard): string {
  const [one, two] = [rail, other].map((i) => `${connector.labels[i]} ${spokenClaim(claims[i]!)}`);
  const current = amps === undefined ? '' : `, up to ${spokenAmount(amps, 'A')}`;
  return `${one} beside ${two}: ${spokenAmount(volts, 'V')}${current}; ${DOES[slip]}`;
}
