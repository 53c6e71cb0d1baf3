import { contactMark } from './face-marks.ts';
import { written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { markText, nameOf, type RibbonLayout, ROW, SPACE } from './ribbon-layout.ts';
import type { DrawnConductor, Met, RibbonPicture } from './ribbon-picture.ts';
import { element, escaped } from './svg.ts';
import { letterOf } from './told.ts';
import { isWrong, VERDICTS_SAY, type Verdict } from './verdicts.ts';

/** px */
const STUB = 16;

/** A conductor from end to end; dashed where it runs on past the ends that it meets. */
export function lineOf(
  { ends, kind, rigid }: Drawn<RibbonPicture>,
  { columns }: RibbonLayout,
  { number, meets }: Drawn<DrawnConductor>,
  k: number,
  yOf: (e: number, k: number) => number,
): string {
  const met = meets.flatMap((one, e) => (one?.state === 'there' || ends[e]?.known === false ? [e] : []));
  const [first, last] = [met[0] ?? 0, met.at(-1) ?? 0];
  const wrong = meets.some((one) => isWrong(one?.verdict)) ? ' wrong' : '';
  const striped = number === 1 && kind === 'ribbon' && !rigid ? ' striped' : '';
  return columns
    .slice(1)
    .map((to, e) => {
      const from = columns[e]!;
      const idle = e < first || e >= last ? ' idle' : '';
      const [out, into] = [loose(meets[e], ends[e]), loose(meets[e + 1], ends[e + 1])];
      const [x0, x1] = [from.x + from.width, to.x];
      const [y0, y1] = [yOf(e, k), yOf(e + 1, k)];
      const [a, b] = [x0 + (out ? STUB : 0), x1 - (into ? STUB : 0)];
      const open = (out ? openEnd(a, y0) : '') + (into ? openEnd(b, y1) : '');
      const passing = !meets[e] && e > 0 ? `M${from.x} ${y0}H${x0}` : '';
      const d = `${passing}M${a} ${y0}H${x0 + STUB * 1.5}L${x1 - STUB * 1.5} ${y1}H${b}`;
      return (
        element('path', {
          class: `conductor${wrong}${striped}${idle}`,
          d: d.replace(/\d+\.\d+/g, twoDigits),
        }) + open
      );
    })
    .join('');
}

const twoDigits = (one: string): string => String(Math.round(Number(one) * 100) / 100);

const loose = (met: Drawn<Met> | undefined, end: { readonly unplugged: boolean } | undefined): boolean =>
  met !== undefined && end?.unplugged === true;

export const openEnd = (x: number, y: number): string =>
  element('circle', { class: 'pen open', cx: x, cy: y, r: 3 });

/** A contact at an end: its mark towards the conductor, its name, its letter; the verdict stands on the conductor. */
export function cellOf(
  picture: Drawn<RibbonPicture>,
  { columns }: RibbonLayout,
  met: Drawn<Met> | undefined,
  e: number,
  y: number,
): string {
  const column = columns[e]!;
  const { x, width, box, room } = column;
  const end = picture.ends[e]!;
  if (met === undefined) {
    if (end.known) return '';
    return (
      element('rect', { class: 'cell', x, y: y - ROW / 2 + 1, width, height: ROW - 2 }) +
      written('?', x + width / 2, y + 4, { class: 'strong', anchor: 'middle' })
    );
  }
  const first = e === 0;
  const mark = first ? x + width - box / 2 - SPACE / 2 : x + box / 2 + SPACE / 2;
  const name = first ? x + width - box - SPACE * 1.5 : x + box + SPACE * 1.5;
  const letter = first ? x + SPACE + 1 : x + width - SPACE - 1;
  const away = STUB * (end.unplugged ? 2 : 0.8);
  const frame = end.unplugged ? 'cell loose' : 'cell';
  const verdict = met.verdict ? verdictMark(met.verdict, first ? x + width + away : x - away, y) : '';
  return (
    element('rect', { class: frame, x, y: y - ROW / 2 + 1, width, height: ROW - 2 }) +
    contactMark({ ...met, label: markText(picture, met) }, mark, y, { width: box, height: 14 }, 9) +
    written(nameOf(met), name, y + 4, {
      room,
      ...(first ? { anchor: 'end' as const } : {}),
      ...(met.kind === 'rail' || met.kind === 'ground'
        ? { class: 'strong' }
        : met.kind === undefined || met.name === met.kind
          ? { class: 'quiet' }
          : {}),
    }) +
    written(letterOf(met), letter, y + 4, { class: 'letter', anchor: 'middle' }) +
    verdict
  );
}

const SHAPES: Readonly<Record<Verdict, { readonly d: string; readonly full: boolean }>> = {
  power: { d: 'M0 -6L6 5H-6Z', full: true },
  crossed: { d: 'M-4.5 -4.5L4.5 4.5M-4.5 4.5L4.5 -4.5', full: false },
  ground: { d: 'M-6 -3H6M-4 0H4M-2 3H2', full: false },
  stray: { d: 'M0 -6L6 0L0 6L-6 0Z', full: false },
  differ: { d: 'M-5 -2H5M-5 2H5M-3 5L3 -5', full: false },
};

export function verdictMark(verdict: Verdict, x: number, y: number): string {
  const { d, full } = SHAPES[verdict];
  return element(
    'g',
    {
      class: isWrong(verdict) ? 'verdict wrong' : 'verdict',
      transform: `translate(${Math.round(x * 100) / 100} ${y})`,
    },
    element('title', {}, escaped(VERDICTS_SAY[verdict])),
    element('path', { class: 'halo', d }),
    element('path', { class: full ? 'full' : 'pen', d }),
  );
}
