import { keeping } from '../machine/keep.ts';
import { type VectorName, vectorName } from '../machine/names.ts';
import type { Claim, PinMap, Source } from '../machine/types.ts';
import { edit, saying, withEdits } from './edits.ts';
import { spokenEvidence } from './explain.ts';
import { agree, spokenNames } from './lists.ts';
import type { Change, Edit, Finding, Rule, Step, View } from './types.ts';

/** A number missing or doubled inside a run of names in one table. */
export const vectorGap: Rule = {
  id: 'vector-gap',
  severity: 'warning',
  summary: 'a number is missing or doubled inside a run of names',
  *check(view) {
    for (const [where, { pins, source }] of tablesOf(view)) {
      for (const { members, fault } of faultsIn(pins))
        yield {
          ...finding(where, pins, members, fault),
          ...withEdits(editsOf(pins, source, members, fault)),
        };
    }
  },
};

interface Table {
  readonly pins: PinMap;
  readonly source: Source;
}

/** Every table of contacts of the text once, by what it is called; of an edge what its card says itself. */
function tablesOf({ machine }: View): Map<string, Table> {
  const tables = new Map<string, Table>();
  for (const bus of machine.buses) tables.set(bus.name, bus);
  for (const { name, edges, ports } of machine.cards)
    for (const port of [...edges, ...ports]) tables.set(`${name}.${port.name}`, port);
  for (const { name, ports } of [...machine.backplanes, ...machine.supplies])
    for (const port of ports) tables.set(`${name}.${port.name}`, port);
  return tables;
}

interface Member extends VectorName {
  readonly claim: Claim;
  readonly contact: number;
}

/** The vectors of a table with something wrong in them. */
const faultsIn = keeping((pins: PinMap): { members: Member[]; fault: Fault }[] =>
  vectorsOf(pins).flatMap((members) => {
    const fault = judge(members);
    return fault ? [{ members, fault }] : [];
  }),
);

/** Runs shorter than this are no vector: two or three names that end in a digit often mean nothing. */
const SHORTEST = 4;

/** The vectors of a table in the order of their contacts. A name on several contacts that one line names counts once. */
function vectorsOf({ own }: PinMap): Member[][] {
  const vectors = new Map<string, Member[]>();
  const seen = new Set<Claim>();
  own.forEach((claim, contact) => {
    if (claim?.kind !== 'signal' || claim.slots !== undefined || seen.has(claim)) return;
    seen.add(claim);
    const name = vectorName(claim.name);
    if (name === undefined) return;
    const key = `${name.before}\n${name.after}`;
    const list = vectors.get(key);
    const member = { ...name, claim, contact };
    if (list) list.push(member);
    else vectors.set(key, [member]);
  });
  return [...vectors.values()];
}

interface Fault {
  readonly missing: readonly number[];
  /** Members that say a number another has said, in pairs. */
  readonly doubled: readonly (readonly [Member, Member])[];
  /** Where the run jumps. */
  readonly at: Member;
}

/** More numbers missing in one place than this are a second vector, not a slip (common practice, no source). */
const WIDEST_GAP = 3;

function judge(members: readonly Member[]): Fault | undefined {
  const byNumber = new Map<number, Member>();
  const doubled: [Member, Member][] = [];
  for (const member of members) {
    const before = byNumber.get(member.number);
    if (before) doubled.push([before, member]);
    else byNumber.set(member.number, member);
  }
  const numbers = [...byNumber.keys()].sort((a, b) => a - b);
  if (numbers.length < SHORTEST) return undefined;
  const { missing, after } = gapsIn(numbers);
  // A connector that carries a whole vector twice doubles it on purpose.
  const twice = doubled.length * 2 <= numbers.length ? doubled : [];
  const pair = twice[0];
  if (missing.length === 0 && pair === undefined) return undefined;
  return { missing, doubled: twice, at: pair ? pair[1] : byNumber.get(after!)! };
}

/** Numbers missing inside the run, and the first number behind a gap. Every second or third number is no gap. */
function gapsIn(numbers: readonly number[]): { missing: number[]; after?: number } {
  const missing: number[] = [];
  let after: number | undefined;
  const steps = new Set<number>();
  numbers.slice(1).forEach((number, i) => {
    const before = numbers[i]!;
    steps.add(number - before);
    if (number - before - 1 > WIDEST_GAP) return;
    for (let n = before + 1; n < number; n++) {
      missing.push(n);
      after ??= number;
    }
  });
  if (after === undefined || steps.size === 1 || missing.length * 2 > numbers.length) return { missing: [] };
  return { missing, after };
}

