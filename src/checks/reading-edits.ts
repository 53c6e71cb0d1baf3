import type { Instance, Reading } from '../machine/types.ts';
import { edit } from './edits.ts';
import { claimOf, placeOf } from './explain.ts';
import type { Edit, View } from './types.ts';

/** The two contacts of one backplane between which the meter was held; undefined where they are no slots of one. */
function slotsOf({ machine, nets }: View, { from, to }: Reading): readonly [Instance, Instance] | undefined {
  if (from >= machine.contactCount || to >= machine.contactCount) return undefined;
  const [one, other] = [nets.instanceOf(from), nets.instanceOf(to)];
  const same = one.kind === 'slot' && other.kind === 'slot' && one.backplane === other.backplane;
  return same ? [one, other] : undefined;
}

/** `by meter 2026-05-02`, as the reading is known. */
const byMeter = ({ evidence: { date } }: Reading): string => (date ? `by meter ${date}` : 'by meter');

/** The wire on a backplane that the meter found. */
export function wiring(view: View, reading: Reading): Edit[] {
  const backplane = slotsOf(view, reading)?.[0].backplane;
  if (backplane === undefined) return [];
  const places = [reading.from, reading.to].map((node) =>
    placeOf(view, node).slice(backplane.name.length + 1),
  );
  const line = `wire ${places.join(' to ')} ${byMeter(reading)}`;
  return [edit(`add the wire that joins them: \`${line}\``, { kind: 'add', line, into: backplane.source })];
}

/** The cut of a bus line, where only one place is left for it: between neighbouring slots. */
export function cutting(view: View, reading: Reading): Edit[] {
  const [one, other] = slotsOf(view, reading) ?? [];
  const [a, b] = [one?.slot, other?.slot].sort((x, y) => (x?.index ?? 0) - (y?.index ?? 0));
  const claim = claimOf(view, reading.from);
  if (a === undefined || b === undefined || b.index - a.index !== 1 || claim?.kind !== 'signal') return [];
  const line = `cut ${claim.name} between ${a.label}, ${b.label} ${byMeter(reading)}`;
  return [edit(`add the cut: \`${line}\``, { kind: 'add', line, into: a.backplane.source })];
}
