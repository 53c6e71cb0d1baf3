import { keeping } from '../../machine/keep.ts';
import type { Connector, Instance, Machine, PinMap } from '../../machine/types.ts';
import { tried } from './alike.ts';
import { type Halves, leftToKeys, type Verdict, verdictOn } from './guards.ts';
import { type Harm, RANKS } from './harms.ts';
import {
  type Bench,
  benchOf,
  harmsOf,
  joinedIn,
  type Meeting,
  NOTHING,
  type Outcome,
  outcomeOf,
  type Placement,
  worstOf,
} from './judge.ts';
import {
  type CableNodes,
  cableNodes,
  type Mate,
  type Place,
  type Plug,
  type PlugPart,
  placesOf,
  plugsOf,
  seatsAt,
  socketNodes,
} from './plugs.ts';
import { type Trace, traceOf } from './traces.ts';
import { isStraight, movesBetween, STRAIGHT, type Way } from './ways.ts';

/** What somebody did wrong. */
type Fault =
  | 'turned'
  | 'shifted'
  | 'over'
  | 'wrong place'
  /** Both ends of a cable, each where the other belongs. */
  | 'exchanged'
  | 'crimped turned'
  | 'crimped over';

/** A wrong way to plug something in, and whether anything keeps it from happening. */
export interface Case extends Placement {
  readonly fault: Fault;
  readonly verdict: Verdict;
}

/** A plug at a place that it fits. */
interface Setting {
  readonly plug: Plug;
  readonly place: Place;
  readonly mates: readonly Mate[];
  readonly isHome: boolean;
}

/** The plugs of a machine, and where each fits. */
interface Fitting {
  readonly cables: CableNodes;
  readonly plugs: readonly Plug[];
  readonly settings: readonly Setting[];
}

const fittings = new WeakMap<
  Machine['instances'],
  { readonly nodeCount: number; readonly fitting: Fitting }
>();

/**
 * The same list of instances is the same metal. What is said of signals may still name more nodes than before, and those of
 * cables are numbered on from them.
 */
function fittingOf(machine: Machine): Fitting {
  const { instances, nodeCount } = machine;
  const before = fittings.get(instances);
  if (before?.nodeCount === nodeCount) return before.fitting;
  const cables = cableNodes(machine);
  const plugs = plugsOf(machine, cables);
  const settings = tried(plugs, placesOf(machine)).flatMap(({ plug, places }) =>
    places.flatMap((at) =>
      seatsAt(plug, at).map(({ place, mates }) => ({
        plug,
        place,
        mates,
        isHome: mates.every(({ part, socket }) => part.home === socket),
      })),
    ),
  );
  const fitting = { cables, plugs, settings };
  fittings.set(instances, { nodeCount, fitting });
  return fitting;
}

/** The wrong ways to plug in what a machine is made of, of those with such a verdict. Electrically nothing is judged yet. */
function casesOf(fitting: Fitting, isMeant: (verdict: Verdict) => boolean): Case[] {
  const { plugs, settings } = fitting;
  return [
    ...settings.flatMap((setting) =>
      casesAt(
        setting,
        movesOf(setting).filter(({ verdict }) => isMeant(verdict)),
      ),
    ),
    ...[...exchangedEnds(fitting), ...plugs.flatMap((plug) => crimpCases(plugs, plug))].filter(
      ({ verdict }) => isMeant(verdict),
    ),
  ];
}

function casesAt({ plug, place, mates, isHome }: Setting, moves: readonly Guarded[]): Case[] {
  const isRight = isHome || (plug.out && plug.kind === 'board' && isMadeFor(mates));
  const cases: Case[] = [];
  for (const { way, pairs, verdict } of moves) {
    if (isStraight(way) ? isRight : plug.rigid && way.turned) continue;
    const meetings = mates.map(({ part, socket }, i) => ({ part, socket, pairs: pairs[i]! }));
    cases.push({ plug, place, way, meetings, fault: faultOf(plug, isHome, mates, way), verdict });
  }
  return cases;
}

/** Whether a connector belongs into a socket, or into one of the same bus: the key of one tells of the key of the other. */
export const isOwn = ({ home, edge }: PlugPart, socket: Instance): boolean =>
  home?.pins === socket.pins || (edge?.port.bus !== undefined && edge.port.bus === socket.port.bus);

