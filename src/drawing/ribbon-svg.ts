import { sheetSvg } from './build-sheet-svg.ts';
import { type LegendRow, legendTo, letterRows, oddRows } from './contact-legend.ts';
import { moved, paragraph, written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { type RibbonLayout, ROW, ribbonLayout, TEXT, wordsOf } from './ribbon-layout.ts';
import { cellOf, lineOf, openEnd, verdictMark } from './ribbon-marks.ts';
import type { Met, RibbonPicture } from './ribbon-picture.ts';
import { element, type Sheet } from './svg.ts';
import { svgFile } from './svg-file.ts';
import { isWrong, VERDICTS, VERDICTS_SAY } from './verdicts.ts';

/** px */
const MARGIN = 14;
const NARROWEST = 480;
const APART = 36;

/** A ribbon or cable with its build sheet as one file. */
export const ribbonSvg = (picture: Drawn<RibbonPicture>): string => svgFile(ribbonSheet(picture));

/** A ribbon as it is drawn, with the layout of its conductors and how far down the first of them begins, in px. */
export interface RibbonSheet extends Sheet {
  readonly layout: RibbonLayout;
  readonly first: number;
}

export function ribbonSheet(picture: Drawn<RibbonPicture>): RibbonSheet {
  const layout = ribbonLayout(picture, MARGIN);
  const drawn = Math.max(NARROWEST, layout.right);
  const sheet = sheetSvg(picture);
  const parts: string[] = [];
  const title = paragraph(titleOf(picture), MARGIN, drawn - MARGIN);
  parts.push(moved(MARGIN, title.svg));
  let y = MARGIN + title.height + 12;
  parts.push(moved(y, headsOf(layout)));
  y += layout.head;
  const first = y;
  parts.push(moved(y, conductorsOf(picture, layout)));
  y += picture.conductors.length * ROW + 16;
  const legend = legendOf(picture, drawn - MARGIN);
  parts.push(moved(y, legend.svg));
  y += legend.height;
  const left = drawn + APART;
  parts.push(
    element('path', {
      class: 'rule',
      d: `M${Math.round(left - APART / 2)} ${MARGIN}V${Math.round(Math.max(y, sheet.height + MARGIN))}`,
    }),
    element('g', { transform: `translate(${Math.ceil(left)} ${MARGIN})` }, sheet.svg),
  );
  const [width, height] = [
    Math.ceil(left + sheet.width + MARGIN),
    Math.ceil(Math.max(y, sheet.height + MARGIN) + MARGIN),
  ];
  return { name: `${picture.kind} ${picture.name}`, width, height, content: parts, layout, first };
}

const PATTERNS: Readonly<Record<string, string>> = {
  turned: 'What is wrong is as if one connector were turned.',
  over: 'What is wrong is as if all lay one conductor over.',
  rows: 'What is wrong is as if the two rows were exchanged.',
};

function titleOf({
  kind,
  name,
  title,
  pattern,
  conductors,
}: Drawn<RibbonPicture>): { text: string; class?: string }[] {
  const size = kind === 'ribbon' ? `${conductors.length}-way ribbon` : `cable of ${conductors.length}`;
  return [
    { text: `${name}: ${size}${title === '' ? '' : `, ${title}`}`, class: 'strong' },
    ...(pattern ? [{ text: PATTERNS[pattern]!, class: 'wrong' }] : []),
    ...(conductors.length === 0 ? [{ text: 'No conductor is said.' }] : []),
  ];
}

const SHOUTED: readonly string[] = ['UNPLUGGED', 'STRIPE NOT SAID'];

function headsOf({ heads, columns, head }: RibbonLayout): string {
  return heads
    .map((lines, e) =>
      lines
        .map((line, i) =>
          written(line, columns[e]!.x, head - 6 - (lines.length - 1 - i) * 15, {
            room: columns[e]!.width,
            ...(i === 0 || SHOUTED.includes(line) ? { class: 'strong' } : {}),
          }),
        )
        .join(''),
    )
    .join('');
}

/** All conductors with their contacts; y = 0 is the top of the first. */
function conductorsOf(picture: Drawn<RibbonPicture>, layout: RibbonLayout): string {
  const { conductors, ends, kind } = picture;
  const { columns, places, numbers, words } = layout;
  const yOf = (e: number, k: number): number => (places[e]?.[k] ?? k) * ROW + ROW / 2;
  const twisted = ends.slice(1).map(({ order }, e) => ends[e]!.order.some((one, i) => one !== order[i]));
  const lines = conductors.map((conductor, k) => lineOf(picture, layout, conductor, k, yOf));
  const cells = conductors.map((conductor, k) =>
    conductor.meets.map((met, e) => cellOf(picture, layout, met, e, yOf(e, k))).join(''),
  );
  const last = ends.length - 1;
  const told = conductors.map((conductor, k) => {
    const text = wordsOf(conductor, ends, kind);
    return (
      written(String(conductor.number), numbers + 20, yOf(0, k) + 4, { anchor: 'end', class: 'mono' }) +
      (text === ''
        ? ''
        : written(text, words, yOf(Math.max(0, last), k) + 4, {
            class: conductor.meets.some((met) => isWrong(met?.verdict)) ? 'wrong' : 'quiet',
            room: Math.max(TEXT, layout.right - words),
          }))
    );
  });
  const twists = twisted.map((is, e) => {
    const [from, to] = [columns[e]!, columns[e + 1]!];
    const x = (from.x + from.width + to.x) / 2;
    return is ? written('twist', x, -4, { anchor: 'middle', class: 'strong' }) : '';
  });
  return [...lines, ...cells, ...told, ...twists].join('');
}

/** Only what is in the picture. */
function legendOf(
  { kind, rigid, conductors, ends }: Drawn<RibbonPicture>,
  width: number,
): { svg: string; height: number } {
  const all = conductors.flatMap(({ meets }) => meets.flatMap((met) => met ?? []));
  const line = (names: string) => (x: number, y: number) =>
    element('path', { class: names, d: `M${x - 12} ${y}H${x + 12}` });
  const has = (test: (met: Drawn<Met>) => boolean): boolean => all.some(test);
  const rows: LegendRow[] = [
    [kind === 'ribbon' && !rigid && conductors.length > 0, line('conductor striped'), 'conductor 1, striped'],
    [has(({ verdict }) => isWrong(verdict)), line('conductor wrong'), 'joins what does not belong together'],
    [
      kind === 'ribbon' &&
        conductors.some(({ meets }) => meets[0] === undefined || meets.at(-1) === undefined),
      line('conductor idle'),
      'meets nothing further on',
    ],
    [ends.some(({ unplugged }) => unplugged), (x, y) => openEnd(x, y), 'unplugged here'],
    ...VERDICTS.map(
      (verdict): LegendRow => [
        has((met) => met.verdict === verdict),
        (x, y) => verdictMark(verdict, x, y),
        VERDICTS_SAY[verdict],
      ],
    ),
    ...oddRows(all),
    ...letterRows(all),
  ];
  return legendTo(rows, MARGIN, width);
}
