/**
 * Nets that a placement joins, and what is on each group of them. Made once for a machine and used for each placement anew, so
 * that a placement costs its own contacts only.
 */
export class Groups {
  private readonly parent: Int32Array;
  private readonly all: Uint8Array;
  private readonly seen: Int32Array;
  private readonly next: Int32Array;
  /** A pair of contacts, by nodes, by which a net came in. */
  private readonly viaPlug: Int32Array;
  private readonly viaSocket: Int32Array;
  private readonly isRight: Uint8Array;
  private readonly touched: number[] = [];
  private readonly roots: number[] = [];
  private round = 0;

  constructor(most: number) {
    this.parent = new Int32Array(most);
    this.all = new Uint8Array(most);
    this.seen = new Int32Array(most);
    this.next = new Int32Array(most);
    this.viaPlug = new Int32Array(most);
    this.viaSocket = new Int32Array(most);
    this.isRight = new Uint8Array(most);
  }

  begin(): void {
    this.round++;
    this.touched.length = 0;
  }

  private enter(net: number, plug: number, socket: number, isWrong: boolean): void {
    const isNew = this.seen[net] !== this.round;
    if (isNew) {
      this.seen[net] = this.round;
      this.parent[net] = net;
      this.touched.push(net);
    }
    // The first pair that should not meet tells more than one that should.
    if (isNew || (isWrong && this.isRight[net])) {
      this.viaPlug[net] = plug;
      this.viaSocket[net] = socket;
      this.isRight[net] = isWrong ? 0 : 1;
    }
  }

  private root(net: number): number {
    const { parent } = this;
    let at = net;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  }

  /** Joins two nets by the contacts `plug` and `socket` that meet; `isWrong` where the two are not one when all is in its place. */
  unite(a: number, b: number, plug: number, socket: number, isWrong: boolean): void {
    this.enter(a, plug, socket, isWrong);
    this.enter(b, plug, socket, isWrong);
    const x = this.root(a);
    const y = this.root(b);
    if (x !== y) this.parent[y] = x;
  }

  /** Finishes the groups, with the bits of each net gathered: the first net of each. Holds until the next ones begin. */
  close(bits: Uint8Array): readonly number[] {
    const { touched, roots, parent, all, next } = this;
    roots.length = 0;
    for (let i = 0; i < touched.length; i++) {
      const net = touched[i]!;
      if (parent[net] !== net) continue;
      roots.push(net);
      all[net] = bits[net]!;
      next[net] = -1;
    }
    for (let i = 0; i < touched.length; i++) {
      const net = touched[i]!;
      const root = this.root(net);
      if (root === net) continue;
      all[root]! |= bits[net]!;
      next[net] = next[root]!;
      next[root] = net;
    }
    return roots;
  }

  /** The next net of a group after this one, from its first on; −1 after the last. */
  after(net: number): number {
    return this.next[net]!;
  }

  /** What is on the group of a net, or on the net itself where it is in none. */
  bitsAt(net: number, bits: Uint8Array): number {
    return this.seen[net] === this.round ? this.all[this.root(net)]! : bits[net]!;
  }

  /** Adds to what is on the group of a net, or on the net itself where it is in none. */
  add(net: number, bits: Uint8Array, bit: number): void {
    if (this.seen[net] !== this.round) {
      this.enter(net, -1, -1, false);
      this.all[net] = bits[net]!;
      this.next[net] = -1;
    }
    this.all[this.root(net)]! |= bit;
  }

  via(net: number): readonly [number, number] {
    return [this.viaPlug[net]!, this.viaSocket[net]!];
  }
}
