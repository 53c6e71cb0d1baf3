import { isTerminator, TERMINATOR_OHMS, thevenin } from '../analysis/bias.ts';
import { BOARD_CAPACITANCE, bareLine, loadedLine } from '../analysis/length.ts';
import { type Line, linesOf } from '../analysis/line.ts';
import { legsOf } from '../analysis/loading.ts';
import { type Run, segmentsOf } from '../analysis/segments.ts';
import type { Backplane, Claim, Source } from '../machine/types.ts';
import { preferred, withEdits } from './edits.ts';
import { spokenAmount, spokenEvidence, stepAt } from './explain.ts';
import { spokenNames, stemOf } from './lists.ts';
import { grouped } from './sisters.ts';
import { terminating } from './terminator-edits.ts';
import { spokenPlace } from './terminators.ts';
import type { Finding, Rule, View } from './types.ts';

/** Of the lines driven on a backplane, the part that must be terminated before the others are asked about. */
const NEARLY_ALL = 0.8;
const ENOUGH = 5;
/** s of a 74LS edge, from memory: a line is long whose way there and back takes more. */
const EDGE = 6e-9;

/** A line whose sisters are terminated, and it is not. One finding for each vector, one question for each backplane. */
export const lineUnterminated: Rule = {
  id: 'line-unterminated',
  severity: 'warning',
  summary: 'the sisters of a line are terminated, or terminated at both ends, and it is not',
  *check(view) {
    const members = linesOf(view.machine, view.nets)
      .map((line) => memberOf(view, line))
      .filter((member) => member !== undefined);
    for (const lines of grouped(members, ({ backplane }) => backplane.name)) yield* ofBackplane(view, lines);
  },
};

/** A line of a backplane that could be terminated. */
interface Member {
  readonly line: Line;
  readonly backplane: Backplane;
  readonly claim: Claim;
  readonly contact: number;
  readonly terminated: boolean;
}

function memberOf({ nets }: View, line: Line): Member | undefined {
  for (const { claim, contact } of line.view.claims) {
    const { kind, slot, port } = nets.instanceOf(contact);
    if (kind !== 'slot' || slot === undefined || claim.kind !== 'signal' || claim.private) continue;
    if (port.bus?.chains.some(({ name, outName }) => name === claim.name || outName === claim.name)) continue;
    const legs = legsOf(line);
    // A value nobody knows may be a terminator's.
    const unsure = line.networks.some((network) => network.legs === undefined);
    const terminated = unsure || (legs.length > 0 && thevenin(legs).ohms <= TERMINATOR_OHMS);
    return { line, backplane: slot.backplane, claim, contact, terminated };
  }
  return undefined;
}

function* ofBackplane(view: View, members: readonly Member[]): Iterable<Finding> {
  const told = new Set<Member>();
  const bare = (member: Member): boolean => !member.terminated && !member.line.wired;
  for (const sisters of grouped(members, ({ claim }) => stemOf(claim.name))) {
    const terminated = sisters.filter((member) => member.terminated);
    const missing = sisters.filter(bare);
    if (missing.length > 0 && terminated.length >= Math.max(2, missing.length)) {
      for (const member of missing) told.add(member);
      yield ofVector(view, missing, terminated);
    }
    const [single, both] = byEnds(terminated);
    if (single.length === 0 || both.length < Math.max(2, single.length)) continue;
    for (const member of single) told.add(member);
    yield ofOneEnd(view, single, both, 'warning');
  }
  const busy = members.filter(({ line }) => !line.wired && isBusy(line));
  const terminated = busy.filter((member) => member.terminated);
  const rest = busy.filter((member) => bare(member) && !told.has(member));
  const enough = terminated.length >= ENOUGH && terminated.length >= NEARLY_ALL * busy.length;
  if (enough && rest.length > 0) yield ofRest(view, rest, terminated);
  else for (const member of rest) yield* ofLength(view, member);
  const [single, both] = byEnds(terminated);
  const left = single.filter((member) => !told.has(member));
  if (left.length > 0 && both.length >= ENOUGH && both.length >= NEARLY_ALL * busy.length)
    yield ofOneEnd(view, left, both, 'question');
}

/** Lines with a terminator at one end, and those with one at both. Where a value is not known, neither. */
function byEnds(members: readonly Member[]): readonly [Member[], Member[]] {
  const sure = members.filter(({ line }) => line.networks.every(({ legs }) => legs !== undefined));
  return [sure.filter(({ line }) => endsOf(line) === 1), sure.filter(({ line }) => endsOf(line) > 1)];
}

/** In how many places a line is terminated; legs said in two statements at one place are one terminator. */
function endsOf({ networks }: Line): number {
  const places = grouped(networks, ({ biasing }) => spokenPlace(biasing));
  const ohms = places.map((its) => thevenin(its.flatMap(({ legs }) => legs ?? [])).ohms);
  return ohms.filter((one) => one <= TERMINATOR_OHMS).length;
}

/** Whether one board drives it and another hears it. */
function isBusy({ drivers, view }: Line): boolean {
  const [first] = drivers;
  if (first === undefined) return false;
  const hears = (kind: string): boolean => kind === 'receives' || kind === 'transceives';
  return view.uses.some(
    ({ card, board }) => hears(card.kind) && drivers.some(({ use }) => use.board !== board),
  );
}

