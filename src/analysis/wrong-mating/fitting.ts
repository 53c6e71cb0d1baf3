import { keeping } from '../../machine/keep.ts';
import type { Connector, Instance, Machine, PinMap } from '../../machine/types.ts';
import { tried } from './alike.ts';
import { type Halves, type Verdict, verdictOn } from './guards.ts';
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
} from './plugs.ts';
import { isSame, movesBetween, type Way } from './ways.ts';

/** A plug at a place that it fits. */
export interface Setting {
  readonly plug: Plug;
  readonly place: Place;
  readonly mates: readonly Mate[];
  readonly isHome: boolean;
}

/** The plugs of a machine, and where each fits. */
export interface Fitting {
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
export function fittingOf(machine: Machine): Fitting {
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

/** Whether a connector belongs into a socket, or into one of the same bus: the key of one tells of the key of the other. */
const isOwn = ({ home, edge }: PlugPart, socket: Instance): boolean =>
  home?.pins === socket.pins || (edge?.port.bus !== undefined && edge.port.bus === socket.port.bus);

/** All that is said of a connector of a plug and a socket, as far as it keeps wrong ways out. */
export const halvesOf = ({ bump }: Plug, { part, socket }: Mate, guides: boolean): Halves => ({
  plug: part.pins,
  home: part.home?.pins,
  socket: socket.pins,
  own: isOwn(part, socket),
  guides,
  bump,
});

/** Whether a board's edges are made for the buses of these sockets. */
export const isMadeFor = (mates: readonly Mate[]): boolean =>
  mates.every(
    ({ part, socket }) => part.edge?.port.bus !== undefined && part.edge.port.bus === socket.port.bus,
  );

/** A way in which all connectors of a plug move at once, the contacts that meet at each, and what keeps it from happening. */
export interface Guarded {
  readonly way: Way;
  readonly pairs: readonly Int32Array[];
  readonly verdict: Verdict;
}

export function movesOf({ plug, place, mates }: Setting): readonly Guarded[] {
  const guides = place.slot?.guides === true;
  const [first, ...others] = mates.map(({ part, socket }) =>
    movesAt(part.pins.connector, socket.pins.connector)(halvesOf(plug, { part, socket }, guides)),
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
export function strictest(all: readonly Verdict[]): Verdict {
  const told = (state: Verdict['state']): Verdict | undefined => all.find((one) => one.state === state);
  return told('prevented') ?? told('unsaid') ?? all[0]!;
}
