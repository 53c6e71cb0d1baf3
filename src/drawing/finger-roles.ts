import type { ChainStop } from '../analysis/chains.ts';
import { isAbsent } from '../machine/copper.ts';
import { matingEdge } from '../machine/mating.ts';
import type {
  Bias,
  Board,
  CardUse,
  Chain,
  Declared,
  Instance,
  Rework,
  Slot,
  Take,
} from '../machine/types.ts';
import type { DrawnBus } from './drawn-bus.ts';
import type { Role } from './picture.ts';

/** A daisy chain where it meets a slot. */
export interface ChainLink {
  readonly chain: Chain;
  readonly stop: ChainStop;
  /** Whether it ends there while a slot behind waits for it. */
  readonly deadEnd: boolean;
}

/** What happens where a line meets a slot. */
export interface Done {
  readonly role: Role;
  /** The statements that say so; the one to go to first. */
  readonly said: readonly Declared[];
  /** Resistors of the board on the line. */
  readonly biases: readonly Bias[];
  /** A that the board is said to take, where all of it comes by this line. */
  readonly amps?: number;
}

/** Where a line with these contacts meets a slot and an edge in it. */
export interface Meeting {
  readonly socket: Instance;
  readonly edge: Instance | undefined;
  readonly contacts: readonly number[];
  /** The board's fingers that meet the slot. */
  readonly fingers: readonly number[];
  readonly link: ChainLink | undefined;
}

const only = (role: Role, ...said: readonly Declared[]): Done => ({ role, said, biases: [] });

export function doneAt(drawn: DrawnBus, meeting: Meeting): Done {
  const { socket, edge, link } = meeting;
  const slot = socket.slot as Slot;
  const { board } = slot;
  if (board && edge) return link ? onChain(drawn, meeting, link) : onLine(drawn, board, edge, meeting);
  if (link?.stop.bridged) return only('bridge', ...bridgeIn(slot, link.chain));
  if (link?.deadEnd) return only('stops', inSlot(slot));
  // The edge of a board that does not fit meets nothing.
  if (board) return only('untouched', inSlot(slot));
  return only(slot.state === 'empty' ? 'open' : 'unknown');
}

/** Where it is said what sits in a slot. */
const inSlot = ({ board, source }: Slot): Declared => ({ evidence: {}, source: board?.source ?? source });

function bridgeIn(
  { bridges, selfBridging, state, source }: Slot,
  { name, outName, claim }: Chain,
): Declared[] {
  const names = [name, outName, ...claim.aliases];
  const said = bridges.find((one) => names.includes(one.name))?.source;
  if (said) return [{ evidence: {}, source: said }];
  return selfBridging && state === 'empty' ? [{ evidence: {}, source }] : [];
}

function onChain(
  { doings }: DrawnBus,
  { fingers, socket }: Meeting,
  { chain, stop, deadEnd }: ChainLink,
): Done {
  const { use, doing, bridged } = stop;
  const { biases } = doings.at(fingers);
  const done = (role: Role, ...said: readonly Declared[]): Done => ({
    role,
    said: [...(use ? [use] : []), ...said],
    biases,
  });
  if (doing === 'starts' || doing === 'passes') return done(doing);
  if (doing === 'ends') return done('receives');
  if (bridged) return done('bridge', ...bridgeIn(socket.slot as Slot, chain));
  if (doing === 'unsaid') return done('unknown');
  return done(deadEnd ? 'stops' : biases.length > 0 ? 'holds' : 'untouched');
}

/** What the copper of these fingers does on the board, and nothing that it does elsewhere. */
function onLine(drawn: DrawnBus, board: Board, edge: Instance, meeting: Meeting): Done {
  const { fingers } = meeting;
  const { makes, takes, ground, feeds, uses, biases, pins } = drawn.doings.at(fingers);
  if (makes.length > 0) return { role: 'makes', said: makes, biases };
  if (takes.length > 0) {
    const amps = takenBy(takes);
    const said = takes.every(({ at }) => at === edge.port.name);
    const here =
      said || (takes.every(({ at }) => !isElsewhere(board, edge, at)) && !isDivided(drawn, fingers));
    return { role: 'takes', said: takes, biases, ...(amps !== undefined && here ? { amps } : {}) };
  }
  if (ground) return { role: 'ground', said: [], biases };
  if (feeds.length > 0) return { role: 'takes', said: feeds, biases };
  if (uses.length > 0) return { role: roleOf(uses), said: uses, biases };
  if (biases.length > 0) return { role: 'holds', said: [], biases };
  if (pins.length > 0) return only('unknown', ...pins);
  return idle(board, edge, meeting);
}

