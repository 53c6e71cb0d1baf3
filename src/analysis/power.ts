import type { Board, Machine, RailSource, Take } from '../machine/types.ts';
import { type Link, linksOf, type Owner, waysOf } from './links.ts';
import { nodeOnBoard, nominalVolts, originsOf, sourcesAt } from './rails.ts';
import { type Returns, returnsOf } from './returns.ts';

/** What a board takes of a rail, where it enters. */
export interface Load {
  readonly board: Board;
  readonly take: Take;
}

/** A thing that a network's current comes through, and the way by which it comes. */
export interface Hub {
  readonly owner: Owner;
  /** Nearer to the supply; undefined for the supply itself, or for a backplane nobody says is fed. */
  readonly up?: Hub;
  readonly by?: Link;
  readonly depth: number;
  readonly below: Hub[];
  /** A that positive and that negative rails carry through here: its own and what lies beyond it. */
  positive: number;
  negative: number;
  /** Equal ways that reach this thing beside `by`. */
  beside: number;
}

/** One rail net with all that feeds and loads it; or the grounds by which the current of some supplies returns. */
export interface Network {
  readonly rail: string;
  readonly ground: boolean;
  readonly sources: readonly RailSource[];
  readonly loads: readonly Load[];
  readonly hubs: readonly Hub[];
  hubOf(thing: object): Hub | undefined;
}

interface Power {
  readonly rails: readonly Network[];
  /** The return networks: one for all supplies whose grounds are one. */
  readonly grounds: readonly Network[];
  /** The network by which what a board takes of a rail returns; undefined where that is not known. */
  returnOf(rail: Network, board: Board): Network | undefined;
  /** The rail network that a node is on. */
  at(node: number | undefined): Network | undefined;
}

/**
 * How current runs from each supply to each board and back. `takes` is all that enters a board; a board that gets its
 * power through another one adds to what flows through the other's contacts, not to what the other takes. Currents
 * nobody says count as none, so every sum is a least. Linear in joins and contacts.
 */
export function powerOf(machine: Machine): Power {
  const kept = powers.get(machine.flow);
  if (kept) return kept;
  const made = analyse(machine);
  powers.set(machine.flow, made);
  return made;
}

const powers = new WeakMap<Machine['flow'], Power>();

/** A through here: a rail's own; in the return, the larger of what positive and negative rails bring back. */
export const currentOf = ({ positive, negative }: Hub): number => Math.max(positive, negative);

/** How many equal ways lead here. */
export const waysTo = (hub: Hub): number => (hub.by === undefined ? 0 : waysOf(hub.by) + hub.beside);

/** From the supply to this thing, without the supply. */
export function wayTo(hub: Hub): Hub[] {
  const way: Hub[] = [];
  for (let one: Hub | undefined = hub; one?.up; one = one.up) way.push(one);
  return way.reverse();
}

/** The boards whose current comes through here, nearest first. */
export function boardsBeyond(hub: Hub): Board[] {
  const boards: Board[] = [];
  const open = [hub];
  for (const one of open) {
    if (one.owner.kind === 'board') boards.push(one.owner.board);
    open.push(...one.below);
  }
  return boards;
}

/** Loads of one rail by net, in the order of the boards. */
interface Draft {
  readonly rail: string;
  readonly net: number;
  readonly sources: readonly RailSource[];
  readonly loads: Load[];
}

function drafts(machine: Machine): Map<number, Draft> {
  const found = new Map<number, Draft>();
  const at = (node: number, rail: string): Draft => {
    const net = machine.nets.of[node]!;
    let draft = found.get(net);
    if (draft === undefined) {
      draft = { rail, net, sources: sourcesAt(machine, node), loads: [] };
      found.set(net, draft);
    }
    return draft;
  };
  for (const { node, rail } of machine.railSources) at(node, rail);
  for (const board of machine.boards) {
    for (const take of board.card.takes) {
      const node = nodeOnBoard(machine, board, take.rail, take.at);
      if (node !== undefined) at(node, take.rail).loads.push({ board, take });
    }
  }
  return found;
}

function analyse(machine: Machine): Power {
  const rails = [...drafts(machine).values()];
  const networkOf = new Int32Array(machine.nets.count).fill(-1);
  rails.forEach(({ net }, i) => {
    networkOf[net] = i;
  });
  const returns = returnsOf(machine);
  for (const [net, index] of returns.ofNet) if (networkOf[net]! < 0) networkOf[net] = rails.length + index;
  const links: Link[][] = [...rails, ...returns.names].map(() => []);
  for (const link of linksOf(machine, networkOf)) links[link.network]!.push(link);
  const networks = rails.map((draft, i) => railNetwork(draft, links[i]!));
  const grounds = returns.names.map((name, i) => groundNetwork(name, links[rails.length + i]!));
  const returnOf = returnFinder(machine, grounds, returns);
  for (const network of networks) returnCurrents(machine, network, returnOf);
  for (const { hubs } of grounds) addUp(hubs);
  return {
    rails: networks,
    grounds,
    returnOf,
    at: (node) => {
      const network = node === undefined ? -1 : networkOf[machine.nets.of[node]!]!;
      return network >= 0 ? networks[network] : undefined;
    },
  };
}

