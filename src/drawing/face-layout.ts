import type { ConnectorPicture, FaceContact } from './connector-picture.ts';
import type { Drawn } from './picture.ts';
import { widthOf } from './svg.ts';

/** From which side, and how large; `1:1` prints life-size. */
export interface FaceLook {
  readonly side: 'mating' | 'wiring';
  readonly scale?: 'reading' | '1:1';
}

/** CSS pixels, by their definition (CSS Values and Units, absolute lengths). */
export const PX_PER_MM = 96 / 25.4;

/** px, at reading size */
const PITCH = 30;
const WIDEST_PITCH = 90;
const LABEL = 9;
const NAME = 11;
const LONGEST = 170;
/** Smaller lettering nobody reads, px. */
const LEAST = 4.2;

export interface FaceLayout {
  /** px between neighbours. */
  readonly pitch: number;
  readonly box: { readonly width: number; readonly height: number };
  /** Middles of the contacts, in px from the left of the picture and the middle of the upper row. */
  readonly at: readonly { readonly x: number; readonly y: number }[];
  /** The middle of the last row. */
  readonly last: number;
  readonly left: number;
  readonly right: number;
  readonly labelSize: number;
  readonly nameSize: number;
  readonly room: number;
  /** Where the name of each contact stands; undefined where it does not fit. */
  readonly names: readonly (NameSpot | undefined)[];
  /** px above the upper and below the last row that names take. */
  readonly above: number;
  readonly below: number;
}

export interface NameSpot {
  readonly up: boolean;
  /** Where the name stands, and where its leader passes the rows that lie before. */
  readonly x: number;
  readonly gap: number;
  readonly inner: boolean;
}

/** Where everything of a face stands. `margin` px are left free at both sides. */
export function faceLayout(picture: Drawn<ConnectorPicture>, look: FaceLook, margin: number): FaceLayout {
  const { contacts } = picture;
  const lifeSize = look.scale === '1:1';
  const longest = Math.max(1, ...contacts.map(({ label }) => [...label].length));
  const wanted = (widthOf('0'.repeat(longest), LABEL) + 3) / 0.7;
  const pitch =
    lifeSize && picture.pitch !== undefined
      ? picture.pitch * PX_PER_MM
      : Math.min(WIDEST_PITCH, Math.max(PITCH, wanted));
  const width = pitch * (lifeSize ? 0.84 : 0.7);
  const box = { width, height: lifeSize ? width * 0.8 : Math.min(15, width) };
  const most = Math.max(0, ...contacts.map(({ x }) => x));
  const left = margin + pitch;
  const at = contacts.map(({ x, y }) => ({
    x: left + (look.side === 'wiring' ? most - x : x) * pitch,
    y: y * pitch,
  }));
  const ys = [...new Set(at.map(({ y }) => y))].sort((a, b) => a - b);
  const labelSize = Math.min(LABEL, (width - 1) / widthOf('0'.repeat(longest), 1));
  const tiers = Math.ceil(ys.length / 2);
  const fitting = Math.min(NAME, (pitch / tiers) * 0.85);
  // At life-size the names of inner rows may have no room; those of the outer rows still do, or none.
  const all = fitting >= LEAST || !lifeSize;
  const nameSize = all ? Math.max(fitting, LEAST) : Math.min(NAME, pitch * 0.85);
  // A kind of connector has no claims: nothing to write.
  const anySaid = contacts.some(({ kind }) => kind !== undefined);
  const names = at.map(({ x, y }) => {
    if (!anySaid) return undefined;
    const row = ys.indexOf(y);
    const up = row < tiers;
    const tier = up ? row : ys.length - 1 - row;
    if (nameSize < LEAST || (tier > 0 && !all)) return undefined;
    const shift = all && tiers > 1 ? (tier / tiers) * pitch : 0;
    const gap = tier === 0 ? 0 : (0.5 + (tier - tiers / 2) * 0.12) * pitch;
    return { up, x: x + shift, gap: x + gap, inner: tier > 0 };
  });
  const room = lifeSize ? LONGEST * 0.7 : LONGEST;
  const reach = (up: boolean): number =>
    Math.max(
      0,
      ...contacts.map((contact, i) =>
        names[i]?.up === up ? Math.min(room, widthOf(nameOf(contact), nameSize)) : 0,
      ),
    ) +
    pitch +
    nameSize * 2;
  return {
    pitch,
    box,
    at,
    last: ys.at(-1) ?? 0,
    left,
    right: left + most * pitch,
    labelSize,
    nameSize,
    room,
    names,
    above: reach(true),
    below: reach(false),
  };
}

/** What is written beside a contact. */
export const nameOf = ({ name, state }: Drawn<FaceContact>): string =>
  state === 'there' ? name : `${name} (${state})`;
