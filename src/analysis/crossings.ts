import { isGroundName, signalName } from '../machine/names.ts';
import type { Board, Claim, Instance, Machine, Ribbon, RibbonEnd, Source } from '../machine/types.ts';
import { isAlternating } from './meetings.ts';
import type { NetIndex } from './nets.ts';
import { nominalVolts, takenRails } from './rails.ts';
import { straysOf } from './strays.ts';

/** What two contacts mean to each other at the ends of one conductor, worst last. */
type Meeting = 'nothing' | 'agree' | 'differ' | 'stray' | 'ground' | 'crossed' | 'power';

/** One conductor between two connectors, with the contacts that it joins. */
export interface Conductor {
  readonly a: number;
  readonly b: number;
  readonly meeting: Meeting;
  /** Of a stray: a name that lands on a spare contact, where the other end has it. */
  readonly home?: number;
  readonly source: Source;
}

/** How a whole ribbon is wrong: as if one connector were turned, or everything lay one conductor over. */
type Pattern = 'turned' | 'over' | 'rows';

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
  const wires = wiresOfCables(machine);
  return machine.ribbons.flatMap((ribbon) =>
    ribbon.kind === 'ribbon'
      ? ofRibbon(ribbon, judge)
      : ofCable(ribbon, wires.get(ribbon) ?? [], nets, judge),
  );
}

interface Pair {
  readonly a: number;
  readonly b: number;
  /** Whether a twist lies between the two. */
  readonly twisted: boolean;
  readonly source: Source;
}

