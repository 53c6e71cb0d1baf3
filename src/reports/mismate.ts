import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { ConnectorPlan } from '../analysis/wrong-mating/plans.ts';
import { agree, spokenList } from '../checks/lists.ts';
import { spokenLack } from '../checks/mating-advice.ts';
import { grouped, spokenSome } from '../checks/sisters.ts';
import { spokenCase, spokenHarm, spokenVerdict } from '../checks/spoken-mating.ts';
import type { Connector } from '../machine/types.ts';
import { blocksOf, entriesOf, isUnjudged, type Judged, summariseMismates } from './mismate-entries.ts';
import { blockLines } from './mismate-entry.ts';
import {
  type MismateText,
  MOST_NAMES,
  type Page,
  RANK_WORDS,
  spokenEntry,
  spokenPlaces,
  spokenRank,
  told,
} from './mismate-page.ts';
import { whatToFindOut } from './mismate-unknown.ts';

/** All wrong ways to plug in what a machine is made of, as a person reads them: what is open first, worst first. */
export function mismateText(asked: MismateText): string {
  const { wrongMating, judged, title, of } = asked;
  const width = Math.max(60, Math.min(asked.columns, 110));
  const page: Page = { ...asked, width };
  const inState = (state: Case['verdict']['state']): Judged[] =>
    judged.filter(({ one, harmful }) => harmful && one.verdict.state === state);
  const full = (its: readonly Judged[]): string[] =>
    blocksOf(wrongMating, its, { inWords: of !== undefined })
      .flatMap((block) => ['', ...blockLines(page, block)])
      .slice(1);
  const unjudged = judged.filter(isUnjudged);
  const sections: readonly (readonly [string, string[]])[] = [
    ['WHAT WOULD HELP MOST', planLines(page)],
    ['NOTHING THAT THE FILE SAYS PREVENTS THESE', full(inState('open'))],
    ['PREVENTED ONLY IF WHAT NOBODY SAYS IS THERE: go and look', full(inState('unsaid'))],
    [
      'CANNOT BE JUDGED: find out what these contacts are',
      of === undefined ? unjudgedLines(page, unjudged) : wayLines(page, unjudged),
    ],
    of === undefined
      ? ['PREVENTED', preventedLines(page, inState('prevented'))]
      : ['EVERY OTHER WAY', wayLines(page, judged.filter(isLeft))],
  ];
  const { cases, harmful, prevented, open } = summariseMismates(judged);
  const first = unjudged.length === 0 ? '' : whatToFindOut(unjudged);
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
    ...told(page, remainder(page), '', ''),
    ...(unjudged.length === 0 ? [] : told(page, `cannot be judged ${unjudged.length}: ${first}`, '', '  ')),
    `cases ${cases}, harmful ${harmful}, prevented ${prevented}, open ${open}`,
  ];
  return `${lines.join('\n')}\n`;
}

/** What is left once all that does harm, or may, is told. */
function remainder({ of, judged, view }: Page): string {
  if (judged.length > 0) {
    const left = judged.filter(({ harmful }) => !harmful);
    const known = left.filter(({ outcome }) => outcome.unknown === 0).length;
    const kept = left.filter(({ one, outcome }) => outcome.unknown > 0 && one.verdict.state === 'prevented');
    const also =
      kept.length === 0
        ? ''
        : ` ${kept.length} more ${agree(kept.length, 'meets', 'meet')} unknown contacts, and ${agree(kept.length, 'is', 'are')} prevented.`;
    return `${known} ${agree(known, 'way counts', 'ways count')} as harmless, as far as the file knows.${also}`;
  }
  if (of === undefined) return 'The file knows no board, ribbon or cable that could be plugged in wrongly.';
  const into = view.machine.ribbons.filter(({ ends }) =>
    ends.some(({ instance }) => [instance?.board?.name, instance?.board?.card.name].includes(of)),
  );
  const ask =
    into.length === 0 ? '' : `; ask for what is plugged into it: ${spokenList(into.map(({ name }) => name))}`;
  return `${of} goes into no socket that the file knows${ask}.`;
}

function legend(page: Page): string[] {
  return [
    'How bad it is, 1 the worst (boards count as harmed up to 4, ribbons and cables up to 6):',
    ...RANK_WORDS.flatMap(([word, meaning], i) => told(page, `${i + 1} ${word}: ${meaning}`, '  ', '    ')),
    'Everything here is done with mains unplugged and capacitors discharged.',
  ];
}

/** Board by card, ribbon by ribbon: how many ways nobody can judge, and where. */
function unjudgedLines(page: Page, unjudged: readonly Judged[]): string[] {
  return grouped(unjudged, ({ one: { plug } }) => plug.board?.card.name ?? plug.name).flatMap((group) => {
    const names = spokenSome(
      group.map(({ one }) => one.plug.name),
      MOST_NAMES,
    );
    const paths = [...new Set(group.map(({ one }) => one.place.path))];
    const most = Math.max(...group.map(({ outcome }) => outcome.unknown));
    const half = group.filter(({ one }) => one.verdict.state === 'unsaid').length;
    return told(
      page,
      `${names}, ${group.length} ${agree(group.length, 'way', 'ways')} ${group[0]!.one.plug.kind === 'board' ? 'in' : 'at'} ${spokenPlaces(paths)}: up to ${most} unknown ${agree(most, 'contact', 'contacts')} met${half === 0 ? '' : `; something may prevent ${half}`}`,
      '  ',
      '    ',
    );
  });
}

/** Neither told in a block nor beyond judgement. */
const isLeft = (one: Judged): boolean =>
  !isUnjudged(one) && !(one.harmful && one.one.verdict.state !== 'prevented');

/** What guards prevent, summed: how many, and what the worst would be. */
function preventedLines(page: Page, prevented: readonly Judged[]): string[] {
  return grouped(prevented, ({ one }) => one.verdict.by.join()).flatMap((group) => {
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
}

/** Ways in a line or two each, worst first; what the same words would tell, together. */
function wayLines(page: Page, judged: readonly Judged[]): string[] {
  const { wrongMating } = page;
  return entriesOf(wrongMating, judged, { inWords: true }).flatMap((entry) => {
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
}

/** Keys and walls that are lacking, those first that keep most out. */
function planLines(page: Page): string[] {
  const most = ({ plan }: ConnectorPlan): number => plan?.prevents ?? 0;
  return [...page.plans].sort((a, b) => most(b) - most(a)).flatMap((one) => lackLines(page, one));
}

function lackLines(page: Page, lack: ConnectorPlan): string[] {
  const { connector, cases, plan } = lack;
  const ways = `${cases.length} harmful ${agree(cases.length, 'way', 'ways')}`;
  const what = spokenLack(lack).join();
  if (what === '') {
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
  const rest = plan?.leaves ? `; no key keeps out the other ${plan.leaves}: labels must do` : '';
  return told(page, `${connector.name}${portsOf(page, connector)}, ${ways}: ${what}${rest}`, '  ', '    ');
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