/** A, if all is said. */
function takenBy(takes: readonly Take[]): number | undefined {
  let sum = 0;
  for (const { current } of takes) {
    if (current === undefined) return undefined;
    sum += current;
  }
  return sum;
}

/** Whether what a board is said to take at a connector comes to it by that one, and not by this edge. */
const isElsewhere = ({ instances }: Board, edge: Instance, at: string | undefined): boolean =>
  at !== undefined &&
  instances.some(
    (one) =>
      one !== edge &&
      one.port.name === at &&
      (one.kind === 'edge' || one.plugs.some(({ unplugged }) => !unplugged)),
  );

const DOES: Readonly<Record<CardUse['kind'], Role>> = {
  drives: 'drives',
  transceives: 'both',
  receives: 'receives',
  pulls: 'pulls',
  starts: 'starts',
  passes: 'passes',
  untouched: 'untouched',
};

/** What drives both ways is more than what only pulls. */
function roleOf(uses: readonly CardUse[]): Role {
  if (uses.length === 1) return DOES[uses[0]!.kind];
  const roles = new Set(uses.map(({ kind }) => DOES[kind]));
  const drives = roles.has('drives') || roles.has('pulls');
  if (roles.has('both') || (roles.has('receives') && drives)) return 'both';
  return roles.has('drives') ? 'drives' : DOES[uses[0]!.kind];
}

/** A line on which the board is not said to do anything: cut off, not there, left alone, or nobody has said. */
function idle({ card, rework }: Board, { pins, port }: Instance, { contacts, fingers }: Meeting): Done {
  if (fingers.length === 0) {
    const missing = contacts.some((contact) => isAbsent(pins, contact));
    return only('untouched', ...(missing ? [{ evidence: {}, source: port.source }] : []));
  }
  const places = new Set(contacts.map((contact) => `${port.name}.${pins.connector.labels[contact]}`));
  const isCut = ({ kind, places: all }: Rework): boolean =>
    kind === 'cut' && all.some(({ place }) => places.has(place));
  const cuts = [...card.rework, ...rework].filter(isCut);
  if (cuts.length > 0) return only('untouched', ...cuts);
  const claims = contacts.flatMap((contact) => pins.claims[contact] ?? []);
  const untouched = card.uses.filter(
    ({ kind, name, at }) =>
      kind === 'untouched' &&
      (at === undefined || at === port.name) &&
      claims.some((claim) => claim.name === name || claim.aliases.includes(name)),
  );
  if (untouched.length > 0) return only('untouched', ...untouched);
  if (contacts.some((contact) => pins.own[contact]?.kind === 'unknown')) return only('unknown');
  return only(card.closed || claims.some(({ kind }) => kind === 'spare') ? 'untouched' : 'unknown');
}

/** The board's contacts that meet the slot at these contacts. */
export function fingersAt(
  socket: Instance,
  edge: Instance | undefined,
  contacts: readonly number[],
): number[] {
  const fingers: number[] = [];
  if (edge === undefined) return fingers;
  for (const contact of contacts) {
    if (!isAbsent(edge.pins, contact) && !isAbsent(socket.pins, contact)) fingers.push(edge.base + contact);
  }
  return fingers;
}

/** Whether the copper of these fingers has others that meet a slot too: how a current divides, nobody knows. */
export function isDivided({ doings, view }: DrawnBus, fingers: readonly number[]): boolean {
  const { contactCount } = view.machine;
  return fingers.some((finger) =>
    doings.copper.with(finger).some((node) => {
      if (node >= contactCount || fingers.includes(node)) return false;
      const other = view.nets.instanceOf(node);
      const { board, base, kind } = other;
      if (kind !== 'edge' || board === undefined) return false;
      const socket = board.slot?.instances.find((one) => matingEdge(board.instances, one) === other);
      return socket !== undefined && fingersAt(socket, other, [node - base]).length > 0;
    }),
  );
}