/** Whether a board's edges are made for the buses of these sockets. */
const isMadeFor = (mates: readonly Mate[]): boolean =>
  mates.every(
    ({ part, socket }) => part.edge?.port.bus !== undefined && part.edge.port.bus === socket.port.bus,
  );

/** A way in which all connectors of a plug move at once, the contacts that meet at each, and what keeps it from happening. */
interface Guarded {
  readonly way: Way;
  readonly pairs: readonly Int32Array[];
  readonly verdict: Verdict;
}

function movesOf({ plug, place, mates }: Setting): readonly Guarded[] {
  const guides = place.slot?.guides === true;
  const [first, ...others] = mates.map(({ part, socket }) =>
    movesAt(
      part.pins.connector,
      socket.pins.connector,
    )({
      plug: part.pins,
      home: part.home?.pins,
      socket: socket.pins,
      own: isOwn(part, socket),
      guides,
      bump: plug.bump,
    }),
  );
  if (others.length === 0) return first!;
  return first!.flatMap(({ way, pairs, verdict }) => {
    // Turned, each of several connectors would have to find the socket of another.
    const also = way.turned ? [] : others.flatMap((moves) => moves.find((one) => isSame(one.way, way)) ?? []);
    if (also.length < others.length) return [];
    const all = [verdict, ...also.map((one) => one.verdict)];
    return [{ way, pairs: [...pairs, ...also.flatMap((one) => one.pairs)], verdict: strictest(all) }];
  });
}

/** The moves of one connector on one socket by what guards them: the same for all slots of a bus, and from version to version. */
const movesAt = keeping((plug: Connector, socket: Connector) => {
  const known = new Map<string, readonly Guarded[]>();
  return (halves: Halves): readonly Guarded[] => {
    const { own, guides, bump, home } = halves;
    const said = [halves.plug, halves.socket, ...(home ? [home] : [])].map((pins) => keyingOf(pins));
    const key = [own, guides, bump, ...said].join(';');
    const before = known.get(key);
    if (before) return before;
    const made = movesBetween(plug, socket).map(
      ({ way, pairs }): Guarded => ({ way, pairs: [pairs], verdict: verdictOn(halves, way) }),
    );
    known.set(key, made);
    return made;
  };
});

/** All that a table says of keys and walls, to tell whether two say the same. */
const keyingOf = keeping(({ keys, pulled, plugged, ends, shroud, bump }: PinMap): string =>
  [keys.join(), [...pulled].join(), [...plugged].join(), ends, shroud, bump].join('/'),
);

/** What keeps a plug out with one of its connectors keeps it out with all. */
function strictest(all: readonly Verdict[]): Verdict {
  const told = (state: Verdict['state']): Verdict | undefined => all.find((one) => one.state === state);
  return told('prevented') ?? told('unsaid') ?? all[0]!;
}

const isSame = (a: Way, b: Way): boolean => a.turned === b.turned && a.shift === b.shift && a.over === b.over;

function faultOf(plug: Plug, isHome: boolean, mates: readonly Mate[], way: Way): Fault {
  if (plug.kind !== 'board') {
    if (!isHome) return 'wrong place';
    return way.turned ? 'turned' : 'over';
  }
  if (isStraight(way) || !isMadeFor(mates)) return 'wrong place';
  return way.turned ? 'turned' : 'shifted';
}

/**
 * Cables laid end for end: both connectors fit, each straight where the other belongs. Where every wire joins contacts of one number
 * that changes nothing.
 */
function exchangedEnds({ plugs, settings, cables }: Fitting): Case[] {
  return plugs.flatMap((plug) =>
    plugs.flatMap((also): Case[] => {
      if (plug.ribbon === undefined || also.ribbon !== plug.ribbon || also.end! <= plug.end!) return [];
      const [home, other] = [plug.parts[0]!.home!, also.parts[0]!.home!];
      if (home === other || isAlike(plug, also, cables)) return [];
      const halves = [straightAt(settings, plug, other), straightAt(settings, also, home)];
      const both = halves.filter((half) => half !== undefined);
      if (both.length < halves.length) return [];
      return [
        {
          plug,
          also,
          place: { path: home.path, sockets: [home] },
          way: STRAIGHT,
          meetings: both.map(({ meeting }) => meeting),
          fault: 'exchanged',
          verdict: strictest(both.map(({ verdict }) => verdict)),
        },
      ];
    }),
  );
}

