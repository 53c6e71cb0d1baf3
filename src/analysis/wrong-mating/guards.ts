import { keeping } from '../../machine/keep.ts';
import type { Connector, PinMap } from '../../machine/types.ts';
import { along, landing, type Way } from './ways.ts';

/** What keeps a plug from going in a wrong way. */
export type Guard = 'guides' | 'walls' | 'shroud' | 'notch' | 'key' | 'plugged contact' | 'stripe';

/** Whether a wrong way is kept from happening. `unsaid`: only if the half that nobody says is there. */
export interface Verdict {
  readonly state: 'open' | 'unsaid' | 'prevented';
  /** What prevents it, or would if both of its halves were said. */
  readonly by: readonly Guard[];
}

/** What is said of a plug and the socket it is meant for, as far as it keeps wrong ways out. */
export interface Halves {
  /** The plug's own table: that of a board's edge, or of the port that a ribbon's end belongs to. */
  readonly plug: PinMap;
  /** The socket that it belongs to; undefined for a loose board. */
  readonly home: PinMap | undefined;
  readonly socket: PinMap;
  /** Whether the plug is made for the socket: it belongs there, or to a slot of the same bus. */
  readonly own: boolean;
  /** Whether card guides hold the board there. */
  readonly guides: boolean;
  /** Whether the plug is said to have a bump. */
  readonly bump: boolean;
}

const OPEN: Verdict = { state: 'open', by: [] };

/** Whether these halves let a plug in this way. The straight way is judged too: into a wrong place it may be kept out. */
export function verdictOn(halves: Halves, way: Way): Verdict {
  const full: Guard[] = [];
  const half: Guard[] = [];
  for (const [guard, said] of guardsOn(halves, way)) (said ? full : half).push(guard);
  if (full.length > 0) return { state: 'prevented', by: full };
  return half.length > 0 ? { state: 'unsaid', by: half } : OPEN;
}

/** Guards of the body itself: what they keep out needs no key. */
const BODY: ReadonlySet<Guard> = new Set(['walls', 'shroud', 'notch']);

/**
 * What is left to keys in a way: `none` where the body keeps it out, else whether a key does, were both of its halves said.
 * Guides wear, and do not count.
 */
export function leftToKeys(halves: Halves, way: Way): 'none' | 'kept out' | 'let in' {
  const guards = [...guardsOn(halves, way)];
  if (guards.some(([guard, said]) => said && BODY.has(guard))) return 'none';
  const isKey = ([guard]: readonly [Guard, boolean]): boolean =>
    guard === 'key' || guard === 'plugged contact';
  return guards.some(isKey) ? 'kept out' : 'let in';
}

/** Each guard that stands in the way, with whether both of its halves are said. */
function* guardsOn(halves: Halves, way: Way): Iterable<readonly [Guard, boolean]> {
  const { plug, socket, guides } = halves;
  const { shape } = plug.connector;
  const moved = way.turned || Math.abs(way.shift) >= 1;
  if (shape === 'edge') {
    // Guides hold a board in its place along the socket, and on its own side; worn ones let it skew by half a pitch.
    if (guides && moved) yield ['guides', true];
    if (overhangs(plug.connector, socket.connector, way) && socket.ends !== 'open')
      yield ['walls', socket.ends === 'closed'];
    const key = keyStands(halves, way);
    if (key !== undefined) yield ['key', key];
    return;
  }
  if (socket.shroud !== undefined && (way.over !== 0 || overhangs(plug.connector, socket.connector, way)))
    yield ['shroud', true];
  const notch = notchStands(halves, way);
  if (notch !== undefined) yield ['notch', notch];
  const key = shape === 'row' ? keyStands(halves, way) : undefined;
  if (key !== undefined) yield ['key', key];
  const plugged = pinStands(halves, way);
  if (plugged !== undefined) yield ['plugged contact', plugged];
}

/**
 * Whether bump and notch keep a plug out: true where both are said, false where one of them is, undefined where it could go in.
 * Both are in the middle of one long side (common practice for 2.54 mm box headers; the published outlines that tests hold it
 * to name their sources), so a shorter plug fits in the middle of a longer wall only.
 */
function notchStands({ plug, socket, bump }: Halves, way: Way): boolean | undefined {
  const middle = way.shift * 2 === socket.connector.positions - plug.connector.positions;
  if (way.over === 0 && !way.turned && middle) return undefined;
  if (socket.shroud === 'notch') return bump;
  // Without a wall in the text a bump tells of one, but only of what walls alone do not prevent.
  const within = way.over === 0 && !overhangs(plug.connector, socket.connector, way);
  return bump && socket.shroud === undefined && way.turned && within ? false : undefined;
}

/** Whether the plug would reach past an end of the socket. */
function overhangs(plug: Connector, socket: Connector, way: Way): boolean {
  return way.shift < 0 || way.shift + plug.positions > socket.positions;
}

/** Places of keys along a connector, from 0: a key between the first two positions is at 0.5. */
const keyPlaces = keeping(({ connector, keys }: PinMap): readonly number[] => [
  ...new Set(keys.map(([a, b]) => (connector.position[a]! + connector.position[b]!) / 2)),
]);

/**
 * Whether a key of the socket stands where the tongue has no slot for it: true where both halves are said, false where that is
 * so only if the unsaid half is as the other one; undefined where none stands.
 */
function keyStands({ plug, home, socket, own }: Halves, way: Way): boolean | undefined {
  const cut = keyPlaces(plug);
  const atHome = home === undefined ? [] : keyPlaces(home);
  const keys = keyPlaces(socket);
  // A board that goes into its own slot has a slot for each key there; where it says none, or not all, that half is unsaid.
  const tongueSaid = cut.length > 0 && atHome.every((key) => cut.includes(key));
  const slots = [...cut, ...(tongueSaid ? [] : atHome)].map((one) => along(plug.connector, way, one));
  const stands = (key: number): boolean =>
    key > way.shift && key < way.shift + plug.connector.positions - 1 && !slots.includes(key);
  if (keys.length === 0) {
    // A slot in the tongue tells of a key in the socket that it was made for, which nobody says.
    return own && cut.some(stands) ? false : undefined;
  }
  return keys.some(stands) ? tongueSaid : undefined;
}

/** The same of a plugged hole that would land on a pin. */
function pinStands({ plug, home, socket, own }: Halves, way: Way): boolean | undefined {
  const holes = plug.plugged;
  const missing = home?.pulled ?? new Set<number>();
  if (holes.size === 0 && missing.size === 0) return undefined;
  const holesSaid = holes.size > 0;
  const pinsSaid = [...holes].every((hole) => missing.has(hole));
  const gone = own && !pinsSaid ? new Set([...socket.pulled, ...holes]) : socket.pulled;
  for (const hole of holesSaid ? holes : missing) {
    const pin = landing(plug.connector, socket.connector, way, hole);
    if (pin >= 0 && !gone.has(pin)) return holesSaid && pinsSaid;
  }
  return undefined;
}
