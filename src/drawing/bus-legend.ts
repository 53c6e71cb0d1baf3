import { severities } from '../checks/severities.ts';
import type { MarksShown } from './bus-layout.ts';
import { amountOn, brokenLine, endAt, guessAt, resistorAt, ringAt, valueAt } from './bus-marks.ts';
import { keyTo } from './lettering.ts';
import { MARKS, markAt } from './marks.ts';
import { element } from './svg.ts';
import { LETTERS, LETTERS_SAY } from './told.ts';

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

/** What each board does. */
const ROLES: readonly Entry[] = [
  ...Object.entries(MARKS).map(
    ([role, { says }]): Entry => ({
      says,
      mark: (x, y) => markAt(role as keyof typeof MARKS, x, y, false),
    }),
  ),
  { says: 'with a resistor of its own', mark: (x, y) => resistorAt(x - 9, y + 4) },
  { says: 'known by guess only', mark: (x, y) => guessAt(x, y) + markAt('drives', x, y, true) },
];

const valuesSay = (...all: readonly (readonly [value: string, says: string])[]): readonly Entry[] =>
  all.map(([value, says]) => ({ says, mark: (x, y) => amountOn(value, x, y + 5) }));

const EVIDENCE: readonly Entry[] = LETTERS_SAY.map(([letter, says]) => ({
  says,
  mark: (x, y) => valueAt(letter, x, y, letter === LETTERS.guess),
}));

/** What the marks show, where they are no roles. */
const SHOWN: Readonly<Record<MarksShown, readonly Entry[]>> = {
  role: ROLES,
  evidence: EVIDENCE,
  current: valuesSay(
    ['1.2A', 'the board takes of a rail'],
    ['24mA', 'must sink of a low line, at worst'],
    ['-400uA', 'gives to a low line, or to a rail'],
  ),
  readings: valuesSay(
    ['5.02V', 'the last reading at the contact'],
    ['470', 'ohm'],
    ['open', 'no connection'],
    ['D0.61', 'diode test, V'],
  ),
};

/** Among roles it is one of them. */
const BREAK: Entry = { says: MARKS.stops.says, mark: (x, y) => markAt('stops', x, y, false) };

/** What is in every bus picture, whatever its marks show. */
const ALWAYS: readonly Entry[] = [
  ...ENDS.map(
    ([kind, says]): Entry => ({ says, mark: (x, y) => endAt({ kind, text: '', guess: false }, x, y) }),
  ),
  {
    says: 'copper ends here',
    mark: (x, y) => element('path', { class: 'copper', d: brokenLine(x - 9, x, x + 9, y) }),
  },
  ...severities.map((severity): Entry => ({ says: severity, mark: (x, y) => ringAt(severity, x, y) })),
];

/** What the marks mean, in as many columns as the width in px holds. */
export const legendOf = (
  marks: MarksShown,
  x: number,
  width: number,
): { readonly svg: string; readonly height: number } =>
  keyTo([...SHOWN[marks], ...(marks === 'role' ? [] : [BREAK]), ...ALWAYS], x, width);