/** A plug straight in a socket, where it fits. */
function straightAt(settings: Fitting['settings'], plug: Plug, socket: Instance) {
  const setting = settings.find((one) => one.plug === plug && one.mates[0]!.socket === socket);
  const move = setting && movesOf(setting).find(({ way }) => isStraight(way));
  if (setting === undefined || move === undefined) return undefined;
  const meeting: Meeting = { ...setting.mates[0]!, pairs: move.pairs[0]! };
  return { meeting, verdict: move.verdict };
}

/** Whether two ends have the same conductors, or ends of the same wires, at the same contacts. */
function isAlike({ kind, parts: [one] }: Plug, { parts: [other] }: Plug, { wires }: CableNodes): boolean {
  const [a, b] = [one!.copper, other!.copper];
  const [short, long] = a.length < b.length ? [a, b] : [b, a];
  if (kind === 'ribbon') return long.every((node, i) => node === (short[i] ?? -1));
  return wires.every(([from, to]) => {
    const [i, j] = [a.indexOf(from), b.indexOf(to)];
    if (i >= 0 && j >= 0) return i === j;
    const [k, l] = [a.indexOf(to), b.indexOf(from)];
    return k < 0 || l < 0 || k === l;
  });
}

/**
 * Connectors crimped wrong: turned on the ribbon, or one conductor over. No key keeps that from happening, but who says which
 * contact the stripe meets has looked.
 */
function crimpCases(plugs: readonly Plug[], plug: Plug): Case[] {
  const [part] = plug.parts;
  const across = part?.home?.pins.connector.conductors;
  if (plug.kind !== 'ribbon' || plug.rigid || part === undefined || across === undefined) return [];
  if (across.length === 0) return [];
  const { ribbon, end } = plug;
  const place: Place = { path: part.home!.path, sockets: [part.home!] };
  const verdict: Verdict = {
    state: ribbon!.ends[end!]!.stripe === undefined ? 'unsaid' : 'prevented',
    by: ['stripe'],
  };
  const crimped = (one: PlugPart, order: readonly number[], from: (i: number) => number): Meeting => ({
    part: { ...one, copper: recrimped(one, order, from) },
    socket: one.home!,
    pairs: movesBetween(one.pins.connector, one.home!.pins.connector)[0]!.pairs,
  });
  const turnedOf = (one: PlugPart, order: readonly number[]): Meeting =>
    crimped(one, order, (i) => order.length - 1 - i);
  const common = { plug, place, way: STRAIGHT, verdict };
  const cases: Case[] = [
    { ...common, fault: 'crimped turned', meetings: [turnedOf(part, across)] },
    ...[1, -1].map(
      (by): Case => ({
        ...common,
        fault: 'crimped over',
        meetings: [crimped(part, across, (i) => i - by)],
      }),
    ),
  ];
  // Two connectors turned on one ribbon undo each other, between these two.
  for (const also of plugs) {
    const [other] = also.parts;
    const its = other?.home?.pins.connector.conductors;
    if (also.ribbon !== ribbon || also.end! <= end! || other === undefined || !its?.length) continue;
    cases.push({
      ...common,
      also,
      fault: 'crimped turned',
      meetings: [turnedOf(part, across), turnedOf(other, its)],
    });
  }
  return cases;
}

/** The copper behind each contact when the connector takes conductors otherwise; −1 where none lies. */
function recrimped({ copper }: PlugPart, across: readonly number[], from: (i: number) => number): Int32Array {
  const moved = new Int32Array(copper.length).fill(-1);
  across.forEach((contact, i) => {
    const other = across[from(i)];
    if (other !== undefined) moved[contact] = copper[other]!;
  });
  return moved;
}

/** From this rank up a wrong mating is harm. Along a ribbon a strained output counts too: nobody looks at it for years. */
const HARM: Readonly<Record<Plug['kind'], number>> = {
  board: RANKS['rail-on-output'],
  ribbon: RANKS['ground-on-output'],
  cable: RANKS['ground-on-output'],
};

export const isHarmful = ({ plug }: Placement, { rank }: Outcome): boolean => rank <= HARM[plug.kind];

