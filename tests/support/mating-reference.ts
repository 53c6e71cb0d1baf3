import { biasedChips } from '../../src/analysis/bias-rails.ts';
import { differ, isAlternating, type VoltRange, voltsOfRail } from '../../src/analysis/meetings.ts';
import { outputKind } from '../../src/analysis/parts.ts';
import { harmOf } from '../../src/analysis/pins.ts';
import { inputOf, nominalVolts } from '../../src/analysis/rails.ts';
import { copperOn } from '../../src/machine/copper.ts';
import type { Board, Machine } from '../../src/machine/types.ts';
import {
  behind,
  CableContacts,
  type Case,
  casesOf,
  holds,
  type Meeting,
  type Plug,
  plugsOf,
} from './mating-reference-cases.ts';

/**
 * What every wrong mating of a machine does, worked out the slow way: each case joins all copper of the machine anew, and looks at
 * everything on every net. It is here to be compared with, and shares nothing with what it is compared with but the machine and
 * the figures of its parts.
 */
export interface ReferenceCase {
  /** `CPU`; `W1 end 0`. */
  readonly plug: string;
  readonly place: string;
  /** `turned shift over`, as in `wayText`; with the crimp, where the connector is crimped wrong. */
  readonly way: string;
  /** 1 the worst, 9 nothing. */
  readonly rank: number;
  /** Everything that happens and is as bad as that: what, to whom or by which rails. */
  readonly harms: ReadonlySet<string>;
}

const RANK: Readonly<Record<string, number>> = {
  'foreign-rail': 1,
  'rails-joined': 1,
  'ground-on-rail': 1,
  'bias-lost': 1,
  'ground-lost': 2,
  'rail-to-ground': 3,
  'rail-on-output': 4,
  'outputs-fight': 5,
  'ground-on-output': 6,
  'ground-on-line': 7,
  'rails-paralleled': 8,
};

