import { type PathStep, pathBetween } from '../analysis/paths.ts';
import { pairOf, shortsOf, type Voltage, voltagesOf } from '../analysis/readings.ts';
import { apart, continuity } from '../machine/readings.ts';
import type { JoinKind, Machine, Reading, Source } from '../machine/types.ts';
import { withEdits } from './edits.ts';
import { claimOf, placeOf, spokenAmount, spokenEvidence, stepAt, stepsBetween } from './explain.ts';
import { type Found, liveWhenOff } from './live-readings.ts';
import { cutting, wiring } from './reading-edits.ts';
import { type Line, lineAt, readingStep, spokenReading } from './readings.ts';
import type { Edit, Finding, Rule, Step, View } from './types.ts';

/** A reading and the map cannot both be true. One finding per pair of nets, set of statements, or rail. */
export const readingContradicts: Rule = {
  id: 'reading-contradicts',
  severity: 'error',
  summary:
    'a reading says joined where the map says apart, or the reverse, another voltage than the rail’s, or volts with power off',
  *check(view) {
    yield* onceEach(joinedButApart(view));
    yield* onceEach(apartButJoined(view));
    yield* onceEach(otherVoltage(view));
    yield* onceEach(liveWhenOff(view));
  },
};

function* onceEach(found: Iterable<Found>): Iterable<Finding> {
  const told = new Set<string>();
  for (const [cause, finding] of found) {
    if (told.has(cause)) continue;
    told.add(cause);
    yield finding;
  }
}

// ---- joined by the meter, apart by the map ----

function* joinedButApart(view: View): Iterable<Found> {
  const { machine, nets } = view;
  // A rail whose reading is a short by its figures is reported as that: the metal is to blame, not the map.
  const shorts = new Set(shortsOf(machine, nets).flatMap(({ readings }) => readings));
  for (const reading of machine.readings) {
    if (shorts.has(reading) || machine.nets.of[reading.from] === machine.nets.of[reading.to]) continue;
    const [left, right] = [reading.from, reading.to].map((node) => lineAt(view, node));
    if (left === undefined || right === undefined || declaredOne(machine, left, right)) continue;
    if (!continuity(reading, left.power && right.power)) continue;
    yield [pairOf(machine, nets, reading), joined(view, reading, left, right)];
  }
}

/** Two names that the file itself says are one: by a strap, or as grounds of one line. */
function declaredOne({ aliases, railNames }: Machine, a: Line, b: Line): boolean {
  if (a.name === b.name || aliases.has(`${a.name}\n${b.name}`)) return true;
  const [one, other] = [a.name, b.name].map((name) => railNames.grounds.get(name));
  return one !== undefined && one === other;
}

function joined(view: View, reading: Reading, left: Line, right: Line): Finding {
  const [a, b] = [left, right].map(
    ({ name, node, evidence }) => `${name} at ${placeOf(view, node)} (${spokenEvidence(evidence)})`,
  );
  return finding(
    reading,
    `${reading.fromText} to ${reading.toText} reads ${spokenReading(reading)}, which joins ${a} and ${b}, but the map keeps these apart`,
    [
      ...stepsBetween(view, left.node, reading.from, reading.source),
      readingStep(reading),
      ...stepsBetween(view, reading.to, right.node, reading.source),
    ],
    [left.name, right.name],
    left.power || right.power ? [] : wiring(view, reading),
    'measure again with boards and ribbons out; if it stays, correct the claim that is wrong or write the wire that joins them',
  );
}

// ---- apart by the meter, joined by the map ----

function* apartButJoined(view: View): Iterable<Found> {
  const { machine } = view;
  for (const reading of machine.readings) {
    const { from, to } = reading;
    if (from === to || machine.nets.of[from] !== machine.nets.of[to] || !apart(reading)) continue;
    const path = joinedBy(view, reading, false) ?? joinedBy(view, reading, true);
    if (path === undefined) continue;
    const statements = new Set(path.slice(1).map(({ join }) => machine.joins.cause[join]!));
    yield [[...statements].sort().join(' '), opened(view, reading, path)];
  }
}

/**
 * The way in copper that the map gives between the two places of a reading, as the machine stood when it was taken.
 * Unless the cards are said to have been in, they and what hangs on them are taken to have been out. Other readings,
 * where they are asked for, count only if they were taken with the cards as now.
 */
