import { endAt, ringAt } from './bus-marks.ts';
import { MARKS, markAt } from './marks.ts';
import { element, label } from './svg.ts';

/** px */
const COLUMN = 150;
const ROW = 20;
const HEAD = 24;

type Entry = readonly [says: string, draw: (x: number, y: number) => string];

const ENTRIES: readonly Entry[] = [
  ...Object.entries(MARKS).map(
    ([role, { says }]): Entry => [says, (x, y) => markAt(role as keyof typeof MARKS, x, y, false)],
  ),
  ['known by guess only', (x, y) => markAt('drives', x, y, true)],
  ...(
    [
      ['feed', 'rail arrives'],
      ['terminate', 'terminator'],
      ['pull-up', 'pull-up'],
      ['pull-down', 'pull-down'],
    ] as const
  ).map(([kind, says]): Entry => [says, (x, y) => endAt({ kind, text: '', guess: false }, x, y)]),
  [
    'copper ends here',
    (x, y) =>
      element('path', {
        class: 'copper',
        d: `M${x - 9} ${y}H${x - 3}m0 -4v8M${x + 3} ${y - 4}v8m0 -4H${x + 9}`,
      }),
  ],
  ...(['error', 'warning', 'question', 'note'] as const).map(
    (severity): Entry => [severity, (x, y) => ringAt(severity, x, y)],
  ),
];

/** What each mark means, in as many columns as the width in px holds; and how high that is. */
export function legendOf(width: number): { readonly text: string; readonly height: number } {
  const columns = Math.max(1, Math.floor(width / COLUMN));
  const entries = ENTRIES.map(([says, draw], i) => {
    const [x, y] = [10 + (i % columns) * COLUMN, HEAD + Math.floor(i / columns) * ROW];
    return draw(x, y) + label(says, { x: x + 14, y: y + 4 });
  });
  return {
    text: label('What the marks mean', { class: 'strong', x: 0, y: 8 }) + entries.join(''),
    height: HEAD + Math.ceil(ENTRIES.length / columns) * ROW,
  };
}
