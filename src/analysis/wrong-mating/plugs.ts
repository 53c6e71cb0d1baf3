import { isAbsent } from '../../machine/copper.ts';
import { keeping } from '../../machine/keep.ts';
import { matingEdge } from '../../machine/mating.ts';
import type { Board, Instance, Machine, Ribbon, RibbonEnd, Slot } from '../../machine/types.ts';
import { fits } from './ways.ts';

/** One connector of a plug: a board's edge, or the connector at an end of a ribbon or cable. */
export interface PlugPart {
  /** The connector that it is, or that it is made for, with the table of its contacts. */
  readonly pins: Instance['pins'];
  /** Where it is in the machine as described; undefined for a loose board. */
  readonly home: Instance | undefined;
  /** Node of the copper behind each of its contacts; −1 where there is none, or where its hole is plugged. */
  readonly copper: Int32Array;
  /** The board's own connector, where it is one. */
  readonly edge?: Instance;
}

/** What somebody holds in the hand and plugs in: a board, or one end of a ribbon or cable. */
export interface Plug {
  readonly kind: 'board' | 'ribbon' | 'cable';
  /** `CPU`; `W1`. */
  readonly name: string;
  readonly board?: Board;
  readonly ribbon?: Ribbon;
  /** Index into the ribbon's ends. */
  readonly end?: number;
  readonly parts: readonly PlugPart[];
  /** Whether a bump is said to be on it. */
  readonly bump: boolean;
  /** Whether it is out in the machine as described. */
  readonly out: boolean;
  /** A block that joins two boards over their tops cannot be turned at one of them alone. */
  readonly rigid: boolean;
}

/** Where plugs go: a slot with all its sockets, or a port. */
export interface Place {
  readonly path: string;
  readonly sockets: readonly Instance[];
  readonly slot?: Slot;
}

/** All plugs of the machine that have a known counterpart. */
export function plugsOf(machine: Machine, cables: CableNodes): Plug[] {
  return [
    ...machine.boards.flatMap(boardPlug),
    ...machine.ribbons.flatMap((ribbon) =>
      ribbon.ends.flatMap((_, end) => ribbonPlug(ribbon, end, cables) ?? []),
    ),
  ];
}

function boardPlug(board: Board): Plug[] {
  const edges = board.instances.filter(({ kind }) => kind === 'edge');
  if (edges.length === 0) return [];
  const sockets = board.slot?.instances ?? [];
  const homeOf = (edge: Instance): Instance | undefined =>
    sockets.find((socket) => matingEdge(board.instances, socket) === edge);
  const parts = edges.map((edge) => ({
    pins: edge.pins,
    home: homeOf(edge),
    copper: Int32Array.from(edge.pins.connector.labels, (_, i) =>
      isAbsent(edge.pins, i) ? -1 : edge.base + i,
    ),
    edge,
  }));
  const out = board.slot === undefined;
  return [{ kind: 'board', name: board.name, board, parts, bump: false, out, rigid: false }];
}

function ribbonPlug(ribbon: Ribbon, index: number, cables: CableNodes): Plug | undefined {
  const end = ribbon.ends[index]!;
  const { instance } = end;
  if (instance === undefined) return undefined;
  const copper =
    ribbon.kind === 'cable' ? wiresAt(cables, ribbon, instance) : conductorsAt(ribbon, end, instance);
  return {
    kind: ribbon.kind,
    name: ribbon.name,
    ribbon,
    end: index,
    parts: [{ pins: instance.pins, home: instance, copper }],
    bump: end.bump || instance.pins.bump,
    out: end.unplugged,
    rigid: ribbon.rigid,
  };
}

/** Conductor behind each contact of a ribbon's connector, pins that are missing included. */
function conductorsAt({ base }: Ribbon, { crimped }: RibbonEnd, instance: Instance): Int32Array {
  const copper = new Int32Array(instance.pins.connector.labels.length).fill(-1);
  crimped.forEach((contact, conductor) => {
    const index = contact - instance.base;
    if (contact >= 0 && !instance.pins.plugged.has(index)) copper[index] = base + conductor;
  });
  return copper;
}

/** A wire that leads to a plugged hole has no contact there. */
const wiresAt = (cables: CableNodes, cable: Ribbon, instance: Instance): Int32Array =>
  cables.copperAt(cable, instance).map((node, i) => (instance.pins.plugged.has(i) ? -1 : node));