function finding(
  where: string,
  pins: PinMap,
  members: readonly Member[],
  { missing, doubled, at }: Fault,
): Finding {
  const { labels } = pins.connector;
  const run = spokenNames(members.map(({ claim }) => claim.name));
  const lost = spokenNames(missing.map((number) => nameOf(members, number)));
  const parts: string[] = [];
  for (const [one, other] of doubled.slice(0, 2)) {
    const contacts = `contacts ${labels[one.contact]} and ${labels[other.contact]}`;
    parts.push(
      one.claim.name === other.claim.name
        ? `${one.claim.name} stands twice, at ${contacts}`
        : `${one.claim.name} and ${other.claim.name} at ${contacts} differ in a zero only`,
    );
  }
  if (missing.length > 0) parts.push(`${lost} ${agree(missing.length, 'is', 'are')} missing`);
  return {
    rule: 'vector-gap',
    severity: 'warning',
    message: `in ${where}, ${parts.join(', and ')} among ${run}`,
    source: at.claim.source,
    path: stepsOf(where, pins, members, at),
    fix:
      missing.length > 0
        ? `look for ${lost} among the contacts that are not known yet, or correct the number at contact ${labels[at.contact]}`
        : `correct the number at contact ${labels[at.contact]}; a line on two contacts is said in one line, such as \`${labels[doubled[0]![0].contact]}, ${labels[at.contact]} = ${at.claim.name}\``,
    about: [
      where,
      ...members.map(({ claim }) => claim.name),
      ...missing.map((number) => nameOf(members, number)),
    ],
  };
}

/** The name that the member with a number would have, with as many digits as its fellows. */
function nameOf(members: readonly Member[], number: number): string {
  const [{ before, after }] = members as readonly [Member, ...Member[]];
  const padded = members.find(({ digits }) => digits.length > 1 && digits.startsWith('0'));
  return `${before}${String(number).padStart(padded?.digits.length ?? 0, '0')}${after}`;
}

/** The members around the jump. */
function stepsOf(where: string, { connector }: PinMap, members: readonly Member[], at: Member): Step[] {
  const near = members.filter(({ number }) => Math.abs(number - at.number) <= WIDEST_GAP + 1);
  return near.slice(0, 6).map(({ claim, contact }) => ({
    contact: `${where}.${connector.labels[contact]}`,
    signal: claim.name,
    evidence: spokenEvidence(claim.evidence),
    source: claim.source,
  }));
}

/** The one name that is missing, at the contact that has another's, or at the one between its neighbours. */
function editsOf(
  pins: PinMap,
  table: Source,
  members: readonly Member[],
  { missing, doubled }: Fault,
): Edit[] {
  const [number, more] = missing;
  const [pair, second] = doubled;
  if (number === undefined || more !== undefined || second !== undefined) return [];
  const name = nameOf(members, number);
  const { labels } = pins.connector;
  if (pair) {
    return suspects(members, pair, number).map(({ claim, contact }) =>
      edit(
        `write \`${name}\` at contact ${labels[contact]}`,
        saying(claim.source, { is: name }, { labels, places: [contact] }),
      ),
    );
  }
  const [before, after] = [number - 1, number + 1].map((one) =>
    members.find((member) => member.number === one),
  );
  const contact = before && after ? (before.contact + after.contact) / 2 : Number.NaN;
  const there = pins.claims[contact];
  if (labels[contact] === undefined || (there !== undefined && there.kind !== 'unknown')) return [];
  const own = pins.own[contact];
  const change: Change = own
    ? saying(own.source, { is: name }, { labels, places: [contact] })
    : { kind: 'add', line: `${labels[contact]} = ${name}`, into: table };
  return [edit(`write \`${name}\` at contact ${labels[contact]}, of which nobody knows what it is`, change)];
}

/** Of two with one number the one that lies beside the neighbour of the number that is missing; where none does, both. */
function suspects(
  members: readonly Member[],
  pair: readonly [Member, Member],
  missing: number,
): readonly Member[] {
  const away = pair[0].number - missing;
  const beside = Math.abs(away) === 1 && members.find(({ number }) => number === missing - away);
  if (!beside) return [pair[1], pair[0]];
  const distance = ({ contact }: Member): number => Math.abs(contact - beside.contact);
  return [distance(pair[1]) < distance(pair[0]) ? pair[1] : pair[0]];
}
