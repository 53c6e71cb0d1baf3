import type { Meeting } from '../analysis/wrong-mating/bench.ts';
import type { Case } from '../analysis/wrong-mating/cases.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import type { Plug, PlugPart } from '../analysis/wrong-mating/plugs.ts';
import type { Met, Trace } from '../analysis/wrong-mating/traces.ts';
import { along, isStraight, rowOf, STRAIGHT } from '../analysis/wrong-mating/ways.ts';
import { spokenPlug } from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import { isAbsent } from '../machine/copper.ts';
import type { PinMap } from '../machine/types.ts';
import { netNumbers, spotOf } from './drawn-bus.ts';
import type { ContactOrigin, Spot } from './picture.ts';
import { type Told, toldOf } from './told.ts';

/** A contact of a plug or a socket. */
export interface MateContact extends Told {
  /** Line that it lies on, from 0; half a line where a plug is skewed. */
  readonly line: number;
  /** Contacts with one number are on one net while the plug sits so. */
  readonly net: number;
  readonly origin: ContactOrigin;
}

/** Two contacts that meet, by index. */
export interface Meet {
  readonly plug: number;
  readonly socket: number;
  /** `blocked`: a plugged hole stands on a pin there. */
  readonly state: 'meets' | 'blocked';
  /** Nobody can judge what they do to each other, and nothing is known that happens there anyhow. */
  readonly unknown: boolean;
  /** The worst that happens on its net, by its index among the harms. */
  readonly harm?: number;
  /** What is done to something here, by index: the first few, and how many more. */
  readonly tells: readonly number[];
  readonly more: number;
}

/** A key of the socket, or a slot for one in the plug, across a line between two contacts. */
export interface DrawnKey {
  readonly line: number;
  /** `9 10` */
  readonly between: string;
  /** No slot of the plug lies over this key. */
  readonly stands: boolean;
}

/** One connector of a plug on the socket that it is put on. */
export interface DrawnMate {
  /** `CPU.edge`, `W1 at GAUGE.J1` */
  readonly plug: string;
  /** `CAGE.1` */
  readonly socket: string;
  /** The kind of connector of each. */
  readonly kinds: readonly [string, string];
  readonly lines: number;
  readonly plugContacts: readonly MateContact[];
  readonly socketContacts: readonly MateContact[];
  readonly meets: readonly Meet[];
  readonly keys: readonly DrawnKey[];
  readonly slots: readonly DrawnKey[];
  /** Where the plug and the socket are described. */
  readonly origin: { readonly spots: readonly [Spot, Spot] };
}

/** A net while the plug sits so. */
type Joined = (node: number) => number;

/** A harm, and the contacts through which it comes about. */
export interface Routed {
  readonly harm: Harm;
  readonly route: readonly Met[];
}

/** Each connector of the plug in a case, with what its contacts meet. */
export function matesOf(
  view: View,
  one: Case,
  harms: readonly Routed[],
  { joined, isUnknown }: { readonly joined: Joined } & Pick<Trace, 'isUnknown'>,
): DrawnMate[] {
  const numbered = netNumbers();
  const through = { numbered: (node: number) => numbered(joined(node)), isUnknown };
  return one.meetings.map((meeting) => mateOf(view, one, meeting, harms, through));
}

/** What the contacts of a case join. */
interface Through extends Pick<Trace, 'isUnknown'> {
  readonly numbered: Joined;
}

