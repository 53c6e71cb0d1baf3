import type { Board, Bus, Connector, Instance, Port } from '../../machine/types.ts';
import type { Case } from './cases.ts';
import { landing, under } from './ways.ts';

/** Where a key can be: between two neighbouring contacts, or at one contact, whose pin is pulled and whose hole is plugged. */
export type KeyPlace = readonly [number, number] | readonly [number];

/** Whose plugs and sockets get a key: all that share a connector, or those of one bus or port where places must differ. */
export interface KeyedGroup {
  /** Buses (their slots and the edges made for them) or ports; empty where the connector itself gets the key. */
  readonly owners: readonly (Bus | Port)[];
  /** What these are called: `MAIN`; for ports where they are, `GAUGE.J1`. */
  readonly names: readonly string[];
  readonly places: readonly KeyPlace[];
}

/** The fewest keys by which no harmful way is left open. */
export interface KeyPlan {
  readonly connector: Connector;
  readonly groups: readonly KeyedGroup[];
  /** How many cases it prevents, and how many no key of this connector can prevent. */
  readonly prevents: number;
  readonly leaves: number;
  /** How many contacts that something uses it costs. */
  readonly costs: number;
}

/** What a key at a place does in a case: lands on another place of the same connector, stands in the way for certain, or neither. */
const AWAY = -1;
const STANDS = -2;

/** What there is to decide: for each case, where each possible key lands, and whose keys are meant. */
interface Task {
  readonly connector: Connector;
  readonly places: readonly KeyPlace[];
  readonly cases: readonly {
    readonly lands: Int32Array;
    readonly plug: object;
    readonly socket: object;
  }[];
  /** Contacts in use that each place costs those who get the keys of one colour. */
  readonly costs: readonly (readonly number[])[];
  /** Places that have a key already. */
  readonly there: ReadonlySet<number>;
}

/**
 * The smallest set of keys of one connector that prevents all these cases: found by trying all sets of one and of two, and
 * beyond by a search that leaves no set out. Where places must be told apart, each gets a set of its own, all of one size, so that some may
 * have more than they need. Among the smallest, one that costs the fewest contacts in use. No contact of a signal,
 * none that nobody knows, and none of a rail or ground that has few, is given up. Where a plug that strays onto a connector of another
 * kind cannot be kept off it, what shares this connector is. Undefined where no keys can do that either.
 */
export function planKeys(
  connector: Connector,
  cases: readonly Case[],
  users: readonly Instance[],
): KeyPlan | undefined {
  const isShared = ({ meetings }: Case): boolean =>
    meetings[0]!.part.pins.connector === meetings[0]!.socket.pins.connector;
  return (
    planFor(connector, cases, cases.length, users) ??
    planFor(connector, cases.filter(isShared), cases.length, users)
  );
}

function planFor(
  connector: Connector,
  cases: readonly Case[],
  count: number,
  users: readonly Instance[],
): KeyPlan | undefined {
  const all = taskOf(connector, cases);
  const colours = colourOwners(all);
  const coloured = Math.max(0, ...colours.values()) + 1;
  const costs = Array.from({ length: coloured }, (_, colour) => {
    const its = users.filter((user) => coloured === 1 || colours.get(ownerOf(user)) === colour);
    return all.places.map((place) => costOf(place, its));
  });
  const task = { ...all, costs };
  const solvable = { ...task, cases: task.cases.filter((one) => canBePrevented(one, task, colours)) };
  const sets = solvable.cases.length === 0 ? undefined : search(solvable, colours);
  if (sets === undefined) return undefined;
  const owners = (colour: number): (Bus | Port)[] =>
    [...colours].flatMap(([owner, its]) => (its === colour ? [owner as Bus | Port] : []));
  return {
    connector,
    groups: sets.map((set, colour) => {
      const its = sets.length > 1 ? owners(colour) : [];
      return { owners: its, names: namesOf(its, users), places: set.map((place) => task.places[place]!) };
    }),
    prevents: solvable.cases.length,
    leaves: count - solvable.cases.length,
    costs: sets.reduce((sum, set, colour) => sum + costsOf(set, costs[colour]!), 0),
  };
}

const namesOf = (owners: readonly (Bus | Port)[], users: readonly Instance[]): string[] =>
  owners.flatMap((owner) => {
    const ports = users.filter(({ port }) => port === owner && port.bus === undefined);
    return ports.length > 0 ? ports.map(({ path }) => path) : [owner.name];
  });