function ofRibbon(ribbon: Ribbon, judge: Judge): Crossing[] {
  const ends = ribbon.ends.filter(({ instance }) => instance !== undefined);
  const pairs = (one: RibbonEnd, other: RibbonEnd): Pair[] => {
    const straight = one.order === other.order;
    return [...one.contacts].flatMap((a, k) => {
      const b = other.contacts[k]!;
      return a < 0 || b < 0
        ? []
        : [
            {
              a,
              b,
              twisted: !straight && one.order.indexOf(k) !== other.order.indexOf(k),
              source: other.source,
            },
          ];
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

export const isBad = ({ meeting }: Conductor): boolean =>
  meeting === 'power' || meeting === 'crossed' || meeting === 'ground' || meeting === 'stray';
const isWrong = ({ conductors }: Crossing): boolean => conductors.some(isBad);

function ofCable(ribbon: Ribbon, wires: readonly Pair[], nets: NetIndex, judge: Judge): Crossing[] {
  const groups = new Map<string, { a: Instance; b: Instance; pairs: Pair[] }>();
  for (const wire of wires) {
    const [a, b] = [nets.instanceOf(wire.a), nets.instanceOf(wire.b)];
    const key = `${a.path}\n${b.path}`;
    const group = groups.get(key) ?? { a, b, pairs: [] };
    groups.set(key, group);
    group.pairs.push(wire);
  }
  return [...groups.values()].map(({ a, b, pairs }) => ({
    ribbon,
    a,
    b,
    unplugged: false,
    ...judge.all(a, b, pairs),
  }));
}

/** The wires of each cable: a cable keeps none itself, its joins stand in the text behind its first line. */
function wiresOfCables({ ribbons, joins }: Machine): Map<Ribbon, Pair[]> {
  const wires = new Map<Ribbon, Pair[]>();
  const cables = ribbons.filter(({ kind }) => kind === 'cable').sort((x, y) => x.source.from - y.source.from);
  if (cables.length === 0) return wires;
  const owners = new Map<number, Ribbon | undefined>();
  const ownerOf = (cause: number): Ribbon | undefined => {
    if (!owners.has(cause)) {
      const { file, from } = joins.causes[cause]!.source;
      owners.set(
        cause,
        cables.findLast(({ source }) => source.file === file && source.from <= from),
      );
    }
    return owners.get(cause);
  };
  for (let i = 0; i < joins.cause.length; i++) {
    const cause = joins.cause[i]!;
    if (joins.causes[cause]!.kind !== 'cable') continue;
    const cable = ownerOf(cause);
    if (cable === undefined) continue;
    const pair = { a: joins.from[i]!, b: joins.to[i]!, twisted: false, source: joins.causes[cause]!.source };
    const list = wires.get(cable);
    if (list) list.push(pair);
    else wires.set(cable, [pair]);
  }
  return wires;
}

/** Judges what conductors join. Lives as long as crossingsOf. */
class Judge {
  private readonly machine: Machine;
  private readonly nets: NetIndex;
  private readonly taken: ReadonlySet<string>;
  private readonly carried = new Map<Instance, ReadonlySet<string>>();
  private readonly roles = new Map<Instance, ReadonlyMap<string, string>>();

  constructor(machine: Machine, nets: NetIndex) {
    this.machine = machine;
    this.nets = nets;
    this.taken = takenRails(machine);
  }

  all(a: Instance, b: Instance, pairs: readonly Pair[]): { conductors: Conductor[]; pattern?: Pattern } {
    const met = pairs.map((pair) => ({ ...pair, meeting: this.meeting(a, b, pair.a, pair.b) }));
    const strays = straysOf(
      this.machine,
      this.nets,
      met.map((one) => ({ ...one, agrees: one.meeting === 'agree' })),
    );
    const conductors = met.map((one, k): Conductor => {
      const home = strays.get(k);
      // Where both ends drive the name it is kept apart on purpose.
      if (home === undefined || this.bothDrive(a, b, home)) return one;
      return { ...one, meeting: 'stray', home };
    });
    const pattern = conductors.some(isBad) ? this.pattern(a, b, pairs) : undefined;
    return { conductors, ...(pattern ? { pattern } : {}) };
  }

  /** The one mistake that explains all that is wrong, where there is one. */
  private pattern(a: Instance, b: Instance, pairs: readonly Pair[]): Pattern | undefined {
    const n = pairs.length;
    const maps: [Pattern, (k: number) => number][] = [
      ['turned', (k) => n - 1 - k],
      ['over', (k) => k + 1],
      ['over', (k) => k - 1],
      ['rows', (k) => k ^ 1],
    ];
    let best: Pattern | undefined;
    // It must explain more than the ribbon as it is, on which only strays may be wrong.
    let most = Math.max(
      1,
      this.agreeing(a, b, pairs, (k) => k),
    );
    for (const [pattern, map] of maps) {
      const agreeing = this.agreeing(a, b, pairs, map);
      if (agreeing > most) [best, most] = [pattern, agreeing];
    }
    return best;
  }

  /** How many conductors would be right if each met what another meets now; none where one would still be wrong. */
  private agreeing(a: Instance, b: Instance, pairs: readonly Pair[], map: (k: number) => number): number {
    let count = 0;
    for (let k = 0; k < pairs.length; k++) {
      const other = pairs[map(k)];
      if (other === undefined) continue;
      const meeting = this.meeting(a, b, pairs[k]!.a, other.b);
      if (meeting === 'agree') count += 1;
      else if (meeting !== 'nothing' && meeting !== 'differ') return 0;
    }
    return count;
  }

  private claim(node: number): Claim | undefined {
    const instance = this.nets.instanceOf(node);
    const claim = instance.pins.claims[node - instance.base];
    return claim !== undefined && ['rail', 'ground', 'signal'].includes(claim.kind) ? claim : undefined;
  }

  private meeting(a: Instance, b: Instance, nodeA: number, nodeB: number): Meeting {
    const [one, other] = [this.claim(nodeA), this.claim(nodeB)];
    if (one === undefined || other === undefined) return 'nothing';
    if (this.same(one, other)) return 'agree';
    const kinds = [this.kind(one), this.kind(other)];
    const crossed = this.carries(b, one) || this.carries(a, other);
    if (kinds.every((kind) => kind === 'rail') && !crossed && this.isUnsaid(one, other)) return 'agree';
    if (kinds.includes('rail')) return 'power';
    if (kinds.includes('ground')) {
      const signalCrosses = one.kind === 'signal' ? this.carries(b, one) : this.carries(a, other);
      return signalCrosses ? 'crossed' : 'ground';
    }
    return crossed && !this.isMeant(a, b, one, other) ? 'crossed' : 'differ';
  }

  /** What a card takes is a rail, also where nobody declares it. */
  private kind({ kind, name }: Claim): Claim['kind'] {
    return kind === 'signal' && this.taken.has(name) ? 'rail' : kind;
  }

  /** Whether nobody says the volts of one of them: VCC may be any. */
  private isUnsaid(...both: readonly Claim[]): boolean {
    return both.some(({ name }) => nominalVolts(this.machine, name) === undefined);
  }

  private same(one: Claim, other: Claim): boolean {
    if (namesOf(one).some((name) => namesOf(other).includes(name))) return true;
    if (this.machine.aliases.has(`${one.name}\n${other.name}`)) return true;
    // Differing grounds, and rails of one voltage, are for rail-conflict to ask about.
    if (one.kind === 'ground' && other.kind === 'ground') return true;
    if (one.kind !== 'rail' || other.kind !== 'rail') return false;
    if (isAlternating(this.machine, one.name) !== isAlternating(this.machine, other.name)) return false;
    const [u, v] = [nominalVolts(this.machine, one.name), nominalVolts(this.machine, other.name)];
    return u !== undefined && u === v;
  }

  /** Whether a connector carries the name of a claim. */
  private carries(instance: Instance, claim: Claim): boolean {
    let names = this.carried.get(instance);
    if (names === undefined) {
      names = new Set(
        instance.pins.claims.flatMap((one) => (one === undefined || one.name === '' ? [] : namesOf(one))),
      );
      this.carried.set(instance, names);
    }
    return namesOf(claim).some((name) => names.has(name));
  }

  /**
   * Whether a signal is meant to meet another of its kind: straight through, two outputs would meet on one conductor and
   * two inputs on the other, or the two names are each other's opposite, as between two terminals.
   */
  private isMeant(a: Instance, b: Instance, one: Claim, other: Claim): boolean {
    if (areOpposite(one.name, other.name)) return true;
    const roles = (claim: Claim): Roles => [this.role(a, claim.name), this.role(b, claim.name)];
    const [[x, y], [u, v]] = [roles(one), roles(other)];
    // Two inputs on both is no such pair: two boards that hear what a third one drives want it straight.
    return x !== undefined && u !== undefined && x === y && u === v && x !== u;
  }

  private bothDrive(a: Instance, b: Instance, home: number): boolean {
    const name = this.claim(home)?.name ?? '';
    return this.role(a, name) === 'drives' && this.role(b, name) === 'drives';
  }

  /** What a board does with a name at a connector, where it does one thing only. */
  private role(instance: Instance, name: string): string | undefined {
    let table = this.roles.get(instance);
    if (table === undefined) {
      table = rolesOf(instance);
      this.roles.set(instance, table);
    }
    return table.get(name);
  }
}

type Roles = readonly [string | undefined, string | undefined];

function rolesOf({ board, port }: Instance): Map<string, string> {
  const table = new Map<string, string>();
  for (const { kind, name, at } of (board as Board | undefined)?.card.uses ?? []) {
    if (at !== undefined && at !== port.name) continue;
    if (kind !== 'drives' && kind !== 'receives') table.set(name, '');
    else table.set(name, table.has(name) && table.get(name) !== kind ? '' : kind);
  }
  for (const [name, role] of table) if (role === '') table.delete(name);
  return table;
}

const namesOf = ({ name, aliases }: Claim): readonly string[] => [name, ...aliases];

/** Names that belong crossed between two equal ends (common practice; the circuits of EIA-232, from memory). */
const OPPOSITES: readonly (readonly [string, string])[] = [
  ['TX', 'RX'],
  ['TXD', 'RXD'],
  ['TD', 'RD'],
  ['RTS', 'CTS'],
  ['DTR', 'DSR'],
  ['DTR', 'DCD'],
  ['OUT', 'IN'],
];

/** `TXD` and `RXD`, `SOUT2` and `SIN2`: equal but for one such word. */
function areOpposite(one: string, other: string): boolean {
  const [a, b] = [one.toUpperCase(), other.toUpperCase()];
  return OPPOSITES.some(
    ([left, right]) =>
      (a.includes(left) && a.replace(left, right) === b) ||
      (b.includes(left) && b.replace(left, right) === a),
  );
}

/** Whether two names differ in their active-low mark only: one of them means the opposite level. */
export function differsInPolarity({ activeLow }: Machine, one: string, other: string): boolean {
  const [a, b] = [signalName(one, activeLow), signalName(other, activeLow)];
  return a.base === b.base && a.low !== b.low && !isGroundName(one);
}