function mateOf(
  view: View,
  one: Case,
  meeting: Meeting,
  harms: readonly Routed[],
  through: Through,
): DrawnMate {
  const { numbered } = through;
  const { part, socket, pairs } = meeting;
  const lines = linesOf(one, meeting);
  const plugContacts = part.pins.connector.labels.map((_, i): MateContact => {
    const { told, contact } = carried(view, one, part, i);
    const node = part.copper[i]!;
    return {
      ...told,
      line: lines.plug[i]!,
      net: node < 0 ? NOTHING : numbered(node),
      origin: { contact },
    };
  });
  const socketContacts = socket.pins.connector.labels.map((_, i): MateContact => {
    const contact = socket.base + i;
    const state = socket.pins.pulled.has(i) || (socket.kind === 'slot' && isAbsent(socket.pins, i));
    return {
      ...toldOf(socket.pins, i),
      state: state ? 'pulled' : 'there',
      line: lines.socket[i]!,
      net: numbered(contact),
      origin: { contact },
    };
  });
  const meets: Meet[] = [];
  for (let k = 0; k < pairs.length; k += 2) {
    const [plug, other] = [pairs[k]!, pairs[k + 1]!];
    const [a, b] = [plugContacts[plug]!, socketContacts[other]!];
    if (a.state === 'pulled' || b.state === 'pulled') continue;
    if (a.state === 'plugged') meets.push({ plug, socket: other, state: 'blocked', ...TELLS_NOTHING });
    else if (a.net >= 0)
      meets.push({
        plug,
        socket: other,
        state: 'meets',
        ...harmAt(view, meeting, [plug, other], harms, through),
      });
  }
  return {
    plug: part.edge ? part.edge.path : spokenPlug(one),
    socket: socket.path,
    kinds: [part.pins.connector.name, socket.pins.connector.name],
    lines: lines.count,
    plugContacts,
    socketContacts,
    meets,
    ...keysOf(one, meeting, lines),
    origin: { spots: [plugSpot(one.plug), spotOf((socket.slot ?? socket.port).source)] },
  };
}

/** So much is told of one meeting. */
const FEW = 3;
const TELLS_NOTHING = { unknown: false, tells: [], more: 0 } as const;

/** Number of a contact that carries nothing. */
const NOTHING = -1;

const NO_CONDUCTOR: Told = {
  label: '',
  name: 'nothing',
  kind: undefined,
  evidence: undefined,
  known: 'not said',
  state: 'there',
  spot: undefined,
};

const plugSpot = ({ board, ribbon, end }: Plug): Spot =>
  spotOf(board ? board.source : ribbon!.ends[end!]!.source);

/** A pin that is missing at home is in the header there; what is blocked is a hole of the plug. */
function stateOf({ kind }: Plug, { pins }: PlugPart, index: number): Told['state'] {
  if (pins.plugged.has(index)) return 'plugged';
  return kind === 'board' && pins.pulled.has(index) ? 'pulled' : 'there';
}

/** The contact elsewhere that a contact of a ribbon or cable leads to, by node; −1 where it leads nowhere known. */
function farEnd({ ribbon, end }: Plug, { copper, home }: PlugPart, index: number): number {
  const { kind, base, ends, wires } = ribbon!;
  if (kind === 'cable') {
    const own = home!.base + index;
    const wire = wires.find(({ a, b }) => a === own || b === own);
    return wire === undefined ? NOTHING : wire.a === own ? wire.b : wire.a;
  }
  const conductor = copper[index]! - base;
  const others = ends.filter(({ unplugged }, e) => e !== end && !unplugged);
  return others.map(({ crimped }) => crimped[conductor] ?? NOTHING).find((one) => one >= 0) ?? NOTHING;
}

/** A contact of a plug with what its copper carries: a ribbon brings what it is plugged into elsewhere, whatever its own place says. */
function carried(view: View, { plug }: Case, part: PlugPart, index: number): { told: Told; contact: number } {
  const own = (part.edge ?? part.home!).base + index;
  const label = part.pins.connector.labels[index]!;
  const state = stateOf(plug, part, index);
  const here = { told: { ...toldOf(part.pins, index), state }, contact: own };
  if (plug.kind === 'board' || state === 'plugged') return here;
  if (part.copper[index]! < 0) return { told: { ...NO_CONDUCTOR, label, state }, contact: own };
  const far = farEnd(plug, part, index);
  if (far < 0) return here;
  const { pins, base } = view.nets.instanceOf(far);
  return { told: { ...toldOf(pins, far - base), label, state }, contact: far };
}

