import { Sets } from '../../machine/nets.ts';
import { type Assembly, LIVE, SUFFERS, UNKNOWN } from './assembly.ts';
import { type Bench, type Placement, restFor } from './bench.ts';
import { type Harm, isUnknownPin } from './harms.ts';
import { socketNodes } from './plugs.ts';
import { isStraight } from './ways.ts';

/** Two contacts that meet, by nodes: the plug's and the socket's. */
export type Met = readonly [plug: number, socket: number];

/** One placement looked at contact by contact, for whoever shows it: `outcomeOf` only counts. */
export interface Trace {
  /** Whether nobody can judge what these two do to each other, because what one of them is nobody knows. */
  readonly isUnknown: (plug: number, socket: number) => boolean;
  /** The contacts through which a harm comes about, from what does it to what it is done to; empty where it is for want of a contact. */
  readonly route: (harm: Harm) => readonly Met[];
}

/** Two contacts that meet, and the nets that they join. */
interface Join {
  readonly met: Met;
  readonly nets: readonly [number, number];
  /** What is unknown at home too, and meets its like. */
  readonly isOwn: boolean;
}

export function traceOf(bench: Bench, placement: Placement): Trace {
  const { assembly } = restFor(bench, placement);
  const joins = joinsIn(bench, assembly, placement);
  const unknown = new Set(unknownIn(bench, assembly, joins).map(({ met }) => met.join()));
  return {
    isUnknown: (plug, socket) => unknown.has(`${plug},${socket}`),
    route: routesOver(bench, assembly, joins),
  };
}

function joinsIn({ pieces: { of } }: Bench, { net }: Assembly, { meetings, way }: Placement): Join[] {
  return meetings.flatMap(({ part, socket, pairs }) => {
    const nodes = socketNodes(socket);
    const claims = isStraight(way) ? part.home?.pins.claims : undefined;
    const joins: Join[] = [];
    for (let k = 0; k < pairs.length; k += 2) {
      const [i, j] = [pairs[k]!, pairs[k + 1]!];
      const met = [part.copper[i]!, nodes[j]!] as const;
      if (met[0] < 0 || met[1] < 0) continue;
      const nets = [net[of[met[0]]!]!, net[of[met[1]]!]!] as const;
      const isOwn = claims !== undefined && claims[i] === socket.pins.claims[j];
      if (nets[0] !== nets[1]) joins.push({ met, nets, isOwn });
    }
    return joins;
  });
}

/** The meetings that `outcomeOf` counts as such that nobody can judge. */
function unknownIn(bench: Bench, assembly: Assembly, joins: readonly Join[]): Join[] {
  const { whole } = bench;
  const { bits } = assembly;
  if (joins.every(({ nets: [a, b] }) => whole.net[a] === whole.net[b])) return [];
  const pins = unknownPinNets(bench, assembly, joins);
  return joins.filter(({ nets: [a, b], isOwn }) => {
    const [one, other] = [bits[a]!, bits[b]!];
    if ((one | other) & UNKNOWN && one !== 0 && other !== 0 && !isOwn) return true;
    return whole.net[a] !== whole.net[b] && (pins.has(a) || pins.has(b));
  });
}

/** Nets with a pin that a rail reaches by these joins, where nobody knows what that does to it. */
function unknownPinNets(
  { machine, pieces, whole }: Bench,
  { bits, lives, next }: Assembly,
  joins: readonly Join[],
): ReadonlySet<number> {
  const sets = new Sets(pieces.count);
  for (const { nets } of joins) sets.unite(...nets);
  const all = [...new Set(joins.flatMap(({ nets }) => nets))];
  const found = new Set<number>();
  for (const from of all) {
    if (!(bits[from]! & LIVE)) continue;
    for (const to of all) {
      if (to === from || !(bits[to]! & SUFFERS) || whole.net[from] === whole.net[to]) continue;
      if (sets.find(from) !== sets.find(to)) continue;
      for (let piece = to; piece >= 0; piece = next[piece]!) {
        const uses = pieces.content[piece]?.uses ?? [];
        if (uses.some((use) => lives.get(from)?.some((live) => isUnknownPin(machine, live, use))))
          found.add(to);
      }
    }
  }
  return found;
}

/** Finds the fewest meetings by which a harm comes about. */
function routesOver({ pieces: { of } }: Bench, { net }: Assembly, joins: readonly Join[]): Trace['route'] {
  const at = new Map<number, Join[]>();
  for (const join of joins)
    for (const one of join.nets) {
      const list = at.get(one);
      if (list) list.push(join);
      else at.set(one, [join]);
    }
  /** How each net is reached first from another: by which join, from which net. */
  const trees = new Map<number, ReadonlyMap<number, { readonly join: Join; readonly from: number }>>();
  const treeFrom = (start: number) => {
    const known = trees.get(start);
    if (known) return known;
    const tree = new Map<number, { join: Join; from: number }>();
    const queue = [start];
    for (const from of queue)
      for (const join of at.get(from) ?? []) {
        const to = join.nets[0] === from ? join.nets[1] : join.nets[0];
        if (to === start || tree.has(to)) continue;
        tree.set(to, { join, from });
        queue.push(to);
      }
    trees.set(start, tree);
    return tree;
  };
  return (harm) => {
    const { power, other, wish, uses = [], contacts } = harm;
    if (contacts[0] < 0) return [];
    const done = power ? uses[0] : uses[1];
    const start = net[power ? power.piece : of[uses[0]!.node]!]!;
    const end = net[other ? other.piece : of[wish ? wish.contact : done!.node]!]!;
    const tree = treeFrom(start);
    const route: Met[] = [];
    for (let step = tree.get(end); step; step = tree.get(step.from)) route.unshift(step.join.met);
    return route.length > 0 ? route : [contacts];
  };
}
