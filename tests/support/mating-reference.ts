import { biasedChips } from '../../src/analysis/bias-rails.ts';
import { differ, isAlternating, type VoltRange, voltsOfRail } from '../../src/analysis/meetings.ts';
import { outputKind } from '../../src/analysis/parts.ts';
import { harmOf } from '../../src/analysis/pins.ts';
import { inputOf, nominalVolts } from '../../src/analysis/rails.ts';
import { copperOn } from '../../src/machine/copper.ts';
import type {
  Board,
  Connector,
  Instance,
  Machine,
  Ribbon,
  RibbonEnd,
  Slot,
} from '../../src/machine/types.ts';

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

export const wayText = (turned: boolean, shift: number, over: number): string =>
  `${turned ? 'turned' : 'straight'} ${shift} ${over}`;

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

// ------------------------------------------------------------------------------------------------ where contacts come to lie

interface Turn {
  readonly way: string;
  readonly turned: boolean;
  readonly straight: boolean;
  /** Contact of the plug, contact of the socket. */
  readonly pairs: readonly (readonly [number, number])[];
}

/** The table of wrong placements: row r of R, position p of P, both from 1. */
function turnsOf(plug: Connector, socket: Connector): Turn[] {
  const [R, P] = [plug.rows, plug.positions];
  const longer = socket.positions - P;
  const moves = plug.shape === 'edge' || plug.shape === 'header' || plug.shape === 'row';
  const shifts: number[] = [];
  for (let d = Math.min(0, longer) - 2; d <= Math.max(0, longer) + 2; d++)
    if (moves || d === 0) shifts.push(d);
  const ways: { turned: boolean; d: number; over: number }[] = [];
  for (const d of shifts) {
    for (const over of plug.shape === 'header' && R > 1 ? [-1, 0, 1] : [0]) {
      ways.push({ turned: false, d, over });
      if (moves || plug.shape === 'dip') ways.push({ turned: true, d, over });
    }
  }
  if (plug.shape === 'edge')
    ways.push({ turned: false, d: 0.5, over: 0 }, { turned: false, d: -0.5, over: 0 });
  const turns: Turn[] = [];
  for (const { turned, d, over } of ways) {
    const straight = !turned && d === 0 && over === 0;
    const pairs: [number, number][] = [];
    for (let k = 0; k < plug.labels.length; k++) {
      const [r, p] = [plug.row[k]! + 1, plug.position[k]! + 1];
      for (let s = 0; s < socket.labels.length; s++) {
        const [row, position] = [socket.row[s]! + 1, socket.position[s]! + 1];
        // Straight into its like, contact k meets contact k however the two are numbered.
        const meets =
          straight && plug.labels.length === socket.labels.length
            ? s === k
            : row === (turned ? R + 1 - r : r) + over &&
              Math.abs((turned ? P + 1 - p : p) + d - position) < 1;
        if (meets) pairs.push([k, s]);
      }
    }
    if (pairs.length > 0) turns.push({ way: wayText(turned, d, over), turned, straight, pairs });
  }
  return turns;
}

/** Whether the bodies of the two go into each other. */
function goesInto(plug: Connector, socket: Instance): boolean {
  const other = socket.pins.connector;
  if (plug === other) return true;
  if (plug.shape !== other.shape || plug.rows !== other.rows) return false;
  const [a, b] = [plug.pitch ?? 0, other.pitch ?? 0];
  if (a > 0 && b > 0 && Math.abs(a - b) > 0.01 * Math.max(a, b)) return false;
  if (plug.shape === 'edge') return socket.pins.ends === 'open' || plug.positions <= other.positions;
  if (plug.shape === 'header' || plug.shape === 'row')
    return socket.pins.shroud === undefined || plug.positions <= other.positions;
  return plug.labels.length === other.labels.length;
}

// ------------------------------------------------------------------------------------------------ plugs, places, cases

interface Plug {
  readonly name: string;
  readonly board?: Board;
  readonly ribbon?: Ribbon;
  readonly end?: RibbonEnd;
}

