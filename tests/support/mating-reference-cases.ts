import type {
  Board,
  Connector,
  Instance,
  Machine,
  Ribbon,
  RibbonEnd,
  Slot,
} from '../../src/machine/types.ts';

/** A way as text: `turned 1 0`. */
export const wayText = (turned: boolean, shift: number, over: number): string =>
  `${turned ? 'turned' : 'straight'} ${shift} ${over}`;

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
        const meets =
          row === (turned ? R + 1 - r : r) + over && Math.abs((turned ? P + 1 - p : p) + d - position) < 1;
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

export interface Plug {
  readonly name: string;
  readonly board?: Board;
  readonly ribbon?: Ribbon;
  readonly end?: RibbonEnd;
}

/** One connector of a plug on one socket: nodes that meet. */
export type Meeting = readonly (readonly [number, number])[];

export interface Case {
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

export const holds = ({ base, pins }: Instance, node: number): boolean =>
  node >= base && node < base + pins.connector.labels.length;

/** Node of contact `k` of each cable's connector at `instance`: they lie beyond the machine's own nodes. */
export class CableContacts {
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
export function behind(cables: CableContacts, { ribbon, end }: Plug, k: number): number | undefined {
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

export function plugsOf(machine: Machine): Plug[] {
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

/** Both ends of a ribbon or cable, each straight where the other belongs, where that is another port and wired otherwise. */
function exchangedCases(cables: CableContacts, plug: Plug, plugs: readonly Plug[]): Case[] {
  return plugs.slice(plugs.indexOf(plug) + 1).flatMap((also): Case[] => {
    if (also.ribbon !== plug.ribbon) return [];
    const [home, other] = [plug.end!.instance!, also.end!.instance!];
    const [a, b] = [home.pins.connector, other.pins.connector];
    if (home === other || !goesInto(a, other) || !goesInto(b, home)) return [];
    const alike = [...Array(Math.max(a.labels.length, b.labels.length)).keys()].every((k) => {
      const [here, there] = [behind(cables, plug, k), behind(cables, also, k)];
      if (plug.ribbon!.kind === 'ribbon') return here === there;
      return plug.ribbon!.wires.every(({ a: from, b: to }) => {
        const [i, j] = [from - home.base, to - other.base];
        const [m, n] = [to - home.base, from - other.base];
        const isMine = (at: number, length: number): boolean => at >= 0 && at < length;
        const blocked = (at: number, mate: number): boolean => isBlocked(home, at) || isBlocked(other, mate);
        if (isMine(i, a.labels.length) && isMine(j, b.labels.length)) return i === j || blocked(i, j);
        if (isMine(m, a.labels.length) && isMine(n, b.labels.length)) return m === n || blocked(m, n);
        return true;
      });
    });
    const straight = (one: Connector, socket: Connector) =>
      turnsOf(one, socket).find((turn) => turn.straight)?.pairs ?? [];
    const [there, here] = [straight(a, b), straight(b, a)];
    if (alike || there.length === 0 || here.length === 0) return [];
    const meeting = [
      ...there.map(([k, s]) => [plug, k, other, s] as const),
      ...here.map(([k, s]) => [also, k, home, s] as const),
    ].flatMap(([one, k, port, s]): (readonly [number, number])[] => {
      const node = behind(cables, one, k);
      return node === undefined || isMissing(port, s) ? [] : [[node, port.base + s]];
    });
    return [{ plug, also, place: home.path, sockets: [home], way: `exchanged with ${also.name}`, meeting }];
  });
}

/** All wrong ways to plug in what a machine is made of. */
export const casesOf = (machine: Machine, cables: CableContacts, plugs: readonly Plug[]): Case[] =>
  plugs.flatMap((plug) =>
    plug.board
      ? boardCases(machine, plug)
      : [
          ...endCases(machine, cables, plug),
          ...exchangedCases(cables, plug, plugs),
          ...crimpCases(cables, plug, plugs),
        ],
  );
