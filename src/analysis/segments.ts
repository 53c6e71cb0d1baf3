import type { Backplane, Board, Machine, Ribbon, RibbonEnd, Slot } from '../machine/types.ts';
import type { NetIndex } from './nets.ts';

/** A line's run along a backplane: the first and last slot it reaches, and the first and last of them with a board. */
export interface Run {
  readonly backplane: Backplane;
  readonly first: number;
  readonly last: number;
  readonly firstFitted: number;
  readonly lastFitted: number;
}

/** A line's run along a ribbon: the ends plugged in, in order. */
interface Drop {
  readonly ribbon: Ribbon;
  readonly ends: readonly RibbonEnd[];
}

/** The straight pieces of copper that a net is made of. */
export interface Segments {
  readonly runs: readonly Run[];
  readonly drops: readonly Drop[];
  /** Cables of loose wires plugged in somewhere along the net. */
  readonly cables: number;
  readonly boards: ReadonlySet<Board>;
}

type Conductors = ReadonlyMap<number, readonly { ribbon: Ribbon; conductor: number }[]>;
const kept = new WeakMap<Machine, Conductors>();

/** Ribbon conductors by net. */
function conductorsByNet(machine: Machine): Conductors {
  const before = kept.get(machine);
  if (before) return before;
  const made = new Map<number, { ribbon: Ribbon; conductor: number }[]>();
  for (const ribbon of machine.ribbons) {
    for (let conductor = 0; conductor < ribbon.conductors; conductor++) {
      const net = machine.nets.of[ribbon.base + conductor]!;
      const list = made.get(net);
      if (list) list.push({ ribbon, conductor });
      else made.set(net, [{ ribbon, conductor }]);
    }
  }
  kept.set(machine, made);
  return made;
}

/** Linear in the nodes of the net. */
export function segmentsOf(machine: Machine, nets: NetIndex, net: number): Segments {
  const { start, members } = machine.nets;
  const slots = new Map<Backplane, Slot[]>();
  const boards = new Set<Board>();
  const cables = new Set<string>();
  for (let i = start[net]!; i < start[net + 1]!; i++) {
    const node = members[i]!;
    if (node >= machine.contactCount) continue;
    const { kind, slot, board, plugs } = nets.instanceOf(node);
    if (board) boards.add(board);
    for (const { name } of plugs) cables.add(name);
    if (kind !== 'slot' || slot === undefined) continue;
    const list = slots.get(slot.backplane);
    if (list) list.push(slot);
    else slots.set(slot.backplane, [slot]);
  }
  const drops = new Map<Ribbon, Drop>();
  for (const { ribbon, conductor } of conductorsByNet(machine).get(net) ?? []) {
    const ends = ribbon.ends.filter((end) => !end.unplugged && (end.contacts[conductor] ?? -1) >= 0);
    if (ends.length > 1 && !drops.has(ribbon)) drops.set(ribbon, { ribbon, ends });
  }
  return {
    runs: [...slots].map(([backplane, its]) => runOf(backplane, its)),
    drops: [...drops.values()],
    cables:
      cables.size === 0
        ? 0
        : machine.ribbons.filter(({ kind, name }) => kind === 'cable' && cables.has(name)).length,
    boards,
  };
}

function runOf(backplane: Backplane, slots: readonly Slot[]): Run {
  const run = { first: Infinity, last: -1, firstFitted: Infinity, lastFitted: -1 };
  for (const { index, state } of slots) {
    run.first = Math.min(run.first, index);
    run.last = Math.max(run.last, index);
    if (state !== 'fitted') continue;
    run.firstFitted = Math.min(run.firstFitted, index);
    run.lastFitted = Math.max(run.lastFitted, index);
  }
  return { backplane, ...run };
}

/** Whether a slot is at an end of the run, as it is built or as it is filled. */
function isRunEnd({ first, last, firstFitted, lastFitted }: Run, slot: number): boolean {
  return slot <= first || slot >= last || slot === firstFitted || slot === lastFitted;
}

const isOn = (end: RibbonEnd, board: Board): boolean => end.instance?.board === board;

const isOuter = ({ ends }: Drop, end: RibbonEnd): boolean => end === ends[0] || end === ends.at(-1);

/**
 * Whether a board sits at an end of at least one piece of the line; undefined where it is on none. `at` names the port
 * or edge that counts.
 */
export function isAtEnd({ runs, drops }: Segments, board: Board, at?: string): boolean | undefined {
  let middle = false;
  for (const run of runs) {
    const { slot } = board;
    const edge =
      at === undefined || board.instances.some((one) => one.kind === 'edge' && one.port.name === at);
    if (slot?.backplane !== run.backplane || !edge) continue;
    if (isRunEnd(run, slot.index)) return true;
    middle = true;
  }
  for (const drop of drops) {
    for (const end of drop.ends) {
      if (!isOn(end, board) || (at !== undefined && end.instance?.port.name !== at)) continue;
      if (isOuter(drop, end)) return true;
      middle = true;
    }
  }
  return middle ? false : undefined;
}

/**
 * How many ends a line has: two for each piece, less those where one piece goes on into another. Never less than two.
 * A cable may end anywhere, so each adds one.
 */
export function endsOf(segments: Segments): number {
  const { runs, drops, cables } = segments;
  const pieces = runs.length + drops.length;
  if (pieces <= 1) return 2 + cables;
  const owners = new Map<unknown, number>();
  const meet = (owner: unknown): void => void owners.set(owner, (owners.get(owner) ?? 0) + 1);
  for (const run of runs) {
    meet(run.backplane);
    for (const board of segments.boards) if (board.slot?.backplane === run.backplane) meet(board);
  }
  for (const { ends } of drops) for (const end of ends) meet(end.instance?.board ?? end.instance?.backplane);
  const goesOn = (owner: unknown): boolean => owner !== undefined && (owners.get(owner) ?? 0) > 1;
  let joined = 0;
  for (const { ends } of drops) {
    for (const end of [ends[0], ends.at(-1)])
      if (goesOn(end?.instance?.board ?? end?.instance?.backplane)) joined++;
  }
  for (const run of runs) {
    for (const board of segments.boards) {
      const { slot } = board;
      if (slot?.backplane === run.backplane && goesOn(board) && isRunEnd(run, slot.index)) joined++;
    }
  }
  return Math.max(2, 2 * pieces - joined) + cables;
}
