import type { Case, WrongMating } from '../analysis/wrong-mating/cases.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import { keyedConnector } from '../analysis/wrong-mating/keys.ts';
import type { ConnectorPlan } from '../analysis/wrong-mating/plans.ts';
import { isStraight } from '../analysis/wrong-mating/ways.ts';
import { agree, spokenList, spokenNames } from '../checks/lists.ts';
import { isForMeter, spokenPlan, whatToDo, whatToLookAt, whatToMeter } from '../checks/mating-advice.ts';
import { grouped } from '../checks/sisters.ts';
import {
  spokenCase,
  spokenCases,
  spokenContacts,
  spokenHarm,
  spokenVerdict,
} from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import type { Connector } from '../machine/types.ts';
import {
  type Entry,
  entriesOf,
  harmGroups,
  type Judged,
  type Party,
  summariseMismates,
} from './mismate-entries.ts';
import { harmless } from './places.ts';
import { type Paint, wrapped } from './text.ts';

/** What the ranks mean, worst first: a word for the heading of an entry, and what happens. */
const RANK_WORDS: readonly (readonly [word: string, meaning: string])[] = [
  ['dies at once', 'a voltage meets what cannot stand it, a chip loses its bias, a ground lies on a rail'],
  [
    'floats',
    'a board gets a rail but no ground: the current finds its way back through the inputs of its chips',
  ],
  ['shorts a supply', 'a rail is shorted to ground: fuse, regulator or copper gives way'],
  ['burns an output', 'a rail stands on an output that pulls against it'],
  [
    'outputs fight',
    'two outputs drive against each other: nothing works, both run hot, either may die in time',
  ],
  ['strains an output', 'an output is held to ground for as long as it is plugged in so'],
];

const NO_HARM = 'no harm';

/** `1 dies at once`. */
const spokenRank = (rank: number): string =>
  rank > RANK_WORDS.length ? NO_HARM : `${rank} ${RANK_WORDS[rank - 1]![0]}`;

/** Merged harms that an entry tells. */
const MOST_HARMS = 3;
/** Names in a list before it is cut short. */
const MOST_NAMES = 4;

export interface MismateText {
  readonly view: View;
  readonly wrongMating: WrongMating;
  /** Every wrong way that is asked for. */
  readonly judged: readonly Judged[];
  readonly plans: readonly ConnectorPlan[];
  /** What the machine is called. */
  readonly title: string;
  /** The one that is asked for: of it every way is told, the prevented and the harmless ones too. */
  readonly of?: string;
  readonly paint: Paint;
  readonly columns: number;
}

/** All wrong ways to plug in what a machine is made of, as a person reads them: what is open first, worst first. */
export function mismateText(asked: MismateText): string {
  const { wrongMating, judged, title, of, plans } = asked;
  const width = Math.max(60, Math.min(asked.columns, 110));
  const page: Page = { ...asked, width };
  const inState = (state: Case['verdict']['state']): Judged[] =>
    judged.filter(({ one, harmful }) => harmful && one.verdict.state === state);
  const unjudged = judged.filter(
    ({ one, outcome, harmful }) => !harmful && outcome.unknown > 0 && one.verdict.state !== 'prevented',
  );
  const entries = (of: readonly Judged[]): Entry[] => entriesOf(wrongMating, of, { eachWay: false });
  const full = (of: readonly Judged[]): string[] =>
    entries(of)
      .flatMap((entry) => ['', ...entryLines(page, entry)])
      .slice(1);
  const sections: readonly (readonly [string, string[]])[] = [
    ['NOTHING PREVENTS THESE', full(inState('open'))],
    ['PREVENTED ONLY IF WHAT NOBODY SAYS IS THERE: go and look', full(inState('unsaid'))],
    ['CANNOT BE JUDGED: find out what these contacts are', unjudgedLines(page, entries(unjudged))],
    ['KEYS THAT WOULD HELP', plans.length === 0 ? [] : plans.flatMap((one) => planLines(page, one))],
    of === undefined
      ? ['PREVENTED', preventedLines(page, inState('prevented'))]
      : ['EVERY WAY', everyLine(page)],
  ];
  const { cases, harmful, prevented, open } = summariseMismates(judged);
  const lines = [
    ...told(
      page,
      `Every wrong way to plug in ${of ?? 'the boards, ribbons and cables'} of ${title}.`,
      '',
      '',
    ),
    ...(harmful > 0 ? legend(page) : []),
    '',
    ...sections.flatMap(([heading, its]) =>
      its.length === 0 ? [] : [asked.paint.strong(heading), '', ...its, ''],
    ),
    ...told(page, harmlessWays(page, cases - harmful - unjudged.length), '', ''),
    `cases ${cases}, harmful ${harmful}, prevented ${prevented}, open ${open}`,
  ];
  return `${lines.join('\n')}\n`;
}

