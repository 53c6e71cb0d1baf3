import type { Machine } from '../machine/types.ts';

/** Which grounds are one return for current. */
export interface Returns {
  /** What each return is called: a ground of its own, or `ground` where there is one return only. */
  readonly names: readonly string[];
  /** The return that a net of ground is part of, and the one that a supply's current comes back by. */
  readonly ofNet: ReadonlyMap<number, number>;
  readonly ofSupply: ReadonlyMap<string, number>;
}

/**
 * Grounds are one return where they are one copper, declared one ground, or grounds of one supply. Ground that is none
 * of any supply's is a return of its own, except where there is one only: then it is meant to be that one.
 */
export function returnsOf(machine: Machine): Returns {
  const { of } = machine.nets;
  const groups = new Groups();
  const nets = new Map<number, string>();
  const ground = (node: number, name: string): void => {
    const net = of[node]!;
    const before = nets.get(net);
    if (before === name) return;
    if (before === undefined) nets.set(net, name);
    const group = machine.railNames.grounds.get(name);
    groups.join(`net ${net}`, group === undefined ? `name ${name}` : `group ${group}`);
  };
  for (const { supply, node, name } of machine.supplyGrounds) {
    ground(node, name);
    groups.join(`supply ${supply.name}`, `net ${of[node]}`);
  }
  for (const { pins, base } of machine.instances) {
    pins.claims.forEach((claim, i) => {
      if (claim?.kind === 'ground') ground(base + i, claim.name);
    });
  }
  const supplies = new Set(machine.supplyGrounds.map(({ supply }) => supply.name));
  const fed = new Set([...supplies].map((name) => groups.of(`supply ${name}`)));
  const orphan = fed.size === 1 ? [...fed][0]! : '';
  const indices = new Map<string, number>();
  const names: string[] = [];
  const index = (key: string, name: string): number => {
    const root = groups.of(key);
    const group = fed.has(root) ? root : orphan;
    let found = indices.get(group);
    if (found === undefined) {
      found = names.push(name) - 1;
      indices.set(group, found);
    }
    return found;
  };
  const ofNet = new Map([...nets].map(([net, name]) => [net, index(`net ${net}`, name)]));
  const ofSupply = new Map([...supplies].map((name) => [name, index(`supply ${name}`, name)]));
  return { names: names.length === 1 ? ['ground'] : names, ofNet, ofSupply };
}

/** Things joined into groups, each known by one of its members. Lives as long as returnsOf. */
class Groups {
  private readonly up = new Map<string, string>();

  of(key: string): string {
    let root = key;
    for (let next = this.up.get(root); next !== undefined; next = this.up.get(root)) root = next;
    // Shortens the way for the next one who asks.
    for (let one = key; one !== root; ) {
      const next = this.up.get(one)!;
      this.up.set(one, root);
      one = next;
    }
    return root;
  }

  join(a: string, b: string): void {
    const [one, other] = [this.of(a), this.of(b)];
    if (one !== other) this.up.set(one, other);
  }
}
