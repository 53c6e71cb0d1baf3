import { MARKS_SHOWN, type MarksShown } from '../drawing/bus-layout.ts';
import { GROUP_NAMES } from '../drawing/bus-svg.ts';
import { GROUPS } from '../drawing/line-groups.ts';
import type { Wanted } from '../drawing/to-host.ts';
import { type Menu, NOTHING_TO_DRAW, type Shown } from '../drawing/to-page.ts';
import { type State, turned } from './state.ts';
import { button, type Control, choice, field, type Option } from './toolkit.ts';

/** What somebody sets at the controls. */
export interface Settings {
  want(wanted: Wanted): void;
  look(change: Partial<Pick<State, 'marks' | 'filter' | 'side' | 'scale'>>): void;
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
];

const MARKS: Readonly<Record<MarksShown, string>> = {
  role: 'What boards do',
  evidence: 'How well known',
  current: 'Current',
  readings: 'Last readings',
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
  let wantedView: Wanted['view'] = 'bus';
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
  const of = choice('Of', 'of', (value) => settings.want({ view: wantedView, of: value }));
  const marks = choice('Marks', 'marks', (value) => settings.look({ marks: value as MarksShown }));
  const text = field('Filter', 'filter', 'line, contact or board', (value) => filter({ text: value }));
  const group = choice('Lines', 'group', chosen('group'));
  const evidence = choice('Known by', 'evidence', chosen('evidence'));
  const finding = choice('Findings', 'finding', chosen('finding'));
  const side = button('', 'side', () => state && settings.look({ side: turned(state) }));
  const scale = button('', 'scale', () =>
    settings.look({ scale: state?.scale === '1:1' ? 'reading' : '1:1' }),
  );
  const svg = button('Save as SVG', 'svg', () => settings.save('svg'));
  const png = button('Save as PNG', 'png', () => settings.save('png'));

  const ofBus: readonly Control[] = [marks, text, group, evidence, finding];
  const ofConnector: readonly Control[] = [side, scale];
  const element = document.createElement('header');
  const heading = document.createElement('h1');
  element.append(heading, ...[view, of, ...ofBus, ...ofConnector, svg, png].map((one) => one.element));

  return {
    element,
    focusFilter: () => text.focus(),
    update(now, offered, shown, wanted) {
      [state, menu, wantedView] = [now, offered, wanted.view];
      heading.textContent = shown === undefined ? 'Drawing' : `Drawing of ${now.wanted.of}`;
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
      for (const one of ofBus) one.hide(shown?.view !== 'bus');
      for (const one of ofConnector) one.hide(shown?.view !== 'connector');
      for (const one of [svg, png]) one.hide(shown === undefined);
      const none = VIEWS.every(({ value }) => menu[value].length === 0);
      for (const one of [view, of]) one.hide(none);
    },
  };
}

/** Severities, and the rules that find something here. */
function findingOptions(shown: Shown | undefined): Option[] {
  const rules = shown?.view === 'bus' ? new Set(shown.picture.findings.map(({ rule }) => rule)) : [];
  return [...SEVERITY_OPTIONS, ...[...rules].sort().map((rule) => ({ value: rule, says: rule }))];
}
