import { type Network, networkOf } from '../analysis/bias.ts';
import type { NetView } from '../analysis/nets.ts';
import { endsOf, segmentsOf } from '../analysis/segments.ts';
import { edit, withEdits } from './edits.ts';
import { spokenEvidence } from './explain.ts';
import { spokenNames } from './lists.ts';
import { grouped, placeKey, spokenSome } from './sisters.ts';
import { isSaidTerminator, spokenPlace } from './terminators.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** More terminators than a line has ends. One finding for lines with the same terminators. */
export const lineOverTerminated: Rule = {
  id: 'line-over-terminated',
  severity: 'warning',
  summary: 'a line has more terminators than ends',
  *check(view) {
    const found: Found[] = [];
    for (const net of view.nets.views) {
      if (net.biasings.length < 2) continue;
      const terminators = net.biasings
        .map((biasing) => networkOf(view.machine, biasing))
        .filter(isSaidTerminator);
      const count = countOf(terminators);
      if (count <= 2) continue;
      const ends = endsOf(segmentsOf(view.machine, view.nets, net.net));
      if (count > ends) found.push({ net, terminators, count, ends });
    }
    const key = ({ terminators, ends }: Found): string =>
      [
        ends,
        ...terminators.map(({ biasing }) => `${placeKey(biasing.bias.source)} ${spokenPlace(biasing)}`),
      ].join('\n');
    for (const sisters of grouped(found, key)) yield finding(view, sisters);
  },
};

interface Found {
  readonly net: NetView;
  readonly terminators: readonly Network[];
  readonly count: number;
  readonly ends: number;
}

/** Two legs said in two statements at one place are one terminator. */
function countOf(terminators: readonly Network[]): number {
  let count = 0;
  const single = new Map<string, Map<string, number>>();
  for (const { biasing, legs } of terminators) {
    if (legs?.length !== 1) {
      count++;
      continue;
    }
    const place = spokenPlace(biasing);
    const rails = single.get(place) ?? new Map<string, number>();
    const { rail } = biasing.bias.legs[0]!;
    rails.set(rail, (rails.get(rail) ?? 0) + 1);
    single.set(place, rails);
  }
  for (const rails of single.values()) count += Math.max(...rails.values());
  return count;
}

function finding(view: View, sisters: readonly Found[]): Finding {
  const { terminators, count, ends } = sisters[0]!;
  const names = sisters.map(({ net }) => net.biasings[0]!.name);
  const places = [...new Set(terminators.map(({ biasing }) => spokenPlace(biasing)))];
  const boards = terminators.map(({ biasing }) => biasing.board?.name ?? biasing.backplane?.name ?? '');
  const last = terminators.at(-1)!.biasing;
  const removable = last.board && last.bias.as;
  return {
    rule: 'line-over-terminated',
    severity: 'warning',
    message: `${spokenNames(names)}: ${count} terminators (${spokenSome(places, 5)}), but a line has ${ends} ends: the drivers must sink the extra one too`,
    source: last.bias.source,
    path: terminators.map(({ biasing }) => ({
      contact: spokenPlace(biasing),
      signal: biasing.name,
      evidence: spokenEvidence(biasing.bias.evidence),
      source: biasing.bias.source,
    })),
    fix: removable
      ? `leave a terminator at each end and take the others out; a board that lacks it says \`without ${last.bias.as}\``
      : 'leave a terminator at each end and take the others out',
    ...withEdits(removals(view, sisters)),
    about: [...new Set([...names, ...boards])],
  };
}

/** Each terminator taken out, the last said first; none where one fewer is still too many. */
function removals({ machine }: View, sisters: readonly Found[]): Edit[] {
  const { terminators, count, ends } = sisters[0]!;
  const names = sisters.map(({ net }) => net.biasings[0]!.name);
  if (count - ends !== 1 || terminators.some(({ legs }) => legs?.length === 1)) return [];
  const all = [...terminators].reverse().flatMap(({ biasing }) => {
    const { bias, board } = biasing;
    const where = spokenPlace(biasing);
    if (board && bias.as !== undefined && bias.names.length === names.length) {
      const change = { kind: 'add', line: `without ${bias.as}`, into: board.source } as const;
      return [edit(`take ${bias.as} off ${board.name}: \`without ${bias.as}\``, change)];
    }
    // What is said of a card holds for all boards of its kind.
    if (board && machine.boards.some((one) => one !== board && one.card === board.card)) return [];
    return [
      edit(`take the terminator ${where} out`, { kind: 'list', source: bias.source, from: names, to: [] }),
    ];
  });
  // Two said alike are as good as each other.
  return [...new Map(all.map((one) => [one.title, one])).values()];
}
