import { placeOf, spokenAmount } from '../checks/explain.ts';
import type { Biasing, Feed } from '../machine/types.ts';
import { carrying, stretchAt, traceOf } from './bus-trace.ts';
import { type DrawnBus, spotOf } from './drawn-bus.ts';
import { type Gathered, namesOf } from './gathered.ts';
import type { EndMark } from './picture.ts';

type Bus = Omit<DrawnBus, 'foundAt'>;

/** A resistor or a rail that arrives, before anything is found of it. */
export type End = Omit<EndMark, 'finding' | 'origin'>;

/** Resistors of the backplane and rails that arrive, by the line that their copper is on. */
export function endsOf(drawn: Bus, lines: readonly Gathered[]): ReadonlyMap<Gathered, readonly End[]> {
  const ends = new Map<Gathered, End[]>();
  const add = (line: Gathered, end: End): void => {
    const its = ends.get(line);
    if (its) its.push(end);
    else ends.set(line, [end]);
  };
  const { view, backplane } = drawn;
  const biasings = view.machine.biasings.filter((one) => one.backplane === backplane);
  const at = biasings.length === 0 ? new Map<number, Gathered>() : stretches(drawn, lines);
  for (const biasing of biasings) {
    const { bias, node, source } = biasing;
    const line = at.get(node < view.machine.contactCount ? stretchOf(drawn, node) : node);
    if (line === undefined) continue;
    add(line, {
      kind: bias.word,
      ...placeOn(drawn, line, biasing),
      text: bias.legs.map(({ ohms, rail }) => `${spokenAmount(ohms, 'ohm')} to ${rail}`).join(', '),
      guess: bias.evidence.kind === 'guess',
      spot: spotOf(source),
    });
  }
  for (const feed of backplane.feeds) {
    const { supply, evidence, source } = feed;
    const guess = evidence.kind === 'guess';
    for (const line of fedBy(drawn, lines, feed))
      add(line, {
        kind: 'feed',
        gap: carrying(line)[0]!,
        text: `from ${supply.name}`,
        guess,
        spot: spotOf(source),
      });
  }
  return ends;
}

/** Each stretch of these lines; of a contact that is on none, its own node. */
function stretches(drawn: Bus, lines: readonly Gathered[]): ReadonlyMap<number, Gathered> {
  const at = new Map<number, Gathered>();
  for (const line of lines) {
    line.bySlot.forEach((contacts, slot) => {
      for (const contact of contacts) at.set(stretchOf(drawn, drawn.sockets[slot]!.base + contact), line);
    });
  }
  return at;
}

function stretchOf({ view }: Bus, contact: number): number {
  const stretch = traceOf(view.machine).stretch[contact]!;
  return stretch < 0 ? contact : stretch;
}

/**
 * The gap between slots where a resistor sits, and on which side of it where the line is cut there. Where it is not said,
 * it is drawn behind the last slot of the stretch that it is on.
 */
function placeOn(drawn: Bus, line: Gathered, { bias: { place }, node }: Biasing): Pick<End, 'gap' | 'side'> {
  const { slots } = drawn.backplane;
  const index =
    place === undefined || place.word === 'at' ? -1 : slots.findIndex(({ label }) => label === place.of);
  const own = node < drawn.view.machine.contactCount ? stretchOf(drawn, node) : node;
  const isOwn = (slot: number): boolean => stretchAt(drawn, line, slot) === own;
  const last = carrying(line).findLast(isOwn);
  const isLast = last === undefined || last === carrying(line).at(-1);
  const gap = index >= 0 ? index + (place?.word === 'before' ? 0 : 1) : isLast ? slots.length : last + 1;
  const said = place?.word === 'before' && index >= 0 ? 'right' : 'left';
  const other = said === 'left' ? gap : gap - 1;
  const isCut = stretchAt(drawn, line, other) >= 0 && !isOwn(other);
  return isCut ? { gap, side: said } : { gap };
}

/** The lines of the contacts that a rail is fed to. */
function fedBy(
  { backplane, bus, place }: Bus,
  lines: readonly Gathered[],
  feed: Feed,
): ReadonlySet<Gathered> {
  const fed = new Set<Gathered>();
  // A bus that is there at two places of a slot is fed at the first.
  if (backplane.buses.find((one) => one.bus === bus)?.place !== place) return fed;
  for (const { instanceBus, contact } of feed.contacts) {
    if (instanceBus !== bus) continue;
    const name = bus.pins.claims[contact]?.name ?? '';
    const line =
      lines.find((one) => name !== '' && namesOf(one).includes(name)) ??
      lines.find(({ bySlot }) => bySlot[0]?.includes(contact));
    if (line) fed.add(line);
  }
  return fed;
}

/** Contacts of these nets that are not of the drawn sockets or the boards in them; of another bus here, one a line. */
export function beyondOf(drawn: Bus, nets: readonly number[]): string[] {
  const { view, backplane, sockets } = drawn;
  const { start, members } = view.machine.nets;
  const places: string[] = [];
  const told = new Set<number>();
  for (const net of nets) {
    for (let i = start[net]!; i < start[net + 1]!; i++) {
      const node = members[i]!;
      if (node >= view.machine.contactCount) break;
      const instance = view.nets.instanceOf(node);
      const { kind, slot, board } = instance;
      if (slot?.backplane === backplane) {
        if (sockets[slot.index] === instance) continue;
        const stretch = stretchOf(drawn, node);
        if (told.has(stretch)) continue;
        told.add(stretch);
        // What a board's edge is on is told by the slot that it sits in.
      } else if (kind === 'edge' && board?.slot?.backplane === backplane) continue;
      places.push(placeOf(view, node));
    }
  }
  return places;
}