/** What is left once all that does harm, or may, is told. */
function harmlessWays({ of, judged, view }: Page, count: number): string {
  if (judged.length > 0)
    return `${count} ${agree(count, 'way does', 'ways do')} no harm, as far as the file knows.`;
  if (of === undefined) return 'The file knows no board, ribbon or cable that could be plugged in wrongly.';
  const into = view.machine.ribbons.filter(({ ends }) =>
    ends.some(({ instance }) => [instance?.board?.name, instance?.board?.card.name].includes(of)),
  );
  const ask =
    into.length === 0 ? '' : `; ask for what is plugged into it: ${spokenList(into.map(({ name }) => name))}`;
  return `${of} goes into no socket that the file knows${ask}.`;
}

interface Page extends MismateText {
  readonly width: number;
}

/** Wrapped, and safe for a terminal. */
const told = ({ width }: Page, text: string, first: string, next: string): string[] =>
  wrapped(harmless(text), width, first, next);

/** A line or more with a label before it. */
function labelled(page: Page, label: string, text: string): string[] {
  const [first = '', ...rest] = told(page, text, BESIDE, BESIDE);
  return [`  ${page.paint.faint(label)}${first.slice(2 + label.length)}`, ...rest];
}

const BESIDE = '           ';

function legend(page: Page): string[] {
  return [
    'How bad it is, 1 the worst (boards count as harmed up to 4, ribbons and cables up to 6):',
    ...RANK_WORDS.flatMap(([word, meaning], i) => told(page, `${i + 1} ${word}: ${meaning}`, '  ', '    ')),
    'Everything here is done with mains unplugged and capacitors discharged.',
  ];
}

/** What somebody did: `RAM-A and RAM-B put into CAGE.1`, `CPU turned in CAGE.1..10`. */
function spokenEntry({ cases }: Entry): string {
  const names = [...new Set(cases.map(({ plug }) => plug.name))];
  const places = [...cases]
    .sort((a, b) => (a.place.slot?.index ?? 0) - (b.place.slot?.index ?? 0))
    .map(({ place }) => place.path);
  const told = spokenCases(cases, spokenList(names, MOST_NAMES), spokenPlaces([...new Set(places)]));
  const [{ plug, fault, way }] = cases as readonly [Case, ...Case[]];
  return plug.kind === 'board' && fault === 'wrong place' && isStraight(way)
    ? `${told}, a slot that is not ${agree(names.length, 'its own', 'theirs')}`
    : told;
}

/** Slots of one backplane in a row as a range: `CAGE.1..10`; a few names where they are not. */
function spokenPlaces(paths: readonly string[]): string {
  const parts: string[][] = [];
  for (const path of paths) {
    const run = parts.at(-1);
    if (run !== undefined && follows(run.at(-1)!, path)) run.push(path);
    else parts.push([path]);
  }
  return spokenList(
    parts.flatMap((run) =>
      run.length > 2 ? [`${run[0]}..${run.at(-1)!.slice(run[0]!.lastIndexOf('.') + 1)}`] : run,
    ),
    MOST_NAMES,
  );
}

function follows(a: string, b: string): boolean {
  const [one, next] = [a, b].map((path) => /^(.*\.)(\d+)$/.exec(path));
  return !!one && !!next && one[1] === next[1] && Number(next[2]) === Number(one[2]) + 1;
}