/** The connector that would get a key against a case: of the plug; in card edges, whose slots let in what the socket's keys fit, of the socket. */
export const keyedConnector = ({ meetings }: Case): Connector => {
  const { part, socket } = meetings[0]!;
  return isBetween(part.pins.connector) ? socket.pins.connector : part.pins.connector;
};

/** Card edges are keyed between contacts, which costs none. */
const isBetween = ({ shape }: Connector): boolean => shape === 'edge';

/** Whose key it is: a bus's for slots and edges, a port's for headers. */
const ownerOf = (instance: Instance): Bus | Port => instance.port.bus ?? instance.port;

function taskOf(connector: Connector, cases: readonly Case[]): Omit<Task, 'costs'> {
  const places = placesOn(connector);
  const indexOf = new Map(places.map((place, i) => [keyOf(place), i]));
  const there = new Set<number>();
  for (const key of [...connector.keys, ...[...connector.plugged].map((one) => [one] as const)]) {
    const index = indexOf.get(keyOf(key));
    if (index !== undefined) there.add(index);
  }
  // A way to put one connector on another has one list of pairs, whatever slots it is in.
  const known = new Map<Int32Array, Map<ReadonlySet<number>, Int32Array>>();
  const landsIn = (one: Case): Int32Array => {
    const { pairs, socket } = one.meetings[0]!;
    const { pulled } = socket.pins;
    const its = known.get(pairs) ?? new Map<ReadonlySet<number>, Int32Array>();
    const lands = its.get(pulled) ?? landsOf(one, places, indexOf);
    known.set(pairs, its.set(pulled, lands));
    return lands;
  };
  return {
    connector,
    places,
    there,
    cases: cases.map((one) => {
      const { part, socket } = one.meetings[0]!;
      const plug = part.edge ?? part.home!;
      return {
        lands: landsIn(one),
        plug: part.pins.connector === connector ? ownerOf(plug) : NOBODY,
        socket: socket.pins.connector === connector ? ownerOf(socket) : NOBODY,
      };
    }),
  };
}

/** Whether any place can be had at which a key would stand. A plug that goes straight into a socket like its own has the same keys. */
function canBePrevented(
  { lands, plug, socket }: Task['cases'][number],
  { costs, there }: Task,
  colours: ReadonlyMap<object, number>,
): boolean {
  const its = costs[colours.get(plug) ?? 0]!;
  const isAlike = plug === socket || (colours.get(plug) ?? -1) === (colours.get(socket) ?? -2);
  return lands.some(
    (landed, place) =>
      landed !== AWAY && !(isAlike && landed === place) && (its[place] !== DEAR || there.has(place)),
  );
}

/** Owns connectors of another kind, which get no key here. */
const NOBODY = {};

const keyOf = (place: KeyPlace): string => place.join(' ');

function placesOn(connector: Connector): KeyPlace[] {
  const { labels, row, position } = connector;
  if (!isBetween(connector)) return labels.map((_, i) => [i] as const);
  const first = labels.map((_, i) => i).filter((i) => row[i] === 0);
  first.sort((a, b) => position[a]! - position[b]!);
  return first.slice(1).map((contact, i) => [first[i]!, contact] as const);
}

const DEAR = Number.POSITIVE_INFINITY;

/** A rail or ground with so many contacts can give some of them up for keys (common practice, no source). */
const PLENTY = 6;

/**
 * What a key at a contact costs: nothing where nobody uses it, a little where a rail or ground has others; all there is where it must
 * stay. A contact that no table lists is unknown, but where a card's list is closed.
 */
function costOf(place: KeyPlace, users: readonly Instance[]): number {
  if (place.length === 2) return 0;
  const [contact] = place;
  return Math.max(0, ...users.map((user) => costAt(user, contact)));
}

function costAt({ pins, port, board }: Instance, contact: number): number {
  const claim = pins.claims[contact];
  if (board && isWired(board, `${port.name}.${pins.connector.labels[contact]}`)) return DEAR;
  if (claim === undefined) return board?.card.closed ? 0 : DEAR;
  if (claim.kind === 'spare') return 0;
  if (claim.kind !== 'rail' && claim.kind !== 'ground') return DEAR;
  const alike = pins.claims.filter((one) => one?.kind === claim.kind && one.name === claim.name);
  return alike.length < PLENTY ? DEAR : 1;
}