/** The statement that terminates most of the sisters: where this line is missing from. */
function statementOf(terminated: readonly Member[]): { source: Source; evidence: string } | undefined {
  const biases = terminated.flatMap(({ line }) => line.networks.map(({ biasing }) => biasing.bias));
  const groups = grouped(biases, ({ source }) => `${source.file}:${source.from}`);
  const largest = groups.sort((a, b) => b.length - a.length)[0]?.[0];
  return largest && { source: largest.source, evidence: spokenEvidence(largest.evidence) };
}

function ofVector(view: View, missing: readonly Member[], terminated: readonly Member[]): Finding {
  const names = missing.map(({ claim }) => claim.name);
  const sisters = spokenNames(terminated.map(({ claim }) => claim.name));
  const one = names.length === 1;
  return {
    ...shared(view, missing, terminated),
    severity: 'warning',
    message: `${spokenNames(names)} of ${missing[0]!.backplane.name} ${one ? 'is' : 'are'} not terminated, ${one ? 'its' : 'their'} sisters ${sisters} are`,
    fix: 'look for the terminator that is missing or broken, and add the line to the `terminate` statement where it is there',
    ...withEdits(terminating(view, missing, terminated).map(preferred)),
  };
}

function ofRest(view: View, rest: readonly Member[], terminated: readonly Member[]): Finding {
  const names = spokenNames(rest.map(({ claim }) => claim.name));
  const of = `${terminated.length} of ${terminated.length + rest.length} driven lines`;
  return {
    ...shared(view, rest, terminated),
    severity: 'question',
    message: `${names} of ${rest[0]!.backplane.name}: no terminator is said, but ${of} have one`,
    fix: 'measure from the line to the rails of the terminators with the power off, and add it to the `terminate` statement; if it has none, say so with `allow line-unterminated at LINE "reason"`',
    ...withEdits(terminating(view, rest, terminated)),
  };
}

/** Lines that lack the terminator at one end, which most others have. */
function ofOneEnd(
  view: View,
  single: readonly Member[],
  both: readonly Member[],
  severity: 'warning' | 'question',
): Finding {
  const names = spokenNames(single.map(({ claim }) => claim.name));
  const one = single.length === 1;
  const { networks } = single[0]!.line;
  const { biasing } = networks.find(isTerminator) ?? networks[0]!;
  const others =
    severity === 'warning'
      ? `${one ? 'its' : 'their'} sisters ${spokenNames(both.map(({ claim }) => claim.name))} are`
      : `${both.length} other driven lines are`;
  return {
    ...shared(view, single, both),
    severity,
    message: `${names} of ${single[0]!.backplane.name} ${one ? 'is' : 'are'} terminated ${spokenPlace(biasing)} only, ${others} at both ends`,
    fix: 'look for the terminator that is missing or broken at the other end, and add the line to the `terminate` statement where it is there',
    ...withEdits(terminating(view, single, both, spokenPlace(biasing))),
  };
}

function shared(
  view: View,
  missing: readonly Member[],
  terminated: readonly Member[],
): Pick<Finding, 'rule' | 'source' | 'path' | 'about'> {
  const source = statementOf(terminated)?.source ?? missing[0]!.claim.source;
  return {
    rule: 'line-unterminated',
    source,
    path: missing.slice(0, 8).map(({ contact, claim }) => stepAt(view, contact, claim.source)),
    about: [...missing.map(({ claim }) => claim.name), missing[0]!.backplane.name],
  };
}

/** A clock or strobe on a line that is long for the edges on it: the figures, where they are known. */
function* ofLength(view: View, member: Member): Iterable<Finding> {
  const { line, backplane, claim } = member;
  if (!claim.clock && !claim.strobe) return;
  const { runs } = segmentsOf(view.machine, view.nets, line.view.net);
  const run = runs.find((one) => one.backplane === backplane);
  const data =
    backplane.lines.find(({ names }) => names.includes(claim.name)) ??
    backplane.lines.find(({ names }) => names.length === 0);
  const bare = data && bareLine(data);
  const length = run && lengthOf(run);
  if (run === undefined || bare === undefined || length === undefined || length === 0) return;
  const fitted = backplane.slots.filter(({ state, index }) => state === 'fitted' && index <= run.last).length;
  const { impedance, delay } = loadedLine(bare, (fitted * BOARD_CAPACITANCE) / length);
  const way = delay * length;
  if (2 * way < EDGE) return;
  const ns = (seconds: number): string => `${(seconds * 1e9).toPrecision(3)} ns`;
  yield {
    rule: 'line-unterminated',
    severity: 'note',
    message: `${claim.name} of ${backplane.name} is a ${claim.clock ? 'clock' : 'strobe'} without terminator: ${fitted} boards on ${(length * 100).toPrecision(3)} cm make about ${spokenAmount(impedance, 'ohm')} and ${ns(way)} one way, so edges faster than ${ns(2 * way)} are followed by echoes`,
    source: claim.source,
    path: [stepAt(view, member.contact, claim.source)],
    fix: 'look at the line with an oscilloscope at its far end before blaming a card',
    about: [claim.name, backplane.name],
  };
}

/** m from the first to the last slot; undefined where a pitch is not said. */
function lengthOf({ backplane, first, last }: Run): number | undefined {
  let length = 0;
  for (let i = first + 1; i <= last; i++) {
    const { pitch } = backplane.slots[i]!;
    if (pitch === undefined) return undefined;
    length += pitch;
  }
  return length;
}