/** An entry in full: what, how bad, what meets what, what dies, what keeps it out, what to do. */
function entryLines(page: Page, entry: Entry): string[] {
  const { view, wrongMating, paint } = page;
  const { rank, cases, unknown } = entry;
  const [first] = cases as readonly [Case, ...Case[]];
  const harms = wrongMating.harms(first).filter(({ kind }) => RANKS[kind] <= RANK_WORDS.length);
  const merged = mergedHarms(view, harms);
  const heading = paint.severity(rank <= RANKS['rail-on-output'] ? 'error' : 'warning', spokenRank(rank));
  const title = told(page, `${spokenRank(rank)}  ${spokenEntry(entry)}`, '', '   ');
  title[0] = title[0]!.replace(spokenRank(rank), () => heading);
  const lines = [...title];
  if (cases.length > 1)
    lines.push(
      ...labelled(page, 'ways:', `${cases.length} that end alike, told by the first: ${spokenCase(first)}`),
    );
  merged.slice(0, MOST_HARMS).forEach((harm, i) => {
    lines.push(...labelled(page, i === 0 ? 'meets:' : '', harm));
  });
  if (merged.length > MOST_HARMS)
    lines.push(
      ...labelled(
        page,
        '',
        `and ${merged.length - MOST_HARMS} more such ${agree(merged.length - MOST_HARMS, 'meeting', 'meetings')}`,
      ),
    );
  if (unknown > 0)
    lines.push(
      ...labelled(page, '', `and ${unknown} unknown ${agree(unknown, 'contact', 'contacts')}, or more`),
    );
  lines.push(...labelled(page, rank <= RANKS['rail-on-output'] ? 'dies:' : 'strains:', victims(harms, rank)));
  lines.push(...labelled(page, 'guard:', spokenVerdict(first.verdict)));
  lines.push(...labelled(page, 'do:', doing(page, first)));
  const meter = harms[0] && isForMeter(harms[0]) ? whatToMeter(view, harms[0]) : undefined;
  if (meter !== undefined) lines.push(...labelled(page, 'meter:', `before power, ${meter}`));
  return lines;
}

function doing({ plans }: Page, one: Case): string {
  if (one.verdict.state === 'unsaid') return whatToLookAt(one);
  const plan = plans.find(({ connector }) => connector === keyedConnector(one))?.plan;
  const keyed = plan !== undefined && plan.leaves === 0;
  return `${whatToDo(one)}${keyed ? '; a key keeps it out for good, see below' : ''}`;
}

/** Harms that come by the same two contacts told once: what happens, and to what else. */
function mergedHarms(view: View, harms: readonly Harm[]): string[] {
  return harmGroups(harms).map(({ first, also }) => {
    const through = spokenContacts(view, first);
    return (
      spokenHarm(first) +
      (through === '' ? '' : ` (${through})`) +
      (also.length === 0 ? '' : `; the same for ${spokenParties(also)}`)
    );
  });
}

/** `GND of RAM-A, RAM-B and CLOCK`, `Q1..Q7 and STROBE of GAUGE (74LS244)`. */
function spokenParties(parties: readonly Party[]): string {
  const owners = grouped(parties, ({ of }) => of).map((its) => ({
    lines: spokenNames(its.map(({ line }) => line)),
    of: its[0]!.of,
  }));
  const told = grouped(owners, ({ lines }) => lines).map(
    (its) =>
      `${its[0]!.lines} of ${spokenList(
        its.map(({ of }) => of),
        MOST_NAMES,
      )}`,
  );
  return spokenList(told, MOST_NAMES);
}

/** What dies of the worst that happens, board by board: `RAM-A (74LS38, 74LS)`. */
function victims(harms: readonly Harm[], rank: number): string {
  const parts = new Map<string, Set<string>>();
  const hit = (name: string, part: string | undefined): void => {
    const its = parts.get(name) ?? new Set();
    parts.set(name, part === undefined ? its : its.add(part));
  };
  for (const { kind, power, other, wish, uses = [], board, part } of harms) {
    if (RANKS[kind] !== rank) continue;
    for (const use of uses) hit(use.board.name, use.card.part);
    if (wish) hit(wish.board.name, wish.kind === 'ground' ? undefined : `all on ${wish.name}`);
    else if (uses.length === 0 && board) hit(board.name, part);
    if (kind === 'rails-joined') hit(`what ${other!.name} of ${other!.owner} feeds`, undefined);
    if (kind === 'rail-to-ground')
      hit(`the source of ${power!.name} of ${power!.owner}, or its fuse`, undefined);
  }
  return spokenList(
    [...parts].map(([name, its]) => (its.size === 0 ? name : `${name} (${[...its].join(', ')})`)),
    2 * MOST_NAMES,
  );
}