/** Whether a wire on the board leads to one of its contacts, whatever the table says of that. */
const isWired = ({ card, rework }: Board, contact: string): boolean =>
  [...card.rework, ...rework].some(
    ({ kind, places }) => kind !== 'cut' && places.some(({ place }) => place === contact),
  );

function landsOf(
  { meetings, way }: Case,
  places: readonly KeyPlace[],
  indexOf: ReadonlyMap<string, number>,
): Int32Array {
  const { part, socket } = meetings[0]!;
  const [plug, other] = [part.pins.connector, socket.pins.connector];
  return Int32Array.from(places, (place) => {
    if (place.length === 1) {
      const landed = landing(plug, other, way, place[0]);
      if (landed < 0) return AWAY;
      // Where a pin is missing already, no hole stands on one.
      if (socket.pins.pulled.has(landed)) return AWAY;
      // On a header of another kind the pins are as they are.
      return plug === other ? landed : STANDS;
    }
    const key = (other.position[place[0]]! + other.position[place[1]]!) / 2;
    if (key <= way.shift || key >= way.shift + plug.positions - 1) return AWAY;
    if (plug !== other) return STANDS;
    return indexOf.get(keyOf(betweenAt(plug, under(plug, way, key), places))) ?? STANDS;
  });
}

const betweenAt = ({ position }: Connector, slot: number, places: readonly KeyPlace[]): KeyPlace =>
  places.find((place) => place.length === 2 && (position[place[0]]! + position[place[1]]!) / 2 === slot) ?? [
    -1,
  ];

/** Whether keys at these places prevent a case. */
function prevents(
  lands: Int32Array,
  plug: ReadonlySet<number>,
  socket: ReadonlySet<number>,
  between: boolean,
): boolean {
  // In an edge the socket's keys stand, and the tongue's slots let them pass; on pins the plug's holes are what is blocked.
  const [standing, passing] = between ? [socket, plug] : [plug, socket];
  for (const place of standing) {
    const landed = lands[place]!;
    if (landed === STANDS || (landed >= 0 && !passing.has(landed))) return true;
  }
  return false;
}

/**
 * Owners whose straight plugs must not go into each other's sockets need different keys: each gets a colour, as few as can be.
 * All others have the first.
 */
function colourOwners({ cases, places }: Pick<Task, 'cases' | 'places'>): Map<object, number> {
  const foes = new Map<object, Set<object>>();
  const colours = new Map<object, number>();
  for (const { lands, plug, socket } of cases) {
    colours.set(plug, 0).set(socket, 0);
    const straight = places.every((_, i) => lands[i] === i || lands[i] === AWAY);
    if (!straight || plug === socket || plug === NOBODY || socket === NOBODY) continue;
    for (const [one, other] of [
      [plug, socket],
      [socket, plug],
    ] as const) {
      const list = foes.get(one);
      if (list) list.add(other);
      else foes.set(one, new Set([other]));
    }
  }
  colours.delete(NOBODY);
  const owners = [...foes.keys()];
  for (let most = 2; owners.length > 0; most++) if (colour(owners, 0, most, foes, colours)) break;
  return colours;
}

function colour(
  owners: readonly object[],
  from: number,
  most: number,
  foes: ReadonlyMap<object, ReadonlySet<object>>,
  colours: Map<object, number>,
): boolean {
  if (from === owners.length) return true;
  const owner = owners[from]!;
  const before = owners.slice(0, from);
  // The first of each new colour is as good as any other.
  const fresh = Math.max(-1, ...before.map((one) => colours.get(one)!)) + 1;
  for (let one = 0; one < Math.min(most, fresh + 1); one++) {
    if (before.some((other) => colours.get(other) === one && foes.get(owner)!.has(other))) continue;
    colours.set(owner, one);
    if (colour(owners, from + 1, most, foes, colours)) return true;
  }
  return false;
}

/** More keys than this nobody makes (common practice, no source). */
const MOST_KEYS = 4;
/** Sets to try of one size where groups differ; where there are more, none is tried: the search would take seconds. */
const MOST_SETS = 20_000;