function joinedBy(
  view: View,
  { from, to, cards }: Reading,
  byReadings: boolean,
): readonly PathStep[] | undefined {
  const { joins } = view.machine;
  const taken = cardsOf(view.machine);
  return pathBetween(view.machine, from, to, (join) => {
    const { kind, source } = joins.causes[joins.cause[join]!]!;
    if (kind === 'reading') return byReadings && taken.get(source) === cards;
    if (cards === 'in') return true;
    if (kind === 'ribbon' || kind === 'cable')
      return ![joins.from[join]!, joins.to[join]!].some((node) => isInCage(view, node));
    return kind !== 'finger';
  });
}

const cardsByMachine = new WeakMap<Machine, ReadonlyMap<Source, Reading['cards']>>();

/** Whether the cards were in, by the place of each reading in the text: its join has the same. */
function cardsOf(machine: Machine): ReadonlyMap<Source, Reading['cards']> {
  const kept = cardsByMachine.get(machine);
  if (kept) return kept;
  const made = new Map(machine.readings.map(({ source, cards }) => [source, cards]));
  cardsByMachine.set(machine, made);
  return made;
}

const isInCage = ({ machine, nets }: View, node: number): boolean =>
  node < machine.contactCount && nets.instanceOf(node).board?.slot !== undefined;

const KINDS: Readonly<Record<JoinKind, string>> = {
  bus: 'the bus',
  chain: 'the chain',
  finger: 'a board in its slot',
  board: 'copper of the board',
  wire: 'a wire',
  strap: 'a strap',
  bridge: 'a bridge',
  ribbon: 'a ribbon',
  cable: 'a cable',
  feed: 'a feed',
  ground: 'grounds declared one',
  supply: 'the supply',
  reading: 'another reading',
};

function opened(view: View, reading: Reading, path: readonly PathStep[]): Finding {
  const { joins } = view.machine;
  const steps: Step[] = [];
  const said: string[] = [];
  const seen = new Set<number>();
  path.forEach(({ node, join }, i) => {
    const cause = join < 0 ? -1 : joins.cause[join]!;
    const next = path[i + 1];
    // One stop a statement: where the last join that it makes leads.
    if (cause < 0 || (next && joins.cause[next.join] === cause)) return;
    const { kind, source, evidence } = joins.causes[cause]!;
    steps.push({ ...stepAt(view, node, source), evidence: spokenEvidence(evidence), source });
    if (!seen.has(cause)) said.push(`${KINDS[kind]} (${spokenEvidence(evidence)})`);
    seen.add(cause);
  });
  const names = [reading.from, reading.to].map((node) => lineAt(view, node)?.name ?? '');
  const line = names[0] ? ` as ${names[0]}` : '';
  return finding(
    reading,
    `${reading.fromText} to ${reading.toText} reads ${spokenReading(reading)}, but ${said.join(', ')} ${said.length > 1 ? 'join' : 'joins'} them${line}`,
    [stepAt(view, reading.from, reading.source), ...steps, readingStep(reading)],
    names,
    cutting(view, reading),
    'measure again, contact by contact along the path; then correct the first statement that does not hold, or write the `cut`',
  );
}

// ---- another voltage than the rail's ----

function* otherVoltage(view: View): Iterable<Found> {
  for (const voltage of voltagesOf(view.machine, view.nets)) {
    if (!voltage.agrees) yield [String(view.machine.nets.of[voltage.node]), wrongVolts(view, voltage)];
  }
}

function wrongVolts(view: View, { reading, node, rail, volts }: Voltage): Finding {
  const claim = claimOf(view, node);
  const range =
    rail.low === rail.high
      ? spokenAmount(rail.low, 'V')
      : `${spokenAmount(rail.low, 'V')} to ${spokenAmount(rail.high, 'V')}`;
  const known = claim ? ` (${spokenEvidence(claim.evidence)})` : '';
  const how = volts * rail.low < 0 ? ': it is reversed' : '';
  return finding(
    reading,
    `${placeOf(view, node)} reads ${spokenAmount(volts, 'V')} against ground with power on, but the map says ${rail.name}${known}, which is ${range}${how}`,
    [
      stepAt(view, reading.from, reading.source),
      stepAt(view, reading.to, reading.source),
      readingStep(reading),
    ],
    [rail.name],
    [],
    'switch off; find out which supply lead or claim is wrong before any board goes in',
  );
}

function finding(
  reading: Reading,
  message: string,
  path: readonly Step[],
  names: readonly string[],
  edits: readonly Edit[],
  fix: string,
): Finding {
  const about = [...names.filter((name) => name !== ''), reading.fromText, reading.toText];
  return {
    rule: 'reading-contradicts',
    severity: 'error',
    message,
    source: reading.source,
    path,
    fix,
    ...withEdits(edits),
    about,
  };
}
