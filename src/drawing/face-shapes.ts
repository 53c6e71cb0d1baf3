import type { Connector, InstanceKind } from '../machine/types.ts';

/** Where the contacts of a connector lie on its face. */
export interface Face {
  /** From the first position to the right and from the upper row down, in pitches, seen from the mating side. */
  readonly places: readonly { readonly x: number; readonly y: number }[];
  /** Pitches between two rows. */
  readonly rowDistance: number;
  /** The half that is drawn, and why its rows lie as they do. */
  readonly half: string;
  /** Where the distance of the rows comes from; empty where it is the pitch. */
  readonly rows: string;
}

/** mm between the rows of D-shells (of their usual size) and of DIP sockets of up to 20 pins. From memory. */
const DSHELL_ROWS = 2.84;
const DSHELL_PITCH = 2.77;
const DIP_ROWS = 7.62;
const DIP_PITCH = 2.54;

/**
 * Which way a row runs nobody can write in the language, so it is as common for the half in question: seen from the
 * mating side the first position is at the left, and the first row below, on sockets for cards and on pin headers
 * (notch below); above on a card's own edge, which is the socket's other half, and on D-shells with pins. Common
 * practice, no source.
 */
export function faceOf(connector: Connector, kind: InstanceKind | undefined): Face {
  const { shape, row, position, labels, rows } = connector;
  const above = shape === 'dshell' || kind === 'edge';
  const { distance, says } = distanceOf(connector);
  const places = labels.map((_, i) => ({
    x: position[i]! + (shape === 'dshell' ? row[i]! / 2 : 0),
    y: (above ? row[i]! : rows - 1 - row[i]!) * distance,
  }));
  return { places, rowDistance: distance, half: halfOf(connector, kind), rows: rows > 1 ? says : '' };
}

function distanceOf({ shape, pitch }: Connector): { distance: number; says: string } {
  const mm = pitch === undefined ? undefined : pitch * 1000;
  if (shape === 'dshell')
    return {
      distance: DSHELL_ROWS / (mm ?? DSHELL_PITCH),
      says: 'rows 2.84 mm apart, as usual for D-shells (from memory)',
    };
  if (shape === 'dip')
    return {
      distance: DIP_ROWS / (mm ?? DIP_PITCH),
      says: 'rows 7.62 mm apart, as usual for narrow DIP (from memory)',
    };
  return {
    distance: 1,
    says: shape === 'edge' ? 'how far apart the rows lie is not said: drawn one pitch apart' : '',
  };
}

function halfOf({ shape }: Connector, kind: InstanceKind | undefined): string {
  if (kind === 'edge') return 'the card\u2019s own edge';
  if (kind === 'slot' || shape === 'edge') return 'the socket';
  return shape === 'dip' ? 'the socket' : 'the half with pins';
}