/** All wrong matings of one machine. */
export interface WrongMating {
  readonly plugs: readonly Plug[];
  /** Every wrong way, prevented or not, and what comes of each. */
  readonly cases: () => readonly Case[];
  /** Those that nothing that is said prevents. */
  readonly open: () => readonly Case[];
  readonly outcome: (one: Placement) => Outcome;
  /** All that happens, worst first. */
  readonly harms: (one: Placement) => Harm[];
  /** The first of all that happens. */
  readonly worst: (one: Placement) => Harm | undefined;
  /** Plugs with keys, on either half, that keep nothing out which could go in. */
  readonly keyedInVain: () => readonly Plug[];
  /** Which net each node is on then: a number, the same where two are joined. */
  readonly joined: (one: Placement) => (node: number) => number;
  /** Contact by contact: what nobody can judge, and through what a harm comes about. */
  readonly trace: (one: Placement) => Trace;
}

/** Everything is found when it is asked for: where keys prevent all, nothing is judged. */
export const wrongMatingOf = keeping((machine: Machine): WrongMating => {
  const fitting = fittingOf(machine);
  let bench: Bench | undefined;
  const made = (): Bench => {
    bench ??= benchOf(machine, fitting);
    return bench;
  };
  let all: readonly Case[] | undefined;
  let open: readonly Case[] | undefined;
  const outcomes = new Map<Placement, Outcome>();
  return {
    plugs: fitting.plugs,
    cases: () => {
      all ??= casesOf(fitting, () => true);
      return all;
    },
    open: () => {
      open ??= casesOf(fitting, ({ state }) => state !== 'prevented');
      return open;
    },
    outcome: (one) => {
      const before = outcomes.get(one);
      if (before) return before;
      const found = isRight(machine, one) ? NOTHING : outcomeOf(made(), one);
      outcomes.set(one, found);
      return found;
    },
    harms: (one) => harmsOf(made(), one),
    worst: (one) => worstOf(made(), one),
    keyedInVain: () => keyedInVain(fitting),
    joined: (one) => joinedIn(made(), one),
    trace: (one) => traceOf(made(), one),
  };
});

/**
 * Symmetrical keys, above all: what they let in straight they let in turned. Where walls and shells leave nothing to keys, a key
 * beside them is one guard more.
 */
function keyedInVain({ plugs, settings }: Fitting): Plug[] {
  const isKeyed = ({ keys, pulled, plugged }: PinMap): boolean =>
    keys.length + pulled.size + plugged.size > 0;
  return plugs.filter((plug) => {
    const { parts } = plug;
    if (!parts.some(({ pins, home }) => isKeyed(pins) || (home !== undefined && isKeyed(home.pins))))
      return false;
    const left = settings.filter((setting) => setting.plug.parts === parts).flatMap(movesLeftToKeys);
    return left.some(({ way }) => !isStraight(way)) && left.every(({ by }) => by === 'let in');
  });
}

/** The wrong ways of a plug at a place that its body does not keep out, and whether keys do. */
function movesLeftToKeys({ plug, mates, isHome }: Setting) {
  return mates.flatMap(({ part, socket }) => {
    const { pins, home } = part;
    const own = isOwn(part, socket);
    const halves = {
      plug: pins,
      home: home?.pins,
      socket: socket.pins,
      own,
      guides: false,
      bump: plug.bump,
    };
    return movesBetween(pins.connector, socket.pins.connector).flatMap(({ way }) => {
      const by = isHome && isStraight(way) ? 'none' : leftToKeys(halves, way);
      return by === 'none' ? [] : [{ way, by }];
    });
  });
}

/** Whether every contact meets the line that it is on at home: a board in another slot of its bus. */
function isRight({ nets }: Machine, { meetings, also, way }: Placement): boolean {
  return (
    also === undefined &&
    isStraight(way) &&
    meetings.every(({ part, socket, pairs }) => {
      if (part.edge === undefined) return false;
      const sockets = socketNodes(socket);
      for (let k = 0; k < pairs.length; k += 2) {
        const [a, b] = [part.copper[pairs[k]!]!, sockets[pairs[k + 1]!]!];
        if (a >= 0 && b >= 0 && nets.of[a] !== nets.of[b]) return false;
      }
      return true;
    })
  );
}
