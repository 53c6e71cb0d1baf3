import { networkOf } from '../analysis/bias.ts';
import { isAtEnd, type Run, type Segments, segmentsOf } from '../analysis/segments.ts';
import type { Biasing } from '../machine/types.ts';
import { edit, preferred, withEdits } from './edits.ts';
import { spokenEvidence } from './explain.ts';
import { spokenNames } from './lists.ts';
import { biasAnew } from './resistor-edits.ts';
import { grouped, placeKey, spokenSome } from './sisters.ts';
import { isSaidTerminator, spokenPlace } from './terminators.ts';
import type { Edit, Finding, Rule } from './types.ts';

/** A terminator in the middle of a line. One finding for each statement. */
export const terminatorMisplaced: Rule = {
  id: 'terminator-misplaced',
  severity: 'warning',
  summary: 'a terminator is not at an end of its line',
  *check({ machine, nets }) {
    const found: Found[] = [];
    const segments = new Map<number, Segments>();
    for (const biasing of machine.biasings) {
      if (!isSaidTerminator(networkOf(machine, biasing))) continue;
      const net = machine.nets.of[biasing.node]!;
      const its = segments.get(net) ?? segmentsOf(machine, nets, net);
      segments.set(net, its);
      const ends = biasing.board ? onBoard(biasing, its) : onBackplane(biasing, its);
      const run = its.runs.find(({ backplane }) => backplane === biasing.backplane);
      if (ends !== undefined) found.push({ biasing, ends, ...(run ? { run } : {}) });
    }
    const key = ({ biasing, ends }: Found): string => `${placeKey(biasing.bias.source)} ${ends}`;
    for (const sisters of grouped(found, key)) yield finding(sisters);
  },
};

interface Found {
  readonly biasing: Biasing;
  /** Where the ends are. */
  readonly ends: string;
  readonly run?: Run;
}

/** Undefined where it is at an end, or where nobody has said where it is. */
function onBackplane({ bias, backplane }: Biasing, { runs }: Segments): string | undefined {
  const run = runs.find((one) => one.backplane === backplane);
  const { place } = bias;
  const slot = backplane?.slots.find(({ label }) => label === place?.of);
  if (run === undefined || slot === undefined || place === undefined || place.word === 'at') return undefined;
  if (place.word === 'after' ? slot.index >= run.last : slot.index <= run.first) return undefined;
  return spokenEnds(run.backplane.slots, run.first, run.last);
}

const spokenEnds = (slots: readonly { label: string }[], first: number, last: number): string =>
  `before slot ${slots[first]?.label} and after slot ${slots[last]?.label}`;

function onBoard({ bias, board }: Biasing, segments: Segments): string | undefined {
  if (board === undefined || isAtEnd(segments, board, bias.place?.of) !== false) return undefined;
  const places: string[] = [];
  for (const { backplane, first, last } of segments.runs) {
    if (board.slot?.backplane === backplane) places.push(spokenEnds(backplane.slots, first, last));
  }
  for (const { ribbon, ends } of segments.drops) {
    if (ends.some((end) => end.instance?.board === board))
      places.push(`at ${ends[0]?.place} and ${ends.at(-1)?.place} of ribbon ${ribbon.name}`);
  }
  return places.join(', or ');
}

function finding(sisters: readonly Found[]): Finding {
  const { biasing, ends } = sisters[0]!;
  const names = sisters.map((one) => one.biasing.name);
  const { bias, board, backplane } = biasing;
  const places = sisters.map((one) => spokenPlace(one.biasing));
  const slots = board?.slot ? ` in slot ${board.slot.label}` : '';
  return {
    rule: 'terminator-misplaced',
    severity: 'warning',
    message: `${spokenNames(names)}: the terminator ${spokenSome(places)}${slots} is in the middle of the line; its ends are ${ends}`,
    source: bias.source,
    path: sisters.slice(0, 6).map((one) => ({
      contact: spokenPlace(one.biasing),
      signal: one.biasing.name,
      evidence: spokenEvidence(bias.evidence),
      source: bias.source,
    })),
    ...withEdits(moves(sisters)),
    fix: 'move the terminator to an end of the line, or correct where it is said to be',
    about: [
      ...new Set([...names, ...sisters.map((one) => one.biasing.board?.name ?? backplane?.name ?? '')]),
      ...(bias.as ? [bias.as] : []),
    ],
  };
}

/** To the end that it is said to be near to, then to the other. */
function moves(sisters: readonly Found[]): Edit[] {
  const { biasing, run } = sisters[0]!;
  const { bias, backplane } = biasing;
  if (run === undefined || backplane === undefined) return [];
  const names = sisters.map((one) => one.biasing.name);
  const [first, last] = [run.first, run.last].map((index) => backplane.slots[index]!.label);
  const after = edit(
    `move it after slot ${last}`,
    ...biasAnew(bias, names, { after: `after ${last}`, before: '' }, backplane),
  );
  const before = edit(
    `move it before slot ${first}`,
    ...biasAnew(bias, names, { before: `before ${first}`, after: '' }, backplane),
  );
  return bias.place?.word === 'before' ? [preferred(before), after] : [preferred(after), before];
}
