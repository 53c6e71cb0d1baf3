import type { Machine } from '../machine/types.ts';

/** A step from one node to the next, and the join that takes it. */
export interface PathStep {
  readonly node: number;
  /** Index into `machine.joins`; −1 at the start. */
  readonly join: number;
}

/** The joins at each node, as one list: those of node n are `at[start[n] … start[n + 1])`. */
interface Adjacency {
  readonly start: Int32Array;
  readonly at: Int32Array;
}

const adjacencies = new WeakMap<Machine, Adjacency>();

function adjacency(machine: Machine): Adjacency {
  const kept = adjacencies.get(machine);
  if (kept) return kept;
  const { from, to } = machine.joins;
  const start = new Int32Array(machine.nodeCount + 1);
  for (let i = 0; i < from.length; i++) {
    start[from[i]! + 1]! += 1;
    start[to[i]! + 1]! += 1;
  }
  for (let n = 0; n < machine.nodeCount; n++) start[n + 1]! += start[n]!;
  const next = start.slice();
  const at = new Int32Array(from.length * 2);
  for (let i = 0; i < from.length; i++) {
    at[next[from[i]!]!++] = i;
    at[next[to[i]!]!++] = i;
  }
  const made = { start, at };
  adjacencies.set(machine, made);
  return made;
}

/** The joins at a node, each with the node that it leads to. */
export function* joinsAt(machine: Machine, node: number): Iterable<PathStep> {
  const { start, at } = adjacency(machine);
  const { from, to } = machine.joins;
  for (let i = start[node]!; i < start[node + 1]!; i++) {
    const join = at[i]!;
    yield { node: from[join] === node ? to[join]! : from[join]!, join };
  }
}

/**
 * The shortest way from one node to another inside one net; undefined where there is none. `passes` may forbid joins
 * (such as those through boards, for a reading taken with the cards out).
 */
export function pathBetween(
  machine: Machine,
  from: number,
  to: number,
  passes: (join: number) => boolean = () => true,
): PathStep[] | undefined {
  if (machine.nets.of[from] !== machine.nets.of[to]) return undefined;
  const { start, at } = adjacency(machine);
  const { joins } = machine;
  const by = new Map<number, number>([[from, -1]]);
  const queue = [from];
  for (let head = 0; head < queue.length && !by.has(to); head++) {
    const node = queue[head]!;
    for (let i = start[node]!; i < start[node + 1]!; i++) {
      const join = at[i]!;
      const other = joins.from[join] === node ? joins.to[join]! : joins.from[join]!;
      if (by.has(other) || !passes(join)) continue;
      by.set(other, join);
      queue.push(other);
    }
  }
  if (!by.has(to)) return undefined;
  const path: PathStep[] = [];
  for (let node = to; ; ) {
    const join = by.get(node)!;
    path.push({ node, join });
    if (join < 0) return path.reverse();
    node = joins.from[join] === node ? joins.to[join]! : joins.from[join]!;
  }
}

/** Nodes joined with this one by joins that `passes` lets through, this one included. */
export function reach(machine: Machine, from: number, passes: (join: number) => boolean): Set<number> {
  const { start, at } = adjacency(machine);
  const { joins } = machine;
  const seen = new Set([from]);
  for (const node of seen) {
    for (let i = start[node]!; i < start[node + 1]!; i++) {
      const join = at[i]!;
      const other = joins.from[join] === node ? joins.to[join]! : joins.from[join]!;
      if (!seen.has(other) && passes(join)) seen.add(other);
    }
  }
  return seen;
}

/** Where the surroundings of two seeds touch: the joins on the way from the one to the other, in order. */
export interface Border {
  readonly a: number;
  readonly b: number;
  readonly joins: readonly number[];
}

/**
 * Gives each node of a net to the seed that it is nearest to (the earlier one where two are as near), and finds every
 * place where the parts of two seeds touch that `matters`. Linear in the joins of the net.
 */
export function bordersBetween(
  machine: Machine,
  seeds: readonly number[],
  matters: (a: number, b: number) => boolean,
): Border[] {
  const { start, at } = adjacency(machine);
  const { joins } = machine;
  const by = new Map<number, { seed: number; join: number }>();
  for (const seed of seeds) by.set(seed, { seed, join: -1 });
  const other = (join: number, node: number): number =>
    joins.from[join] === node ? joins.to[join]! : joins.from[join]!;
  for (const [node, { seed }] of by) {
    for (let i = start[node]!; i < start[node + 1]!; i++) {
      const next = other(at[i]!, node);
      if (!by.has(next)) by.set(next, { seed, join: at[i]! });
    }
  }
  /** Joins from a node back to its seed. */
  const back = (from: number): number[] => {
    const list: number[] = [];
    for (let node = from, join = by.get(node)!.join; join >= 0; join = by.get(node)!.join) {
      list.push(join);
      node = other(join, node);
    }
    return list;
  };
  const borders: Border[] = [];
  for (const [node, { seed }] of by) {
    for (let i = start[node]!; i < start[node + 1]!; i++) {
      const join = at[i]!;
      if (joins.from[join] !== node) continue;
      const next = joins.to[join]!;
      const beyond = by.get(next)!.seed;
      if (beyond === seed || !matters(seed, beyond)) continue;
      borders.push({ a: seed, b: beyond, joins: [...back(node).reverse(), join, ...back(next)] });
    }
  }
  return borders;
}
