import { MARKS_SHOWN, type MarksShown } from '../drawing/bus-layout.ts';
import { GROUP_NAMES } from '../drawing/bus-svg.ts';
import { GROUPS } from '../drawing/line-groups.ts';
import type { Drawn } from '../drawing/picture.ts';
import type { Wanted } from '../drawing/to-host.ts';
import { type Menu, NOTHING_TO_DRAW, type Shown } from '../drawing/to-page.ts';
import { CASES_SHOWN, type CasesShown } from '../drawing/what-if-choice.ts';
import type { WhatIfPicture } from '../drawing/what-if-picture.ts';
import { type State, turned } from './state.ts';
import { button, type Control, choice, field, type Option } from './toolkit.ts';

/** What somebody sets at the controls. */
export interface Settings {
  want(wanted: Wanted): void;
  look(change: Partial<Pick<State, 'marks' | 'filter' | 'side' | 'scale'>>): void;
  /** To the next case of a what-if, or the one before. */
  step(by: number): void;
  /** Adds the keys that the shown case offers. */
  key(): void;
  save(format: 'svg' | 'png'): void;
}

export interface Controls {
  readonly element: HTMLElement;
  /** Brings all controls up to what is shown, and to what is wanted next. */
  update(state: State, menu: Menu, shown: Shown | undefined, wanted: Wanted): void;
  focusFilter(): void;
}

const VIEWS: readonly Option<Wanted['view']>[] = [
  { value: 'bus', says: 'Bus' },
  { value: 'connector', says: 'Connector' },
  { value: 'ribbon', says: 'Ribbon' },
  { value: 'what-if', says: 'What if' },
];

const MARKS: Readonly<Record<MarksShown, string>> = {
  role: 'What boards do',
  evidence: 'How well known',
  current: 'Current',
  readings: 'Last readings',
};

const CASES: Readonly<Record<CasesShown, string>> = {
  open: 'Open: harmful or unknown',
  all: 'All cases',
};

const ANY = 'any';

const GROUP_OPTIONS = [
  { value: ANY, says: 'All lines' },
  ...GROUPS.map((group) => ({ value: group as string, says: GROUP_NAMES[group] })),
];

const EVIDENCE_OPTIONS = [
  { value: ANY, says: 'Anyhow' },
  { value: 'meter', says: 'Meter' },
  { value: 'trace', says: 'Trace' },
  { value: 'manual', says: 'Manual' },
  { value: 'silkscreen', says: 'Silkscreen' },
  { value: 'guess', says: 'Guess' },
  { value: 'unsaid', says: 'Not said' },
];

const SEVERITY_OPTIONS = [
  { value: ANY, says: 'With or without' },
  { value: 'found', says: 'Any finding' },
  { value: 'error', says: 'Errors' },
  { value: 'warning', says: 'Warnings' },
  { value: 'question', says: 'Questions' },
  { value: 'note', says: 'Notes' },
];

