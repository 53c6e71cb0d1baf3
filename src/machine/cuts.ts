import { hasLine } from './bus-lines.ts';
import { isOfChain } from './claims.ts';
import type { Problems } from './scope.ts';
import type { Backplane, Rework } from './types.ts';
import type { Wiring } from './wiring.ts';

export const cutsOf = (backplane: Backplane): Rework[] =>
  backplane.rework.filter((one) => one.kind === 'cut');

/** Indexes of the slots behind which one of the cuts parts a line. */
export function slotsBeforeCuts(
  backplane: Backplane,
  cuts: readonly Rework[],
  isMeant: (place: string) => boolean,
): ReadonlySet<number> {
  const slots = new Set<number>();
  for (const { places, between } of cuts) {
    if (between === undefined || !places.some(({ place }) => isMeant(place))) continue;
    const after = slotBefore(backplane, between);
    if (after !== undefined) slots.add(after);
  }
  return slots;
}

/** Index of the slot after which a cut lies, where the two are neighbours. */
function slotBefore(backplane: Backplane, between: readonly [string, string]): number | undefined {
  const [a, b] = between.map((label) => backplane.slots.findIndex((slot) => slot.label === label));
  return a !== undefined && b !== undefined && a >= 0 && b >= 0 && Math.abs(a - b) === 1
    ? Math.min(a, b)
    : undefined;
}

/** Reports a cut of a line that the backplane does not have, or between slots that are no neighbours. */
export function checkCut(wiring: Wiring, backplane: Backplane, cut: Rework, problems: Problems): void {
  const chains = backplane.buses.flatMap(({ bus }) => bus.chains);
  for (const { place, source } of cut.places) {
    if (backplane.buses.length === 0 || hasLine(wiring, backplane, place)) continue;
    if (chains.some((chain) => isOfChain(place, chain))) continue;
    problems.add('name-unknown', source, `no line of ${backplane.name} is called \`${place}\``);
  }
  if (cut.between && slotBefore(backplane, cut.between) === undefined) {
    problems.add(
      'range-mismatch',
      cut.source,
      'a cut lies between two neighbouring slots; for example `cut SYNC between 6, 7`',
    );
  }
}