/** The worst that happens on the net of two contacts that meet, unless they belong together, and what is done to something here. */
function harmAt(
  { machine }: View,
  { part, socket }: Meeting,
  [plug, other]: readonly [number, number],
  harms: readonly Routed[],
  { numbered, isUnknown }: Through,
): Pick<Meet, 'unknown' | 'harm' | 'tells' | 'more'> {
  const [node, contact] = [part.copper[plug]!, socket.base + other];
  const own = node < machine.nodeCount ? node : part.home!.base + plug;
  const isDoubtful = isUnknown(node, contact);
  if (machine.nets.of[own] === machine.nets.of[contact]) return { ...TELLS_NOTHING, unknown: isDoubtful };
  const net = numbered(node);
  const found = harms.flatMap(({ harm: { contacts } }, i) =>
    contacts[0] >= 0 && numbered(contacts[0]) === net ? [i] : [],
  );
  // Of several contacts in a row, the last ones touch what suffers.
  const tells = found.filter((i) => {
    const last = harms[i]!.route.at(-1);
    return last?.[0] === node && last[1] === contact;
  });
  const worst = found[0] === undefined ? undefined : harms[found[0]]!.harm.kind;
  const unknown = isDoubtful && (worst === undefined || RANKS[worst] > RANKS['ground-on-output']);
  const told = { unknown, tells: tells.slice(0, FEW), more: Math.max(0, tells.length - FEW) };
  return found.length === 0 ? told : { harm: found[0]!, ...told };
}

interface Lines {
  readonly count: number;
  readonly plug: readonly number[];
  readonly socket: readonly number[];
  /** Line of a row and position of the socket. */
  readonly at: (row: number, position: number) => number;
}

/** Where contacts lie: row by row of the socket, position by position, with a free line between two rows. */
function linesOf({ way }: Case, { part, socket }: Meeting): Lines {
  const [plug, other] = [part.pins.connector, socket.pins.connector];
  const number = plug.labels.map((_, i) => i);
  const isAlike = isStraight(way) && plug.labels.length === other.labels.length;
  const [shape, seat] = isAlike ? [other, STRAIGHT] : [plug, way];
  const rows = number.map((i) => rowOf(shape, seat, i));
  const places = number.map((i) => along(shape, seat, shape.position[i]!));
  const [allRows, allPlaces] = [
    [...rows, ...other.row],
    [...places, ...other.position],
  ];
  const [top, first] = [Math.min(...allRows), Math.floor(Math.min(...allPlaces))];
  const stride = Math.ceil(Math.max(...allPlaces)) - first + 2;
  const at = (row: number, position: number): number => (row - top) * stride + position - first;
  return {
    count: (Math.max(...allRows) - top + 1) * stride - 1,
    plug: number.map((i) => at(rows[i]!, places[i]!)),
    socket: other.labels.map((_, i) => at(other.row[i]!, other.position[i]!)),
    at,
  };
}

/** Keys are between contacts of edges and rows; one is a bar through all rows. */
function keysOf({ way }: Case, { part, socket }: Meeting, { at }: Lines): Pick<DrawnMate, 'keys' | 'slots'> {
  const [plug, other] = [part.pins.connector, socket.pins.connector];
  if (other.shape !== 'edge' && other.shape !== 'row') return { keys: [], slots: [] };
  const placed = ({ connector, keys }: PinMap) =>
    keys.map(([a, b]) => ({
      place: (connector.position[a]! + connector.position[b]!) / 2,
      between: `${connector.labels[a]} ${connector.labels[b]}`,
    }));
  const cut = placed(part.pins).map((one) => ({ ...one, place: along(plug, way, one.place) }));
  const inAllRows = (place: number): number[] =>
    Array.from({ length: other.rows }, (_, row) => at(row, place));
  return {
    keys: placed(socket.pins).flatMap(({ place, between }) => {
      const isUnder = place > way.shift && place < way.shift + plug.positions - 1;
      const stands = isUnder && cut.every((one) => one.place !== place);
      return inAllRows(place).map((line) => ({ line, between, stands }));
    }),
    slots: cut.flatMap(({ place, between }) =>
      inAllRows(place).map((line) => ({ line, between, stands: false })),
    ),
  };
}
