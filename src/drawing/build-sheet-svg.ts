import { paragraph, written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import type { RibbonPicture } from './ribbon-picture.ts';
import { element, widthOf } from './svg.ts';
import { isWrong } from './verdicts.ts';

/** px */
const LINE = 15;
const TEXT = 11;
const LONGEST = 200;
const SPACE = 16;
const NARROWEST = 420;
/** Contacts that ring together, on one line. */
const ACROSS = 6;

interface Block {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** What one needs to make and check the ribbon, from the point (0, 0) to the right and down. */
export function sheetSvg(picture: Drawn<RibbonPicture>): Block {
  const { sheet } = picture;
  const table = tableOf(picture);
  const rings = ringsOf(picture);
  const width = Math.max(NARROWEST, table.width + SPACE * 2 + rings.width);
  const top = paragraph(
    [
      { text: 'Build sheet', class: 'strong' },
      ...(isAsItShouldBe(picture)
        ? []
        : [
            {
              text: 'As described: put right first what is marked.',
              class: 'wrong',
            },
          ]),
      ...sheet.parts.map((text) => ({ text })),
      ...sheet.places.map((text) => ({ text })),
    ],
    0,
    width,
  );
  const y = top.height + 12;
  return {
    svg:
      top.svg +
      element('g', { transform: `translate(0 ${y})` }, table.svg) +
      element('g', { transform: `translate(${Math.ceil(table.width + SPACE * 2)} ${y})` }, rings.svg),
    width,
    height: y + Math.max(table.height, rings.height),
  };
}

const isAsItShouldBe = ({ conductors }: Drawn<RibbonPicture>): boolean =>
  !conductors.some(({ meets }) => meets.some((met) => isWrong(met?.verdict)));

/** Columns of texts, each as wide as its widest. The first row is the heading. */
function columnsOf(rows: readonly (readonly string[])[]): Block {
  const widths = (rows[0] ?? []).map((_, c) =>
    Math.min(LONGEST, Math.max(...rows.map((row) => widthOf(row[c] ?? '', TEXT)))),
  );
  const lefts = widths.map((_, c) => widths.slice(0, c).reduce((a, b) => a + b + SPACE, 0));
  const svg = rows.flatMap((row, r) =>
    row.map((text, c) =>
      text.trim() === ''
        ? ''
        : written(text, lefts[c]!, 11 + LINE + r * LINE, {
            room: widths[c]!,
            ...(r === 0 ? { class: 'quiet' } : {}),
          }),
    ),
  );
  return {
    svg: svg.join(''),
    width: (lefts.at(-1) ?? 0) + (widths.at(-1) ?? 0),
    height: (rows.length + 1) * LINE,
  };
}

function tableOf({ conductors, ends, kind }: Drawn<RibbonPicture>): Block {
  const table = columnsOf([
    [
      kind === 'ribbon' ? 'No.' : 'Wire',
      ...(kind === 'ribbon' ? ends.map(({ place }) => place) : ['from', 'to']),
      'is',
    ],
    ...conductors.map(({ number, meets }) => [
      String(number),
      ...meets.map((met) => (met === undefined ? '-' : kind === 'ribbon' ? met.label : met.place)),
      [...new Set(meets.flatMap((met) => met?.name ?? []))].join(' / '),
    ]),
  ]);
  return { ...table, svg: written('Conductors', 0, 11, { class: 'strong' }) + table.svg };
}

function ringsOf({ sheet: { buzz } }: Drawn<RibbonPicture>): Block {
  const rules = ['All ends out. The contacts of', 'a line ring with each other,', 'and with nothing else.'];
  const most = Math.max(1, ...buzz.map(({ contacts }) => Math.min(ACROSS, contacts.length)));
  const blank = Array.from({ length: most }, () => '');
  const rows: string[][] = [];
  const boxes: string[] = [];
  for (const { contacts } of buzz) {
    const y = 11 + LINE * (rows.length + 2) - 8;
    boxes.push(element('rect', { class: 'pen', x: 1, y, width: 8, height: 8 }));
    for (let from = 0; from < contacts.length; from += most)
      rows.push(['  ', ...blank.map((_, i) => contacts[from + i] ?? '')]);
  }
  const list = columnsOf([['', ...blank], ...rows]);
  const above = (rules.length - 1) * LINE;
  return {
    width: Math.max(list.width, ...rules.map((one) => widthOf(one, TEXT))),
    height: list.height + above,
    svg:
      written('Ring it through', 0, 11, { class: 'strong' }) +
      rules.map((one, i) => written(one, 0, 11 + LINE * (i + 1), { class: 'quiet' })).join('') +
      element('g', { transform: `translate(0 ${above})` }, list.svg, ...boxes),
  };
}