function unjudgedLines(page: Page, entries: readonly Entry[]): string[] {
  if (entries.length === 0) return [];
  const lines = entries.flatMap((entry) =>
    told(
      page,
      `${spokenEntry(entry)}: meets ${entry.unknown} unknown ${agree(entry.unknown, 'contact', 'contacts')}; ${spokenVerdict(entry.cases[0]!.verdict)}`,
      '  ',
      '    ',
    ),
  );
  return lines;
}

/** What guards prevent, summed: how many, and what the worst would be. */
function preventedLines(page: Page, prevented: readonly Judged[]): string[] {
  if (prevented.length === 0) return [];
  const lines = grouped(prevented, ({ one }) => one.verdict.by.join()).flatMap((group) => {
    const worst = group.reduce((a, b) => (b.outcome.rank < a.outcome.rank ? b : a));
    const harm = page.wrongMating.worst(worst.one);
    const would = `the worst would be ${spokenCase(worst.one)} (${spokenRank(worst.outcome.rank)}): ${spokenHarm(harm!)}`;
    return told(
      page,
      `${spokenVerdict(worst.one.verdict)}: ${group.length} ${agree(group.length, 'way', 'ways')}, ${would}`,
      '  ',
      '    ',
    );
  });
  return lines;
}

/** Every way in a line or two, worst first. */
function everyLine(page: Page): string[] {
  const { wrongMating, judged } = page;
  if (judged.length === 0) return [];
  const lines = entriesOf(wrongMating, judged, { eachWay: true }).flatMap((entry) => {
    const { rank, cases, unknown } = entry;
    const [first] = cases as readonly [Case, ...Case[]];
    const harm = rank <= RANK_WORDS.length ? wrongMating.worst(first) : undefined;
    const doubt = unknown === 0 ? '' : `; meets ${unknown} unknown ${agree(unknown, 'contact', 'contacts')}`;
    const bad = rank > RANK_WORDS.length && unknown > 0 ? 'cannot be judged' : spokenRank(rank);
    const what = harm === undefined ? '' : `: ${spokenHarm(harm)}`;
    return told(
      page,
      `${spokenEntry(entry)}: ${bad}; ${spokenVerdict(first.verdict)}${what}${doubt}`,
      '  ',
      '    ',
    );
  });
  return lines;
}

function planLines(page: Page, { connector, cases, plan }: ConnectorPlan): string[] {
  const ways = `${cases.length} harmful ${agree(cases.length, 'way', 'ways')}`;
  if (plan === undefined) {
    const [who, where] = [cases.map(({ plug }) => plug.name), cases.map(({ place }) => place.path)].map(
      (names) => spokenList([...new Set(names)], MOST_NAMES),
    );
    return told(
      page,
      `${connector.name}, ${ways}: no key keeps ${who} out of ${where}; labels must do`,
      '  ',
      '    ',
    );
  }
  const rest = plan.leaves === 0 ? '' : `; no key keeps out the other ${plan.leaves}: labels must do`;
  return told(
    page,
    `${connector.name}${portsOf(page, connector)}, ${ways}: ${spokenPlan(plan)}${rest}`,
    '  ',
    '    ',
  );
}

/** Where the headers of a kind are; a card edge is keyed at every slot and board. */
function portsOf({ view }: Page, connector: Connector): string {
  if (connector.shape === 'edge') return '';
  const ports = view.machine.instances.filter(({ pins }) => pins.connector === connector);
  return ` (${spokenList(
    ports.map(({ path }) => path),
    2 * MOST_NAMES,
  )})`;
}
