import { cutsOf, slotsBeforeCuts } from '../machine/cuts.ts';
import type { Machine } from '../machine/types.ts';
import type { DrawnBus } from './drawn-bus.ts';
import { type Gathered, namesOf } from './gathered.ts';

/** The copper of a backplane as it was made and cut, whatever wires and boards join besides. */
export interface Trace {
  /** The stretch of a line that each contact is on, as its node; −1 where it is on none. */
  readonly stretch: Int32Array;
  /** Pairs of contacts between which a chain leads from slot to slot, as `out in`. */
  readonly chained: ReadonlySet<string>;
}

const kept = new WeakMap<Machine, Trace>();

/** Linear in the joins. */
export function traceOf(machine: Machine): Trace {
  const before = kept.get(machine);
  if (before) return before;
  const { from, to, cause, causes } = machine.joins;
  const stretch = new Int32Array(machine.contactCount).fill(-1);
  const chained = new Set<string>();
  for (let i = 0; i < from.length; i++) {
    const { kind } = causes[cause[i]!]!;
    if (kind === 'bus' && to[i]! >= machine.contactCount) stretch[from[i]!] = to[i]!;
    else if (kind === 'chain') chained.add(`${from[i]} ${to[i]}`);
  }
  const trace = { stretch, chained };
  kept.set(machine, trace);
  return trace;
}

/** The stretch that a line is on in a slot that carries it. */
export function stretchAt(
  { view, sockets }: Pick<DrawnBus, 'view' | 'sockets'>,
  { bySlot }: Gathered,
  slot: number,
): number {
  const [socket, contact] = [sockets[slot], bySlot[slot]?.[0]];
  return socket && contact !== undefined ? traceOf(view.machine).stretch[socket.base + contact]! : -1;
}

/** The slots that carry a line, in their order. */
export function carrying({ bySlot }: Gathered): number[] {
  const slots: number[] = [];
  bySlot.forEach(({ length }, slot) => {
    if (length > 0) slots.push(slot);
  });
  return slots;
}

/** Whether the trace of a line passes each gap between two slots, also past slots that do not carry it. */
export function linksOf(drawn: DrawnBus, line: Gathered): boolean[] {
  const { backplane, sockets, view } = drawn;
  const { chain } = line;
  const links = sockets.slice(1).map(() => false);
  const cuts = cutsOf(backplane);
  const names = namesOf(line);
  const cutAfter =
    cuts.length === 0 ? undefined : slotsBeforeCuts(backplane, cuts, (one) => names.includes(one));
  const { stretch, chained } = traceOf(view.machine);
  const isOnTrace = (slot: number): boolean => stretch[sockets[slot]!.base + line.bySlot[slot]![0]!]! >= 0;
  carrying(line).reduce((here, next) => {
    if (chain) {
      const [out, into] = [sockets[here]!.base + chain.output, sockets[next]!.base + chain.input];
      links.fill(true, here, chained.has(`${out} ${into}`) ? next : next - 1);
    } else if (isOnTrace(here) && isOnTrace(next))
      for (let gap = here; gap < next; gap++) links[gap] = cutAfter?.has(gap) !== true;
    return next;
  });
  return links;
}
