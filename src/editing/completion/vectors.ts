import { expandVector, vectorName } from '../../machine/names.ts';
import type { Candidate } from './candidate.ts';

/** A list with its runs named as ranges: each run where its first member stands, its members behind everything else. */
export function withVectors(list: readonly Candidate[]): Candidate[] {
  const runs = new Map<string, readonly Candidate[]>();
  const inRun = new Set<string>();
  for (const group of groupsOf(list)) {
    for (const run of runsOf(group)) {
      const earliest = run.reduce((a, b) => (list.indexOf(a) <= list.indexOf(b) ? a : b));
      runs.set(earliest.label, run);
      for (const { label } of run) inRun.add(label);
    }
  }
  const front: Candidate[] = [];
  const behind: Candidate[] = [];
  for (const one of list) {
    const run = runs.get(one.label);
    if (run !== undefined) front.push(vectorOf(run, one.rank));
    if (inRun.has(one.label)) behind.push({ ...one, rank: one.rank + 0.5 });
    else front.push(one);
  }
  return [...front, ...behind];
}

function vectorOf(run: readonly Candidate[], rank: number): Candidate {
  const [first, last] = [run[0]!, run.at(-1)!];
  const { detail } = first;
  return {
    label: `${first.label}..${last.label}`,
    kind: first.kind,
    rank,
    detail: detail === undefined ? `${run.length} of them` : `${run.length}: ${detail} …`,
  };
}

/** Names that differ in their last number only, by rank and kind. */
function groupsOf(list: readonly Candidate[]): Iterable<Candidate[]> {
  const groups = new Map<string, Candidate[]>();
  for (const one of list) {
    const vector = vectorName(one.label);
    if (vector === undefined || /^[+-]\d/.test(one.label)) continue;
    const key = [one.rank, one.kind, vector.before, vector.after].join('\n');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return groups.values();
}

/** Stretches of consecutive numbers that a range names as they are written. */
function* runsOf(group: readonly Candidate[]): Iterable<Candidate[]> {
  const numbered = group
    .map((one) => ({ one, number: vectorName(one.label)!.number }))
    .sort((a, b) => a.number - b.number);
  let run: typeof numbered = [];
  for (const next of [...numbered, { one: undefined, number: -1 }]) {
    if (next.one !== undefined && (run.length === 0 || next.number === run.at(-1)!.number + 1)) {
      run.push(next);
      continue;
    }
    if (run.length > 1 && isRange(run.map(({ one }) => one.label))) yield run.map(({ one }) => one);
    run = next.one === undefined ? [] : [next];
  }
}

function isRange(names: readonly string[]): boolean {
  const expanded = expandVector(names[0]!, names.at(-1)!);
  return !('problem' in expanded) && expanded.join('\n') === names.join('\n');
}

/** Members of a range that begins with `first`: what may end it, the longest range first. */
export function rangeEnds(first: string, list: readonly Candidate[]): Candidate[] {
  const start = vectorName(first);
  if (start === undefined) return [];
  const ends = list.flatMap((one) => {
    const end = one.label.includes('..') ? undefined : vectorName(one.label);
    const fits = end?.before === start.before && end.after === start.after && end.number !== start.number;
    return fits ? [{ one, distance: end.number - start.number }] : [];
  });
  return ends
    .sort(
      (a, b) =>
        Number(b.distance > 0) - Number(a.distance > 0) || Math.abs(b.distance) - Math.abs(a.distance),
    )
    .map(({ one }) => ({ ...one, rank: 0 }));
}