/** One connector of a plug on one socket: nodes that meet. */
type Meeting = readonly (readonly [number, number])[];

interface Case {
  readonly plug: Plug;
  readonly also?: Plug;
  readonly place: string;
  /** Sockets whose own plugs are out. */
  readonly sockets: readonly Instance[];
  readonly way: string;
  readonly meeting: Meeting;
  readonly isRight?: boolean;
}

const isMissing = ({ pins }: Instance, contact: number): boolean => pins.pulled.has(contact);
const isBlocked = ({ pins }: Instance, contact: number): boolean => pins.plugged.has(contact);

const holds = ({ base, pins }: Instance, node: number): boolean =>
  node >= base && node < base + pins.connector.labels.length;

/** Node of contact `k` of each cable's connector at `instance`: they lie beyond the machine's own nodes. */
class CableContacts {
  private readonly nodes = new Map<string, number>();
  private readonly first: number;
  constructor(first: number) {
    this.first = first;
  }
  at(cable: Ribbon, contact: number): number {
    const key = `${cable.name} ${contact}`;
    if (!this.nodes.has(key)) this.nodes.set(key, this.first + this.nodes.size);
    return this.nodes.get(key)!;
  }
  get count(): number {
    return this.first + this.nodes.size;
  }
}

/** Node behind contact `k` of the connector at a ribbon's or cable's end, if it has one. */
function behind(cables: CableContacts, { ribbon, end }: Plug, k: number): number | undefined {
  const { instance, crimped } = end!;
  if (isBlocked(instance!, k)) return undefined;
  if (ribbon!.kind === 'cable') {
    const contact = instance!.base + k;
    return ribbon!.wires.some(({ a, b }) => a === contact || b === contact)
      ? cables.at(ribbon!, contact)
      : undefined;
  }
  for (let conductor = 0; conductor < crimped.length; conductor++)
    if (crimped[conductor] === instance!.base + k) return ribbon!.base + conductor;
  return undefined;
}

function plugsOf(machine: Machine): Plug[] {
  const plugs: Plug[] = machine.boards
    .filter(({ instances }) => instances.some(({ kind }) => kind === 'edge'))
    .map((board) => ({ name: board.name, board }));
  for (const ribbon of machine.ribbons)
    ribbon.ends.forEach((end, i) => {
      if (end.instance) plugs.push({ name: `${ribbon.name} end ${i}`, ribbon, end });
    });
  return plugs;
}

/** The socket among those of its slot that an edge is plugged into as written: a finger joins them. */
function homeOf(machine: Machine, edge: Instance): Instance | undefined {
  const { joins } = machine;
  for (let j = 0; j < joins.from.length; j++) {
    if (joins.causes[joins.cause[j]!]!.kind !== 'finger' || !holds(edge, joins.from[j]!)) continue;
    return machine.instances.find((one) => holds(one, joins.to[j]!));
  }
  return undefined;
}

/** Which edge of a board goes into which socket of a slot, in all ways that are possible by the places' and buses' names. */
function seatings(
  machine: Machine,
  board: Board,
  slot: Slot,
): (readonly (readonly [Instance, Instance])[])[] {
  const edges = board.instances.filter(({ kind }) => kind === 'edge');
  if (edges.length === 1) {
    const [edge] = edges;
    return slot.instances
      .filter((socket) => goesInto(edge!.pins.connector, socket))
      .map((socket) => [[edge!, socket]]);
  }
  const seated: (readonly [Instance, Instance])[] = [];
  for (const socket of slot.instances) {
    const fit = edges.filter((edge) => goesInto(edge.pins.connector, socket));
    const edge =
      fit.find((one) => homeOf(machine, one) === socket) ??
      fit.find((one) => one.port.name === socket.port.name) ??
      fit.find((one) => one.port.bus !== undefined && one.port.bus === socket.port.bus);
    if (edge) seated.push([edge, socket]);
  }
  return seated.length === 0 ? [] : [seated];
}

