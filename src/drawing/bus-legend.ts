import { severities } from '../checks/severities.ts';
import { brokenLine, endAt, ringAt } from './bus-marks.ts';
import { MARKS, markAt } from './marks.ts';
import { element } from './svg.ts';

interface Entry {
  readonly says: string;
  readonly mark: (x: number, y: number) => string;
}

const ENDS = [
  ['feed', 'rail arrives'],
  ['terminate', 'terminator'],
  ['pull-up', 'pull-up'],
  ['pull-down', 'pull-down'],
] as const;

/** What each mark of a bus picture means. */
export const ENTRIES: readonly Entry[] = [
  ...Object.entries(MARKS).map(
    ([role, { says }]): Entry => ({
      says,
      mark: (x, y) => markAt(role as keyof typeof MARKS, x, y, false),
    }),
  ),
  { says: 'known by guess only', mark: (x, y) => markAt('drives', x, y, true) },
  ...ENDS.map(
    ([kind, says]): Entry => ({ says, mark: (x, y) => endAt({ kind, text: '', guess: false }, x, y) }),
  ),
  {
    says: 'copper ends here',
    mark: (x, y) => element('path', { class: 'copper', d: brokenLine(x - 9, x, x + 9, y) }),
  },
  ...severities.map((severity): Entry => ({ says: severity, mark: (x, y) => ringAt(severity, x, y) })),
];