export function controlsFor(settings: Settings): Controls {
  let [state, menu]: [State | undefined, Menu] = [undefined, NOTHING_TO_DRAW];
  let wanted: Wanted = { view: 'bus', of: '' };
  const filter = (change: State['filter']): void => {
    const now = { ...state?.filter, ...change };
    const kept = Object.entries(now).filter(([, value]) => value !== undefined && value !== '');
    settings.look({ filter: Object.fromEntries(kept) as State['filter'] });
  };
  // What is chosen is among what was offered.
  const chosen = (key: keyof State['filter']) => (value: string) =>
    filter({
      [key]: value === ANY ? '' : key === 'finding' && value === 'found' ? ANY : value,
    } as State['filter']);

  const view = choice('View', 'view', (value) => {
    const next = value as Wanted['view'];
    const [of] = menu[next];
    if (of !== undefined) settings.want({ view: next, of });
  });
  const of = choice('Of', 'of', (value) =>
    settings.want({ view: wanted.view, of: value, ...(wanted.cases ? { cases: wanted.cases } : {}) }),
  );
  const marks = choice('Marks', 'marks', (value) => settings.look({ marks: value as MarksShown }));
  const text = field('Filter', 'filter', 'line, contact or board', (value) => filter({ text: value }));
  const group = choice('Lines', 'group', chosen('group'));
  const evidence = choice('Known by', 'evidence', chosen('evidence'));
  const finding = choice('Findings', 'finding', chosen('finding'));
  const side = button('', 'side', () => state && settings.look({ side: turned(state) }));
  const scale = button('', 'scale', () =>
    settings.look({ scale: state?.scale === '1:1' ? 'reading' : '1:1' }),
  );
  const cases = choice('Cases', 'cases', (value) => settings.want({ ...wanted, cases: value as CasesShown }));
  const one = choice('Case', 'case', (value) => settings.want({ ...wanted, case: value }));
  const previous = button('Previous', 'previous', () => settings.step(-1));
  const next = button('Next', 'next', () => settings.step(1));
  const key = button('Add this key', 'key', () => settings.key());
  const svg = button('Save as SVG', 'svg', () => settings.save('svg'));
  const png = button('Save as PNG', 'png', () => settings.save('png'));

  const ofBus: readonly Control[] = [marks, text, group, evidence, finding];
  const ofConnector: readonly Control[] = [side, scale];
  const ofWhatIf: readonly Control[] = [cases, one, previous, next];
  const element = document.createElement('header');
  const heading = document.createElement('h1');
  const all = [view, of, ...ofBus, ...ofConnector, ...ofWhatIf, key, svg, png];
  element.append(heading, ...all.map((control) => control.element));

  function offerCases({ list, first, count, shown, cases: through }: Drawn<WhatIfPicture>): void {
    cases.offer(
      CASES_SHOWN.map((value) => ({ value, says: CASES[value] })),
      wanted.cases ?? through,
    );
    one.offer(
      list.map(({ id, says }, i) => ({ value: id, says: `${first + i + 1} of ${count}: ${says}` })),
      wanted.case ?? shown?.id ?? '',
    );
    key.explain([shown?.key?.title, shown?.against].filter(Boolean).join('. '));
  }

  return {
    element,
    focusFilter: () => text.focus(),
    update(now, offered, shown, chosenNow) {
      [state, menu, wanted] = [now, offered, chosenNow];
      heading.textContent = headingOf(now, shown);
      view.offer(
        VIEWS.filter(({ value }) => menu[value].length > 0),
        wanted.view,
      );
      of.offer(
        menu[wanted.view].map((name) => ({ value: name, says: name })),
        wanted.of,
      );
      marks.offer(
        MARKS_SHOWN.map((value) => ({ value, says: MARKS[value] })),
        now.marks,
      );
      text.set(now.filter.text ?? '');
      group.offer(GROUP_OPTIONS, now.filter.group ?? ANY);
      evidence.offer(EVIDENCE_OPTIONS, now.filter.evidence ?? ANY);
      finding.offer(
        findingOptions(shown),
        now.filter.finding === ANY ? 'found' : (now.filter.finding ?? ANY),
      );
      side.say(now.side === 'mating' ? 'Turn to wiring side' : 'Turn to mating side');
      scale.say(now.scale === '1:1' ? 'Reading size' : 'Life-size');
      if (shown?.view === 'what-if') offerCases(shown.picture);
      for (const control of ofBus) control.hide(shown?.view !== 'bus');
      for (const control of ofConnector) control.hide(shown?.view !== 'connector');
      for (const control of ofWhatIf) control.hide(shown?.view !== 'what-if');
      key.hide(shown?.view !== 'what-if' || shown.picture.shown?.key === undefined);
      for (const control of [svg, png]) control.hide(shown === undefined);
      const none = VIEWS.every(({ value }) => menu[value].length === 0);
      for (const control of [view, of]) control.hide(none);
    },
  };
}

/** Severities, and the rules that find something here. */
function findingOptions(shown: Shown | undefined): Option[] {
  const rules = shown?.view === 'bus' ? new Set(shown.picture.findings.map(({ rule }) => rule)) : [];
  return [...SEVERITY_OPTIONS, ...[...rules].sort().map((rule) => ({ value: rule, says: rule }))];
}

function headingOf({ wanted: { view, of } }: State, shown: Shown | undefined): string {
  if (shown === undefined) return 'Drawing';
  return view === 'what-if' ? `What if: ${of}` : `Drawing of ${of}`;
}