function boardCases(machine: Machine, plug: Plug): Case[] {
  const cases: Case[] = [];
  const board = plug.board!;
  const edges = board.instances.filter(({ kind }) => kind === 'edge').length;
  for (const backplane of machine.backplanes) {
    for (const slot of backplane.slots) {
      for (const seated of seatings(machine, board, slot)) {
        const isMadeFor = seated.every(
          ([edge, socket]) => edge.port.bus && edge.port.bus === socket.port.bus,
        );
        const isHome =
          board.slot === slot
            ? seated.every(([edge, socket]) => homeOf(machine, edge) === socket)
            : board.slot === undefined && isMadeFor;
        const [first, ...others] = seated.map(([edge, socket]) =>
          turnsOf(edge.pins.connector, socket.pins.connector),
        );
        for (const turn of first!) {
          if (turn.straight && isHome) continue;
          // Several edges move together, and none of them can turn.
          if (turn.turned && others.length > 0) continue;
          const all = [turn, ...others.map((turns) => turns.find(({ way }) => way === turn.way))];
          if (all.includes(undefined)) continue;
          const meeting = all.flatMap((one, i) => {
            const [edge, socket] = seated[i]!;
            return one!.pairs.flatMap(([k, s]): (readonly [number, number])[] => {
              if (isMissing(edge, k) || isBlocked(edge, k)) return [];
              if (isMissing(socket, s) || isBlocked(socket, s)) return [];
              return [[edge.base + k, socket.base + s]];
            });
          });
          const [[, socket]] = seated as [readonly [Instance, Instance]];
          const place = edges > 1 ? `${backplane.name}.${slot.label}` : socket.path;
          // A board straight in another slot all of whose contacts meet the lines that they are on at home is not wrong there.
          const isRight =
            turn.straight && meeting.every(([a, b]) => machine.nets.of[a] === machine.nets.of[b]);
          cases.push({ plug, place, sockets: slot.instances, way: turn.way, meeting, isRight });
        }
      }
    }
  }
  return cases;
}

function endCases(machine: Machine, cables: CableContacts, plug: Plug): Case[] {
  const cases: Case[] = [];
  const home = plug.end!.instance!;
  for (const port of machine.instances) {
    if (port.kind === 'slot' || port.kind === 'edge' || !goesInto(home.pins.connector, port)) continue;
    for (const turn of turnsOf(home.pins.connector, port.pins.connector)) {
      if (turn.straight && port === home) continue;
      if (turn.turned && plug.ribbon!.rigid) continue;
      const meeting = turn.pairs.flatMap(([k, s]): (readonly [number, number])[] => {
        const node = behind(cables, plug, k);
        return node === undefined || isMissing(port, s) ? [] : [[node, port.base + s]];
      });
      cases.push({ plug, place: port.path, sockets: [port], way: turn.way, meeting });
    }
  }
  return cases;
}

/** Connectors crimped turned, k → n + 1 − k, or one conductor over, k → k ± 1; and two that are turned on one ribbon. */
function crimpCases(cables: CableContacts, plug: Plug, plugs: readonly Plug[]): Case[] {
  const { ribbon, end } = plug;
  const home = end!.instance!;
  const across = home.pins.connector.conductors;
  if (ribbon!.kind !== 'ribbon' || ribbon!.rigid || across === undefined) return [];
  const crimped = (one: Plug, other: (k: number, n: number) => number): Meeting => {
    const port = one.end!.instance!;
    const order = port.pins.connector.conductors!;
    return order.flatMap((contact, i): (readonly [number, number])[] => {
      const from = order[other(i + 1, order.length) - 1];
      const node = from === undefined ? undefined : behind(cables, one, from);
      if (node === undefined || isMissing(port, contact)) return [];
      return [[node, port.base + contact]];
    });
  };
  const turned = (k: number, n: number): number => n + 1 - k;
  const at = { plug, place: home.path, sockets: [home] };
  const cases: Case[] = [
    { ...at, way: 'crimped turned', meeting: crimped(plug, turned) },
    { ...at, way: 'crimped over 1', meeting: crimped(plug, (k) => k - 1) },
    { ...at, way: 'crimped over -1', meeting: crimped(plug, (k) => k + 1) },
  ];
  for (const also of plugs.slice(plugs.indexOf(plug) + 1)) {
    if (also.ribbon !== ribbon || also.end!.instance!.pins.connector.conductors === undefined) continue;
    const way = `crimped turned with ${also.name}`;
    cases.push({ ...at, also, way, meeting: [...crimped(plug, turned), ...crimped(also, turned)] });
  }
  return cases;
}

