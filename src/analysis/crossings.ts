import { isAbsent } from '../machine/copper.ts';
import type { Instance, Machine, Ribbon, RibbonEnd } from '../machine/types.ts';
import { type Conductor, isBad, Judge, type Pair, type Pattern } from './conductors.ts';
import type { NetIndex } from './nets.ts';

/** The composite map of a ribbon or cable between two of its ends. */
export interface Crossing {
  readonly ribbon: Ribbon;
  readonly a: Instance;
  readonly b: Instance;
  /** The ends as said; none of a cable's wires. */
  readonly endA?: RibbonEnd;
  readonly endB?: RibbonEnd;
  readonly unplugged: boolean;
  readonly conductors: readonly Conductor[];
  readonly pattern?: Pattern;
}

const crossed = new WeakMap<Machine, ReadonlySet<number>>();

/**
 * Nets that a ribbon or cable joins wrongly: what else is odd there has that cause. Where one mistake explains all that
 * is wrong, such as a turned connector, they are the nets of all its conductors.
 */
export function crossedNets(machine: Machine, nets: NetIndex): ReadonlySet<number> {
  const before = crossed.get(machine);
  if (before) return before;
  const found = new Set<number>();
  for (const { conductors, pattern, unplugged } of crossingsOf(machine, nets)) {
    if (unplugged || !conductors.some(isBad)) continue;
    for (const one of pattern ? conductors : conductors.filter(isBad))
      for (const node of [one.a, one.b]) found.add(machine.nets.of[node]!);
  }
  crossed.set(machine, found);
  return found;
}

/** The end that the others are held against, and each of the others: what their conductors join. */
export function crossingsOf(machine: Machine, nets: NetIndex): Crossing[] {
  const judge = new Judge(machine, nets);
  return machine.ribbons.flatMap((ribbon) =>
    ribbon.kind === 'ribbon' ? ofRibbon(ribbon, judge) : ofCable(ribbon, nets, judge),
  );
}

function ofRibbon(ribbon: Ribbon, judge: Judge): Crossing[] {
  const ends = ribbon.ends.filter(({ instance }) => instance !== undefined);
  const pairs = (one: RibbonEnd, other: RibbonEnd): Pair[] => {
    const straight = one.order === other.order;
    return [...one.contacts].flatMap((a, k) => {
      const b = other.contacts[k]!;
      if (a < 0 || b < 0) return [];
      const twisted = !straight && one.order.indexOf(k) !== other.order.indexOf(k);
      return [{ a, b, twisted, source: other.source }];
    });
  };
  const between = (one: RibbonEnd, other: RibbonEnd): Crossing => ({
    ribbon,
    a: one.instance!,
    b: other.instance!,
    endA: one,
    endB: other,
    unplugged: one.unplugged || other.unplugged,
    ...judge.all(one.instance!, other.instance!, pairs(one, other)),
  });
  const [first] = ends;
  if (first === undefined || ends.length < 2) return [];
  // Of three ends, two usually agree: the odd one is to be named, not the innocent two.
  const tables = ends.map((one) => ends.filter((other) => other !== one).map((other) => between(one, other)));
  const badness = tables.map((table) => table.filter(isWrong).length);
  const reference = badness.indexOf(Math.min(...badness));
  return tables[reference]!;
}

const isWrong = ({ conductors }: Crossing): boolean => conductors.some(isBad);

function ofCable(ribbon: Ribbon, nets: NetIndex, judge: Judge): Crossing[] {
  const groups = new Map<string, { a: Instance; b: Instance; pairs: Pair[] }>();
  for (const wire of ribbon.wires) {
    const [a, b] = [nets.instanceOf(wire.a), nets.instanceOf(wire.b)];
    if (isAbsent(a.pins, wire.a - a.base) || isAbsent(b.pins, wire.b - b.base)) continue;
    const key = `${a.path}\n${b.path}`;
    const group = groups.get(key) ?? { a, b, pairs: [] };
    groups.set(key, group);
    group.pairs.push({ ...wire, twisted: false });
  }
  return [...groups.values()].map(({ a, b, pairs }) => ({
    ribbon,
    a,
    b,
    unplugged: false,
    ...judge.all(a, b, pairs),
  }));
}
