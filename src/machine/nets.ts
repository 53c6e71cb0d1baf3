import type { Evidence, JoinKind, Joins, Nets, Source } from './types.ts';

/** Collects joins while the machine is built. */
export class JoinList {
  private readonly from: number[] = [];
  private readonly to: number[] = [];
  private readonly cause: number[] = [];
  private readonly causes: { kind: JoinKind; source: Source; evidence: Evidence }[] = [];

  /** A reason for joins; many joins share one. */
  because(kind: JoinKind, source: Source, evidence: Evidence = {}): number {
    this.causes.push({ kind, source, evidence });
    return this.causes.length - 1;
  }

  join(a: number, b: number, cause: number): void {
    this.from.push(a);
    this.to.push(b);
    this.cause.push(cause);
  }

  done(): Joins {
    return {
      from: new Int32Array(this.from),
      to: new Int32Array(this.to),
      cause: new Int32Array(this.cause),
      causes: this.causes,
    };
  }

  /** Sets of joined nodes so far. */
  sets(nodeCount: number): Sets {
    const sets = new Sets(nodeCount);
    for (let i = 0; i < this.from.length; i++) sets.unite(this.from[i] as number, this.to[i] as number);
    return sets;
  }
}

/** Disjoint sets of nodes, with path halving and union by size. Near-linear. */
export class Sets {
  private readonly parent: Int32Array;
  private readonly size: Int32Array;

  constructor(count: number) {
    this.parent = new Int32Array(count);
    for (let i = 0; i < count; i++) this.parent[i] = i;
    this.size = new Int32Array(count).fill(1);
  }

  find(node: number): number {
    const { parent } = this;
    let at = node;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] as number] as number;
      at = parent[at] as number;
    }
    return at;
  }

  unite(a: number, b: number): void {
    let [x, y] = [this.find(a), this.find(b)];
    if (x === y) return;
    if ((this.size[x] as number) < (this.size[y] as number)) [x, y] = [y, x];
    this.parent[y] = x;
    this.size[x] = (this.size[x] as number) + (this.size[y] as number);
  }
}

/** Numbers the sets in the order of their first node, and lists each one's nodes in rising order. */
export function netsOf(sets: Sets, nodeCount: number): Nets {
  const of = new Int32Array(nodeCount);
  const numberOf = new Int32Array(nodeCount).fill(-1);
  let count = 0;
  for (let node = 0; node < nodeCount; node++) {
    const root = sets.find(node);
    if (numberOf[root] === -1) numberOf[root] = count++;
    of[node] = numberOf[root] as number;
  }
  const start = new Int32Array(count + 1);
  for (let node = 0; node < nodeCount; node++) start[of[node]! + 1]! += 1;
  for (let net = 0; net < count; net++) start[net + 1]! += start[net]!;
  const next = start.slice(0, count);
  const members = new Int32Array(nodeCount);
  for (let node = 0; node < nodeCount; node++) {
    const net = of[node] as number;
    members[next[net] as number] = node;
    next[net] = (next[net] as number) + 1;
  }
  return { count, of, start, members };
}