// ------------------------------------------------------------------------------------------------ what is joined in a case

/** Which nodes are one net. */
function netsOf(count: number, pairs: Iterable<readonly [number, number]>): Int32Array {
  const parent = Int32Array.from({ length: count }, (_, i) => i);
  const root = (node: number): number => {
    let at = node;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  for (const [a, b] of pairs) parent[root(a)] = root(b);
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
  const fixed: [number, number][] = [];
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
    } else fixed.push(pair);
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
    for (const { a, b } of cable.wires) fixed.push([cables.at(cable, a), cables.at(cable, b)]);
  const others = netsOf(cables.count, [...fixed, ...made.map(({ pair }) => pair)]);
  for (const pair of readings) if (others[pair[0]] !== others[pair[1]]) fixed.push(pair);
  return [...fixed.map((pair) => ({ pair })), ...made];
}

// ------------------------------------------------------------------------------------------------ what is on the nets

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
        ({ what, volts, node }) =>
          what === 'rail' && nets[node] === nets[one.input!] && sign(volts) === sign(one.volts),
      );
      if (fed) live.push(one);
    }
  }
  return live;
}

// ------------------------------------------------------------------------------------------------ what happens

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

function judge(ready: Ready, one: Case): Pick<ReferenceCase, 'rank' | 'harms'> {
  const { machine, plugs, count, joins, written, lives, wishes, uses, outputs } = ready;
  const out = new Set(plugs.filter((plug) => isOut(plug, one)));
  const pairs = joins.filter(({ plug }) => plug === undefined || !out.has(plug)).map(({ pair }) => pair);
  const nets = netsOf(count, [...pairs, ...one.meeting]);
  const live = liveIn(nets, lives);
  const harms: { kind: string; who: string }[] = [];
  const meet = (a: number, b: number): boolean => nets[a] === nets[b] && written[a] !== written[b];
  for (const power of live) {
    const by = `${power.name} of ${power.owner}`;
    for (const other of live) {
      if (other === power || !meet(power.node, other.node)) continue;
      const who = [by, `${other.name} of ${other.owner}`].sort().join(' and ');
      if (power.what !== other.what) harms.push({ kind: 'rail-to-ground', who });
      else if (power.what === 'rail') {
        if (power.ac !== other.ac || differ(power.volts, other.volts))
          harms.push({ kind: 'rails-joined', who });
        else if (
          !(power.name === other.name && power.owner === other.owner) &&
          !machine.aliases.has(`${power.name}\n${other.name}`)
        )
          harms.push({ kind: 'rails-paralleled', who });
      }
    }
    for (const wish of wishes) {
      if (power.what === 'ground' || !meet(power.node, wish.node)) continue;
      const who = `${by} on ${wish.board.name}`;
      if (wish.what === 'ground') harms.push({ kind: 'ground-on-rail', who });
      else if (
        wish.volts !== undefined &&
        (power.ac !== wish.ac ||
          (differ(power.volts, wish.volts) &&
            (sign(power.volts) !== sign(wish.volts) || most(power.volts) > most(wish.volts))))
      )
        harms.push({ kind: 'foreign-rail', who });
    }
    for (const use of uses) {
      if (!meet(power.node, use.node)) continue;
      const { board, card } = use;
      const who = `${by} on ${board.name}`;
      const harm = harmOf(machine, card, power.volts)?.kind;
      if (power.what === 'ground')
        harms.push({ kind: harm === 'fights' ? 'ground-on-output' : 'ground-on-line', who });
      else if (power.ac || harm === 'limit') harms.push({ kind: 'foreign-rail', who });
      else if (harm === 'fights') harms.push({ kind: 'rail-on-output', who });
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
        if (a !== b && meet(a.node, b.node) && (a.kind !== 'open-collector' || b.kind !== 'open-collector'))
          harms.push({ kind: 'outputs-fight', who: [a.board.name, b.board.name].sort().join(' and ') });
  harms.push(...groundsLost(ready, one, nets, live), ...biasesLost(ready, one, nets, live));
  const rank = Math.min(9, ...harms.map(({ kind }) => RANK[kind]!));
  return {
    rank,
    harms: new Set(harms.filter(({ kind }) => RANK[kind] === rank).map(({ kind, who }) => `${kind}: ${who}`)),
  };
}

function groundsLost(
  { machine, wishes, uses, written, writtenLive }: Ready,
  one: Case,
  nets: Int32Array,
  live: readonly Live[],
): { kind: string; who: string }[] {
  return machine.boards.flatMap((board) => {
    const its = wishes.filter((wish) => wish.board === board);
    const grounds = its.filter(({ what }) => what === 'ground').map(({ node }) => node);
    if (grounds.length === 0) return [];
    const copper = [
      ...its.map(({ node }) => node),
      ...uses.filter((use) => use.board === board).map(({ node }) => node),
    ];
    const liveOn = (on: Int32Array, among: readonly Live[], node: number, what: Live['what']): boolean =>
      among.some((power) => power.what === what && on[power.node] === on[node]);
    const had = grounds.some((node) => liveOn(written, writtenLive, node, 'ground'));
    if (!had && board !== one.plug.board) return [];
    const hasGround = grounds.some(
      (node) => liveOn(nets, live, node, 'ground') || liveOn(nets, live, node, 'rail'),
    );
    const hasRail = copper.some((node) => liveOn(nets, live, node, 'rail'));
    return hasRail && !hasGround ? [{ kind: 'ground-lost', who: board.name }] : [];
  });
}

function biasesLost(
  { biased, written, writtenLive }: Ready,
  one: Case,
  nets: Int32Array,
  live: readonly Live[],
): { kind: string; who: string }[] {
  return biased.flatMap(({ board, bias, others }) => {
    const isLive = (on: Int32Array, among: readonly Live[], rail: typeof bias): boolean =>
      among.some(
        ({ what, volts, node }) =>
          what === 'rail' && on[node] === on[rail.node!] && sign(volts) === Math.sign(rail.volts),
      );
    if (bias.node === undefined) return [];
    if (board !== one.plug.board && !isLive(written, writtenLive, bias)) return [];
    const another = others.some((rail) => rail.node !== undefined && isLive(nets, live, rail));
    return another && !isLive(nets, live, bias) ? [{ kind: 'bias-lost', who: board.name }] : [];
  });
}

/** All cases of a machine, and what each does. */
export function referenceCases(machine: Machine): ReferenceCase[] {
  const plugs = plugsOf(machine);
  const cables = new CableContacts(machine.nodeCount);
  for (const cable of machine.ribbons)
    for (const { a, b } of cable.wires) for (const contact of [a, b]) cables.at(cable, contact);
  const joins = joinsOf(machine, cables, plugs);
  const written = netsOf(
    cables.count,
    joins.filter(({ plug }) => !plug?.end?.unplugged).map(({ pair }) => pair),
  );
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
  const cases = plugs.flatMap((plug) =>
    plug.board
      ? boardCases(machine, plug)
      : [...endCases(machine, cables, plug), ...crimpCases(cables, plug, plugs)],
  );
  return cases.map((one) => ({
    plug: one.plug.name,
    place: one.place,
    way: one.way,
    ...(one.isRight ? { rank: 9, harms: new Set() } : judge(ready, one)),
  }));
}