/**
 * Cables of loose wires have no nodes of their own in the machine. Here each contact of the connector at each of their ends
 * gets one, numbered on from the machine's.
 */
export interface CableNodes {
  readonly nodeCount: number;
  readonly copperAt: (cable: Ribbon, instance: Instance) => Int32Array;
  /** Nodes that a wire joins, in pairs. */
  readonly wires: readonly (readonly [number, number])[];
}

export function cableNodes(machine: Machine): CableNodes {
  let { nodeCount } = machine;
  const ends = new Map<Ribbon, Map<Instance, Int32Array>>();
  const wires: (readonly [number, number])[] = [];
  for (const ribbon of machine.ribbons) {
    if (ribbon.kind !== 'cable') continue;
    const its = new Map<Instance, Int32Array>();
    ends.set(ribbon, its);
    for (const { instance } of ribbon.ends)
      if (instance) its.set(instance, new Int32Array(instance.pins.connector.labels.length).fill(-1));
    const nodeAt = (contact: number): number => {
      for (const [{ base, pins }, copper] of its) {
        const index = contact - base;
        if (index < 0 || index >= pins.connector.labels.length) continue;
        if (copper[index] === -1) copper[index] = nodeCount++;
        return copper[index]!;
      }
      return -1;
    };
    for (const { a, b } of ribbon.wires) {
      const pair = [nodeAt(a), nodeAt(b)] as const;
      if (pair[0] >= 0 && pair[1] >= 0) wires.push(pair);
    }
  }
  return { nodeCount, copperAt: (cable, instance) => ends.get(cable)!.get(instance)!, wires };
}

/** All places of the machine: slots, and ports of boards, backplanes and supplies. */
export function placesOf(machine: Machine): Place[] {
  const slots = machine.backplanes.flatMap((backplane) =>
    backplane.slots.map(
      (slot): Place => ({ path: `${backplane.name}.${slot.label}`, sockets: slot.instances, slot }),
    ),
  );
  const ports = machine.instances.filter(({ kind }) => kind !== 'slot' && kind !== 'edge');
  return [...slots, ...ports.map((port): Place => ({ path: port.path, sockets: [port] }))];
}

/** A connector of a plug and the socket that it goes into. */
export interface Mate {
  readonly part: PlugPart;
  readonly socket: Instance;
}

/** Node of each contact of a socket; −1 where its pin is missing. What is plugged is a hole of the plug, not of a header. */
export const socketNodes = keeping(
  ({ base, pins, kind }: Instance): Int32Array =>
    Int32Array.from(pins.connector.labels, (_, i) =>
      pins.pulled.has(i) || (kind === 'slot' && pins.plugged.has(i)) ? -1 : base + i,
    ),
);

/** A plug at a place: which of its connectors go into which sockets there. */
export interface Seat {
  readonly place: Place;
  readonly mates: readonly Mate[];
}

/** How a plug may sit at a place; not at all where the bodies do not fit. A single edge takes one of a slot's sockets at a time. */
export function seatsAt(plug: Plug, place: Place): Seat[] {
  const { sockets, slot } = place;
  if ((plug.kind === 'board') !== (slot !== undefined)) return [];
  const mates: Mate[] = [];
  for (const socket of sockets) {
    const part = partFor(plug, socket);
    if (part) mates.push({ part, socket });
  }
  if (mates.length === 0) return [];
  if (plug.parts.length > 1 || sockets.length === 1) return [{ place, mates }];
  return mates.map((mate) => ({ place: { ...place, path: mate.socket.path }, mates: [mate] }));
}

/** The part whose own socket it is or is like: by its place's name, else by its bus, else the only one that fits. */
function partFor({ parts }: Plug, socket: Instance): PlugPart | undefined {
  const fit = parts.filter(({ pins }) => fits(pins.connector, socket.pins.connector, isWalled(socket)));
  const { port } = socket;
  return (
    fit.find(({ home }) => home === socket) ??
    fit.find(({ edge }) => edge !== undefined && edge.port.name === port.name && parts.length > 1) ??
    fit.find(({ edge }) => edge?.port.bus !== undefined && edge.port.bus === port.bus) ??
    (parts.length === 1 ? fit[0] : undefined)
  );
}

/** Whether walls keep a longer plug out: round a header, or, unless said otherwise, at the ends of an edge socket. */
const isWalled = ({ pins }: Instance): boolean =>
  pins.connector.shape === 'edge' ? pins.ends !== 'open' : pins.shroud !== undefined;