/** A set of places for each colour; undefined where there is none. */
function search(task: Task, colours: ReadonlyMap<object, number>): number[][] | undefined {
  const count = Math.max(0, ...colours.values()) + 1;
  for (let size = 1; size <= MOST_KEYS; size++) {
    const found = count === 1 ? smallest(task, size) : different(task, colours, count, size);
    if (found) return found;
  }
  return undefined;
}

/**
 * One set of this size that prevents all, of the least cost. Each case that is still open must be prevented by some key: every
 * place that could do it is tried, and the place it lands on stays free from then on. So no set is left out.
 */
function smallest(
  { cases, places, costs: all, there, connector }: Task,
  size: number,
): number[][] | undefined {
  const costs = all[0]!;
  const between = isBetween(connector);
  let best: { readonly set: number[]; readonly cost: number } | undefined;
  const order = [...places.keys()]
    .filter((place) => !there.has(place) && costs[place] !== DEAR)
    .sort((a, b) => costs[a]! - costs[b]! || shown(a, places) - shown(b, places) || a - b);
  const extend = (set: readonly number[], free: ReadonlySet<number>, cost: number): void => {
    if (best !== undefined && cost >= best.cost) return;
    const keys = new Set([...there, ...set]);
    const open = cases.find(({ lands }) => !prevents(lands, keys, keys, between));
    if (open === undefined) {
      best = { set: [...set], cost };
      return;
    }
    if (set.length === size) return;
    for (const place of order) {
      const landed = open.lands[place]!;
      if (landed === AWAY || landed === place || keys.has(place) || free.has(place)) continue;
      if (landed >= 0 && keys.has(landed)) continue;
      extend([...set, place], landed >= 0 ? new Set([...free, landed]) : free, cost + costs[place]!);
    }
  };
  extend([], new Set(), 0);
  return best && [best.set.sort((a, b) => a - b)];
}

/**
 * Which places come after all others: the first and the last between contacts, which leave a sliver of tongue with one contact
 * on it, and the middle, which meets itself when the board is turned.
 */
const shown = (place: number, places: readonly KeyPlace[]): number =>
  places[place]!.length === 2 && [0, places.length - 1, (places.length - 1) / 2].includes(place) ? 1 : 0;

/** A set of this size for each colour. */
function different(
  { cases, places, costs, there, connector }: Task,
  colours: ReadonlyMap<object, number>,
  count: number,
  size: number,
): number[][] | undefined {
  const between = isBetween(connector);
  const sets = costs.map((its) => {
    const free = [...places.keys()].filter((place) => !there.has(place) && its[place] !== DEAR);
    free.sort((a, b) => shown(a, places) - shown(b, places) || a - b);
    return setsOf(free, size).sort((a, b) => costsOf(a, its) - costsOf(b, its));
  });
  const colourOf = (owner: object): number => colours.get(owner) ?? -1;
  const with_ = (set: readonly number[] | undefined): ReadonlySet<number> =>
    new Set([...there, ...(set ?? [])]);
  const holds = (chosen: readonly (readonly number[])[]): boolean => {
    const last = chosen.length - 1;
    const keys = chosen.map(with_);
    return cases.every(({ lands, plug, socket }) => {
      const [a, b] = [colourOf(plug), colourOf(socket)];
      if (a > last || b > last || (a !== last && b !== last)) return true;
      return prevents(lands, keys[a] ?? NONE, keys[b] ?? NONE, between);
    });
  };
  const choose = (chosen: readonly (readonly number[])[]): number[][] | undefined => {
    if (chosen.length === count) return chosen.map((set) => [...set]);
    for (const set of sets[chosen.length]!) {
      const next = [...chosen, set];
      const found = holds(next) ? choose(next) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  return choose([]);
}

const NONE: ReadonlySet<number> = new Set();

const costsOf = (set: readonly number[], costs: readonly number[]): number =>
  set.reduce((sum, place) => sum + costs[place]!, 0);

/** All sets of so many places; none where there are too many of them. */
function setsOf(places: readonly number[], size: number): number[][] {
  let count = 1;
  for (let i = 0; i < size; i++) count = (count * (places.length - i)) / (i + 1);
  if (count > MOST_SETS) return [];
  let sets: number[][] = [[]];
  for (let i = 0; i < size; i++)
    sets = sets.flatMap((set) =>
      places.slice(places.indexOf(set.at(-1) ?? -1) + 1).map((place) => [...set, place]),
    );
  return sets;
}