/** Which nodes are one net. */
function netsOf(
  count: number,
  joins: readonly Join[],
  isMade: (join: Join) => boolean = () => true,
  meeting: Meeting = [],
): Int32Array {
  const parent = Int32Array.from({ length: count }, (_, i) => i);
  const root = (node: number): number => {
    let at = node;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  for (const join of joins) if (isMade(join)) parent[root(join.pair[0])] = root(join.pair[1]);
  for (const [a, b] of meeting) parent[root(a)] = root(b);
  return parent.map((_, node) => root(node));
}

interface Join {
  readonly pair: readonly [number, number];
  /** The plug without which this is not joined; undefined for copper that stays. */
  readonly plug?: Plug;
}

/** All that is joined as written, with the plug that makes each join. */
function joinsOf(machine: Machine, cables: CableContacts, plugs: readonly Plug[]): Join[] {
  const { joins } = machine;
  const readings: [number, number][] = [];
  const made: Join[] = [];
  for (let j = 0; j < joins.from.length; j++) {
    const pair: [number, number] = [joins.from[j]!, joins.to[j]!];
    const { kind } = joins.causes[joins.cause[j]!]!;
    if (kind === 'cable') continue;
    if (kind === 'reading') readings.push(pair);
    else if (kind === 'finger') {
      const plug = plugs.find(({ board }) => board?.instances.some((one) => holds(one, pair[0])));
      made.push({ pair, plug: plug! });
    } else if (kind === 'ribbon') {
      const plug = plugs.find(
        ({ ribbon, end }) =>
          ribbon?.kind === 'ribbon' &&
          pair[0] >= ribbon.base &&
          pair[0] < ribbon.base + ribbon.conductors &&
          end!.contacts[pair[0] - ribbon.base] === pair[1],
      );
      made.push({ pair, plug: plug! });
    } else made.push({ pair });
  }
  for (const plug of plugs) {
    const { ribbon, end } = plug;
    if (ribbon?.kind !== 'cable') continue;
    const { base, pins } = end!.instance!;
    for (let k = 0; k < pins.connector.labels.length; k++) {
      const node = behind(cables, plug, k);
      if (node !== undefined && !pins.pulled.has(k)) made.push({ pair: [node, base + k], plug });
    }
  }
  for (const cable of machine.ribbons)
    for (const { a, b } of cable.wires) made.push({ pair: [cables.at(cable, a), cables.at(cable, b)] });
  const others = netsOf(cables.count, made);
  for (const pair of readings) if (others[pair[0]] !== others[pair[1]]) made.push({ pair });
  return made;
}

interface Live {
  readonly what: 'rail' | 'ground';
  readonly name: string;
  readonly owner: string;
  readonly volts: VoltRange;
  readonly ac: boolean;
  readonly node: number;
  /** Where a regulator is fed. */
  readonly input?: number;
}

interface Wish {
  readonly board: Board;
  readonly what: 'rail' | 'ground';
  readonly name: string;
  readonly volts: VoltRange | undefined;
  readonly ac: boolean;
  readonly node: number;
}

const GROUND: VoltRange = { low: 0, high: 0 };

function livesOf(machine: Machine): Live[] {
  const lives: Live[] = machine.railSources.map((source) => {
    const { rail: name, owner, low, high, ac, node } = source;
    const input = source.kind === 'regulator' ? inputOf(machine, source) : undefined;
    return {
      what: 'rail',
      name,
      owner,
      volts: { low, high },
      ac,
      node,
      ...(input === undefined ? {} : { input }),
    };
  });
  for (const { supply, name, node } of machine.supplyGrounds)
    lives.push({ what: 'ground', name, owner: supply.name, volts: GROUND, ac: false, node });
  if (machine.supplies.length > 0) return lives;
  for (const { backplane, pins, base } of machine.instances) {
    if (backplane === undefined) continue;
    pins.claims.forEach((claim, i) => {
      if (claim?.kind !== 'rail' && claim?.kind !== 'ground') return;
      const { kind: what, name, owner: bus } = claim;
      const volts = what === 'ground' ? GROUND : voltsOfRail(machine, name, bus);
      const ac = isAlternating(machine, name);
      if (volts) lives.push({ what, name, owner: backplane.name, volts, ac, node: base + i });
    });
  }
  return lives;
}

function wishesOf(machine: Machine): Wish[] {
  const wishes: Wish[] = [];
  for (const { board, pins, base } of machine.instances) {
    if (board === undefined) continue;
    const copper = copperOn(board.card, pins);
    pins.claims.forEach((claim, i) => {
      if (copper[i] !== 'yes' || (claim?.kind !== 'rail' && claim?.kind !== 'ground')) return;
      const { kind: what, name, owner } = claim;
      const nominal = nominalVolts(machine, name, board.card);
      const volts =
        what === 'ground'
          ? GROUND
          : (voltsOfRail(machine, name, owner) ??
            (nominal === undefined ? undefined : { low: nominal, high: nominal }));
      wishes.push({ board, what, name, volts, ac: isAlternating(machine, name), node: base + i });
    });
  }
  return wishes;
}

const sign = ({ low, high }: VoltRange): number => (low + high < 0 ? -1 : 1);
const most = ({ low, high }: VoltRange): number => Math.max(Math.abs(low), Math.abs(high));

/** What is live in a case: regulators once what they are fed with is. */
function liveIn(nets: Int32Array, lives: readonly Live[]): Live[] {
  const live = lives.filter(({ input }) => input === undefined);
  for (let before = -1; before !== live.length; ) {
    before = live.length;
    for (const one of lives) {
      if (live.includes(one)) continue;
      const fed = live.some(
        ({ what, volts, ac, node }) =>
          what === 'rail' && nets[node] === nets[one.input!] && (ac || sign(volts) === sign(one.volts)),
      );
      if (fed) live.push(one);
    }
  }
  return live;
}

interface Ready {
  readonly machine: Machine;
  readonly plugs: readonly Plug[];
  readonly count: number;
  readonly joins: readonly Join[];
  readonly written: Int32Array;
  readonly writtenLive: readonly Live[];
  readonly lives: readonly Live[];
  readonly wishes: readonly Wish[];
  readonly uses: Machine['uses'];
  readonly outputs: readonly { node: number; board: Board; kind: string }[];
  readonly biased: ReturnType<typeof biasedChips>;
}

const OUTPUTS = new Set(['drives', 'transceives', 'pulls', 'starts']);

function isOut(plug: Plug, one: Case): boolean {
  if (plug === one.plug || plug === one.also || plug.end?.unplugged) return true;
  if (plug.board) return plug.board.slot !== undefined && plug.board.slot === one.sockets[0]!.slot;
  return one.sockets.includes(plug.end!.instance!);
}

/** What is told of one case: only what is as bad as the worst so far is kept. */
class Worst {
  rank = 9;
  readonly harms = new Set<string>();
  tell(kind: string, ...who: readonly string[]): void {
    const rank = RANK[kind]!;
    if (rank > this.rank) return;
    if (rank < this.rank) this.harms.clear();
    this.rank = rank;
    this.harms.add(`${kind}: ${[...who].sort().join(' and ')}`);
  }
}

function judge(ready: Ready, one: Case): Pick<ReferenceCase, 'rank' | 'harms'> {
  const { machine, plugs, count, joins, written, lives, wishes, uses, outputs } = ready;
  const out = new Set(plugs.filter((plug) => isOut(plug, one)));
  const nets = netsOf(count, joins, ({ plug }) => plug === undefined || !out.has(plug), one.meeting);
  const live = liveIn(nets, lives);
  const worst = new Worst();
  const grounded = new Set(live.flatMap(({ what, node }) => (what === 'ground' ? [nets[node]!] : [])));
  const meet = (a: number, b: number): boolean => nets[a] === nets[b] && written[a] !== written[b];
  for (const power of live) {
    for (const other of live) {
      if (!meet(power.node, other.node)) continue;
      const both = [power, other].map(({ name, owner }) => `${name} of ${owner}`);
      if (power.what !== other.what) worst.tell('rail-to-ground', ...both);
      else if (power.what === 'rail') {
        if (power.ac !== other.ac || differ(power.volts, other.volts)) worst.tell('rails-joined', ...both);
        else if (both[0] !== both[1] && !machine.aliases.has(`${power.name}\n${other.name}`))
          worst.tell('rails-paralleled', ...both);
      }
    }
    for (const wish of wishes) {
      if (power.what === 'ground' || !meet(power.node, wish.node)) continue;
      const foreign =
        wish.volts !== undefined &&
        (power.ac !== wish.ac ||
          (differ(power.volts, wish.volts) &&
            (sign(power.volts) !== sign(wish.volts) || most(power.volts) > most(wish.volts))));
      // On live ground as well, the rail is shorted, and no ground stands on it.
      if (wish.what === 'ground') {
        if (!grounded.has(nets[power.node]!)) worst.tell('ground-on-rail', power.name, wish.board.name);
      } else if (foreign) worst.tell('foreign-rail', power.name, wish.board.name);
    }
    for (const use of uses) {
      if (!meet(power.node, use.node)) continue;
      const { board, card } = use;
      const harm = harmOf(machine, card, power.volts)?.kind;
      if (power.what === 'ground')
        worst.tell(harm === 'fights' ? 'ground-on-output' : 'ground-on-line', power.name, board.name);
      else if (power.ac || harm === 'limit') worst.tell('foreign-rail', power.name, board.name);
      else if (harm === 'fights') worst.tell('rail-on-output', power.name, board.name);
    }
  }
  const byNet = new Map<number, (typeof outputs)[number][]>();
  for (const output of outputs) {
    const some = byNet.get(nets[output.node]!);
    if (some) some.push(output);
    else byNet.set(nets[output.node]!, [output]);
  }
  for (const some of byNet.values())
    for (const a of some)
      for (const b of some)
        if (meet(a.node, b.node) && (a.kind !== 'open-collector' || b.kind !== 'open-collector'))
          worst.tell('outputs-fight', a.board.name, b.board.name);
  for (const board of groundsLost(ready, one, nets, live)) worst.tell('ground-lost', board);
  for (const board of biasesLost(ready, one, nets, live)) worst.tell('bias-lost', board);
  return worst;
}

const netsWith = (nets: Int32Array, live: readonly Live[], is: (one: Live) => boolean): Set<number> =>
  new Set(live.filter(is).map(({ node }) => nets[node]!));

/** Boards that have a rail and no ground, and would have ground with all in its place. */
function groundsLost(
  { machine, wishes, uses, written, writtenLive }: Ready,
  one: Case,
  nets: Int32Array,
  live: readonly Live[],
): string[] {
  const grounded = netsWith(nets, live, ({ what }) => what === 'ground');
  const railed = netsWith(nets, live, ({ what }) => what === 'rail');
  const groundedAsWritten = netsWith(written, writtenLive, ({ what }) => what === 'ground');
  const lost = new Set<string>();
  for (const board of machine.boards) {
    let [grounds, has, had, hasRail] = [0, false, board === one.plug.board, false];
    for (const wish of wishes) {
      if (wish.board !== board) continue;
      if (railed.has(nets[wish.node]!)) hasRail = true;
      if (wish.what !== 'ground') continue;
      grounds++;
      // What stands on a rail is told of as that.
      if (grounded.has(nets[wish.node]!) || railed.has(nets[wish.node]!)) has = true;
      if (groundedAsWritten.has(written[wish.node]!)) had = true;
    }
    for (const use of uses) if (use.board === board && railed.has(nets[use.node]!)) hasRail = true;
    if (grounds > 0 && had && hasRail && !has) lost.add(board.name);
  }
  return [...lost];
}

/** Boards with chips that have a rail and not the one that must not be missing, and would have it with all in its place. */
function biasesLost(
  { biased, written, writtenLive }: Ready,
  one: Case,
  nets: Int32Array,
  live: readonly Live[],
): string[] {
  return biased.flatMap(({ board, bias, others }) => {
    const isLive = (on: Int32Array, among: readonly Live[], rail: typeof bias): boolean =>
      among.some(
        ({ what, volts, ac, node }) =>
          what === 'rail' && on[node] === on[rail.node!] && (ac || sign(volts) === Math.sign(rail.volts)),
      );
    if (bias.node === undefined) return [];
    if (board !== one.plug.board && !isLive(written, writtenLive, bias)) return [];
    const another = others.some((rail) => rail.node !== undefined && isLive(nets, live, rail));
    return another && !isLive(nets, live, bias) ? [board.name] : [];
  });
}

/** All cases of a machine, and what each does. */
export function referenceCases(machine: Machine): ReferenceCase[] {
  const plugs = plugsOf(machine);
  const cables = new CableContacts(machine.nodeCount);
  for (const cable of machine.ribbons)
    for (const { a, b } of cable.wires) for (const contact of [a, b]) cables.at(cable, contact);
  const joins = joinsOf(machine, cables, plugs);
  const written = netsOf(cables.count, joins, ({ plug }) => !plug?.end?.unplugged);
  const lives = livesOf(machine);
  const ready: Ready = {
    machine,
    plugs,
    count: cables.count,
    joins,
    written,
    writtenLive: liveIn(written, lives),
    lives,
    wishes: wishesOf(machine),
    uses: machine.uses.filter(({ card }) => card.kind !== 'untouched'),
    outputs: machine.uses.flatMap(({ node, board, card }) => {
      const kind = OUTPUTS.has(card.kind) ? outputKind(machine, card) : undefined;
      return kind === undefined ? [] : [{ node, board, kind }];
    }),
    biased: biasedChips(machine),
  };
  return casesOf(machine, cables, plugs).map((one) => {
    const { rank, harms } = one.isRight ? new Worst() : judge(ready, one);
    return { plug: one.plug.name, place: one.place, way: one.way, rank, harms };
  });
}