/** Current returns to the supply that it comes from, also through regulators; from several, no one knows how. */
function returnFinder(
  machine: Machine,
  grounds: readonly Network[],
  { ofSupply }: Returns,
): Power['returnOf'] {
  const known = new Map<Network, Set<number | undefined>>();
  return (rail, board) => {
    let indices = known.get(rail);
    if (indices === undefined) {
      const [first] = rail.sources;
      indices = new Set(originsOf(machine, first?.node).map(({ owner }) => ofSupply.get(owner)));
      known.set(rail, indices);
    }
    const [index] = indices;
    if (indices.size === 1 && index !== undefined) return grounds[index];
    if (indices.size > 1) return undefined;
    // Without a supply, or a ground of it, the current returns by the one way that there is.
    const ways = grounds.filter(({ hubOf }) => hubOf(board) !== undefined);
    return ways.length === 1 ? ways[0] : undefined;
  };
}

function railNetwork({ rail, sources, loads }: Draft, links: readonly Link[]): Network {
  const supplies = new Set(sources.filter(({ kind }) => kind === 'supply').map(({ owner }) => owner));
  const makers = new Set(sources.map(({ board }) => board));
  const tree = grow(links, (owner) =>
    owner.kind === 'board' ? makers.has(owner.board) : owner.kind === 'supply' && supplies.has(owner.name),
  );
  for (const { board, take } of loads) {
    const hub = tree.hubOf(board);
    if (hub) hub.positive += take.current ?? 0;
  }
  addUp(tree.hubs);
  return { rail, ground: false, sources, loads, ...tree };
}

function groundNetwork(rail: string, links: readonly Link[]): Network {
  return { rail, ground: true, sources: [], loads: [], ...grow(links, (owner) => owner.kind === 'supply') };
}

/** Adds what the boards take of a rail to the network by which it returns. */
function returnCurrents(
  machine: Machine,
  rail: Network,
  returnOf: (rail: Network, board: Board) => Network | undefined,
): void {
  const { sources, loads, hubOf } = rail;
  if (sources.some(({ ac }) => ac)) return;
  // What a regulator gives to another board returns to its own board, whose `takes` already holds it.
  const maker = sources.every(({ kind }) => kind === 'regulator') ? sources[0]?.board : undefined;
  for (const { board, take } of loads) {
    if (take.current === undefined || hubOf(board)?.up === undefined) continue;
    const tree = returnOf(rail, board);
    const volts = sources[0]?.low ?? nominalVolts(machine, take.rail, board.card) ?? 0;
    const side = volts < 0 ? 'negative' : 'positive';
    const [from, to] = [tree?.hubOf(board), maker && tree?.hubOf(maker)];
    if (from) from[side] += take.current;
    if (from && to) to[side] -= take.current;
  }
}

/** Carries each thing's current up to the thing it comes from. Hubs lie nearest first. */
function addUp(hubs: readonly Hub[]): void {
  for (let i = hubs.length - 1; i >= 0; i--) {
    const { up, positive, negative } = hubs[i]!;
    if (up === undefined) continue;
    up.positive += positive;
    up.negative += negative;
  }
}

const thingOf = (owner: Owner): object => {
  if (owner.kind === 'board') return owner.board;
  if (owner.kind === 'backplane') return owner.backplane;
  return owner.kind === 'supply' ? owner.supply : owner;
};

/** The shortest ways from the roots to all that the links reach; what no root reaches starts at its backplane. */
function grow(
  links: readonly Link[],
  isRoot: (owner: Owner) => boolean,
): { hubs: Hub[]; hubOf: Network['hubOf'] } {
  const at = new Map<Owner, Link[]>();
  for (const link of links) {
    for (const owner of [link.a, link.b]) {
      const list = at.get(owner);
      if (list) list.push(link);
      else at.set(owner, [link]);
    }
  }
  const hubs: Hub[] = [];
  const found = new Map<object, Hub>();
  const enter = (owner: Owner, up?: Hub, by?: Link): void => {
    const beyond = { depth: (up?.depth ?? -1) + 1, below: [], positive: 0, negative: 0, beside: 0 };
    const hub: Hub = { owner, ...beyond, ...(up ? { up } : {}), ...(by ? { by } : {}) };
    up?.below.push(hub);
    found.set(thingOf(owner), hub);
    hubs.push(hub);
  };
  let done = 0;
  const follow = (): void => {
    for (; done < hubs.length; done++) {
      const hub = hubs[done]!;
      for (const link of at.get(hub.owner) ?? []) {
        const other = link.a === hub.owner ? link.b : link.a;
        if (!found.has(thingOf(other))) enter(other, hub, link);
      }
    }
  };
  const owners = [...at.keys()];
  for (const owner of owners) if (isRoot(owner)) enter(owner);
  follow();
  for (const owner of owners) {
    if (owner.kind !== 'backplane' || found.has(owner.backplane)) continue;
    enter(owner);
    follow();
  }
  for (const link of links) {
    const [a, b] = [found.get(thingOf(link.a)), found.get(thingOf(link.b))];
    if (a && b && a.by !== link && b.by !== link) help(a, b, waysOf(link));
  }
  return { hubs, hubOf: (thing) => found.get(thing) };
}

/**
 * A second way between two things carries part of the current of all that lies between each and where the ways part –
 * unless it leads through another board: that board's contacts have their own current to carry.
 */
function help(a: Hub, b: Hub, ways: number): void {
  const [left, right]: [Hub[], Hub[]] = [[], []];
  let [x, y]: [Hub | undefined, Hub | undefined] = [a, b];
  while (x !== y && x !== undefined && y !== undefined) {
    if (x.depth >= y.depth) {
      left.push(x);
      x = x.up;
    } else {
      right.push(y);
      y = y.up;
    }
  }
  const isBoard = ({ owner }: Hub): boolean => owner.kind === 'board';
  if (!right.some(isBoard)) for (const hub of left) hub.beside += ways;
  if (!left.some(isBoard)) for (const hub of right) hub.beside += ways;
}
