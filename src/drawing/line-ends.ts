import { placeOf, spokenAmount } from '../checks/explain.ts';
import type { Backplane, Biasing } from '../machine/types.ts';
import { type DrawnBus, spotOf } from './drawn-bus.ts';
import type { EndMark } from './picture.ts';

/** Resistors of the backplane and rails that arrive, by the name of the line that they are said of. */
export function endsByName({ view, backplane, bus }: DrawnBus): ReadonlyMap<string, readonly EndMark[]> {
  const ends = new Map<string, EndMark[]>();
  const add = (name: string, mark: EndMark): void => {
    ends.set(name, [...(ends.get(name) ?? []), mark]);
  };
  for (const biasing of view.machine.biasings) {
    if (biasing.backplane !== backplane) continue;
    const { bias, name, source } = biasing;
    add(name, {
      kind: bias.word,
      gap: gapOf(backplane, biasing),
      text: bias.legs.map(({ ohms, rail }) => `${spokenAmount(ohms, 'ohm')} to ${rail}`).join(', '),
      guess: bias.evidence.kind === 'guess',
      spot: spotOf(source),
    });
  }
  for (const { rail, supply, contacts, evidence, source } of backplane.feeds) {
    if (contacts.length > 0 && !contacts.some(({ instanceBus }) => instanceBus === bus)) continue;
    const guess = evidence.kind === 'guess';
    add(rail, { kind: 'feed', gap: 0, text: `from ${supply.name}`, guess, spot: spotOf(source) });
  }
  return ends;
}

/** The gap between slots where a resistor sits; behind the last slot where that is not said. */
function gapOf({ slots }: Backplane, { bias: { place } }: Biasing): number {
  const index = slots.findIndex(({ label }) => label === (place?.of.split('.').at(-2) ?? place?.of));
  if (place === undefined || index < 0) return slots.length;
  return place.word === 'before' ? index : index + 1;
}

/** Contacts of these nets that are not of this bus's slots or the boards in them. */
export function beyondOf({ view, backplane }: DrawnBus, nets: readonly number[]): string[] {
  const { start, members } = view.machine.nets;
  const places: string[] = [];
  for (const net of nets) {
    for (let i = start[net]!; i < start[net + 1]!; i++) {
      const node = members[i]!;
      if (node >= view.machine.contactCount) break;
      const { kind, slot, board } = view.nets.instanceOf(node);
      if (slot?.backplane === backplane) continue;
      if (kind === 'edge' && board?.slot?.backplane === backplane) continue;
      places.push(placeOf(view, node));
    }
  }
  return places;
}
