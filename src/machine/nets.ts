import type { Evidence, JoinKind, Joins, Nets, Source } from './types.ts';

/** Collects joins while the machine is built. */
export class JoinList {
  private count = 0;
  private from = new Int32Array(4096);
  private to = new Int32Array(4096);
  private cause = new Int32Array(4096);
  private standing: Joins | undefined;
  private readonly causes: { kind: JoinKind; source: Source; evidence: Evidence }[] = [];

  /** A reason for joins; many joins share one. */
  because(kind: JoinKind, source: Source, evidence: Evidence = {}): number {
    this.causes.push({ kind, source, evidence });
    return this.causes.length - 1;
  }

  join(a: number, b: number, cause: number): void {
    const at = this.count++;
    if (at === this.from.length) this.grow();
    this.from[at] = a;
    this.to[at] = b;
    this.cause[at] = cause;
  }

  private grow(): void {
    this.from = doubled(this.from);
    this.to = doubled(this.to);
    this.cause = doubled(this.cause);
  }

  /** Says that all joins there are now are to stay. */
  stand(): void {
    this.standing = this.done();
  }

  /** Takes back all that came later. */
  clear(): void {
    this.count = this.standing?.from.length ?? 0;
    this.causes.length = this.standing?.causes.length ?? 0;
  }

  /** From and to of the joins that came later. */
  later(): number[] {
    const first = this.standing?.from.length ?? 0;
    return [...this.from.subarray(first, this.count), ...this.to.subarray(first, this.count)];
  }

  /** The joins so far; as long as those that stand are all, they are the same object. */
  done(): Joins {
    if (this.standing?.from.length === this.count) return this.standing;
    return {
      from: this.from.slice(0, this.count),
      to: this.to.slice(0, this.count),
      cause: this.cause.slice(0, this.count),
      causes: [...this.causes],
    };
  }

  /** Sets of joined nodes so far. */
  sets(nodeCount: number): Sets {
    const sets = new Sets(nodeCount);
    for (let i = 0; i < this.count; i++) sets.unite(this.from[i] as number, this.to[i] as number);
    return sets;
  }
}

function doubled(list: Int32Array): Int32Array<ArrayBuffer> {
  const longer = new Int32Array(list.length * 2);
  longer.set(list);
  return longer;
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
