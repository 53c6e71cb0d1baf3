import type { Line } from '../analysis/line.ts';
import { segmentsOf } from '../analysis/segments.ts';
import type { Backplane, Biasing, Claim } from '../machine/types.ts';
import { edit } from './edits.ts';
import { spokenList, spokenNames } from './lists.ts';
import { writtenLegs } from './resistor-edits.ts';
import { grouped } from './sisters.ts';
import { spokenPlace } from './terminators.ts';
import type { Edit, View } from './types.ts';

/** A line of a backplane, and what it is called there. */
interface OnBackplane {
  readonly line: Line;
  readonly backplane: Backplane;
  readonly claim: Claim;
}

/**
 * The lines added to what terminates most of the others of one backplane in one place, elsewhere than at the end that
 * has a terminator already.
 */
export function terminating(
  view: View,
  missing: readonly OnBackplane[],
  terminated: readonly OnBackplane[],
  but?: string,
): Edit[] {
  const { backplane } = missing[0]!;
  const here = terminated.map(({ line }) =>
    line.networks.flatMap(({ biasing }) =>
      biasing.backplane === backplane && spokenPlace(biasing) !== but ? [biasing] : [],
    ),
  );
  const key = (biasings: readonly Biasing[]): string =>
    biasings.map(({ bias: { source } }) => `${source.file}:${source.from}`).join(' ');
  const likely = grouped(
    here.filter((biasings) => biasings.length > 0),
    key,
  ).sort((a, b) => b.length - a.length)[0]?.[0];
  if (likely === undefined) return [];
  const places = spokenList([...new Set(likely.map(spokenPlace))]);
  const legs = likely.map(({ bias }) => bias);
  const slot = backplane.slots.findIndex(({ label }) => label === legs[0]!.place?.of);
  // A line that is cut before that slot gets its terminator at its own end.
  const own = new Map(
    missing.flatMap(({ line, claim }): (readonly [string, number])[] => {
      const run = segmentsOf(view.machine, view.nets, line.view.net).runs.find(
        (one) => one.backplane === backplane,
      );
      return run && slot >= 0 && (slot < run.first || slot > run.last) ? [[claim.name, run.last]] : [];
    }),
  );
  const to = missing.map(({ claim }) => claim.name).filter((name) => !own.has(name));
  const listed = legs.map(({ source }) => ({ kind: 'list', source, from: [], to }) as const);
  const lines = [...own].flatMap(([name, last]) =>
    legs.map(
      (bias) => `${bias.word} ${name} ${writtenLegs(bias.legs)} after ${backplane.slots[last]!.label}`,
    ),
  );
  const added = lines.map((line) => ({ kind: 'add', line, into: backplane.source }) as const);
  const titles = [
    ...(to.length > 0 ? [`add ${spokenNames(to)} to the terminators ${places}`] : []),
    ...lines.map((line) => `add \`${line}\``),
  ];
  return [edit(titles.join(', '), ...(to.length > 0 ? listed : []), ...added)];
}
