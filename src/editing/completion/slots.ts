import type { Backplane, Slot as BackplaneSlot } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';

/** Slots of a backplane, by what the line wants one for. */
export function slots(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, scope } = cursor;
  const { backplane } = scope;
  if (form?.id === 'entry') return slotsOfBus(cursor);
  if (backplane === undefined) return [];
  if (form?.id === 'slot') return freeSlots(cursor, backplane, slot);
  const all = backplane.slots.map((one) => candidate(one, 0));
  if (slot.key === 'after') return [...all].reverse();
  if (slot.key === 'between' && slot.index > 0) {
    const [one] = otherItems(slot).slice(-1);
    const next = backplane.slots.findIndex(({ label }) => label === one?.first) + 1;
    return all.map((found, i) => (i === next ? found : { ...found, rank: 1 }));
  }
  return all;
}

const candidate = ({ label, state, board }: BackplaneSlot, rank: number): Candidate => ({
  label,
  kind: 'slot',
  rank,
  detail: board?.name ?? (state === 'empty' ? 'empty' : 'nothing said'),
});

/** Slots of which `fitted` says nothing yet. */
function freeSlots({ elsewhere, file }: Cursor, backplane: Backplane, slot: Slot): Candidate[] {
  const isFree = ({ state, source, label }: BackplaneSlot): boolean =>
    (state === 'unsaid' || (source.file === file && !elsewhere(source))) &&
    !otherItems(slot).some(({ first }) => first === label);
  const free = backplane.slots.filter(isFree);
  if (slot.first !== undefined) {
    const start = backplane.slots.findIndex(({ label }) => label === slot.first);
    return free.filter(({ index }) => index > start).map((one) => ({ ...candidate(one, 0), detail: 'free' }));
  }
  const [first, ...others] = free.map((one): Candidate => ({ ...candidate(one, 0), detail: 'free' }));
  if (first === undefined) return [];
  let last = 0;
  while (free[last + 1]?.index === free[last]!.index + 1) last++;
  const run: Candidate[] =
    last > 0
      ? [
          {
            label: `${first.label}..${free[last]!.label}`,
            kind: 'slot',
            rank: 1,
            detail: `${last + 1} free slots`,
          },
        ]
      : [];
  return [first, ...run, ...others.map((one) => ({ ...one, rank: 2 }))];
}

/** Slots that carry a bus, for lines that hold in some of them only. */
function slotsOfBus({ analysis: { machine }, scope: { bus } }: Cursor): Candidate[] {
  const labels = machine.backplanes
    .filter(({ buses }) => buses.some((one) => one.bus === bus))
    .flatMap(({ slots }) => slots.map((one) => candidate(one, 0)));
  return [...new Map(labels.map((one) => [one.label, one])).values()];
}

/** Labels for a new row of slots: behind those that the backplane has, or as many as are usual. */
export function newSlots({ scope: { backplane }, elsewhere }: Cursor): Candidate[] {
  const last = (backplane?.slots ?? []).filter(({ source }) => elsewhere(source)).length;
  return [4, 8, 10].map((count) => ({
    label: `${last + 1}..${last + count}`,
    kind: 'slot',
    rank: count === 8 ? 0 : 1,
    detail: `${count} slots`,
  }));
}
