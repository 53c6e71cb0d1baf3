import type { Severity } from '../checks/types.ts';
import {
  type BusColumns,
  type BusLayout,
  type BusLook,
  type BusPiece,
  busLayout,
  ELSEWHERE,
  elsewhere,
  LONGEST,
  MARGIN,
  type MarksShown,
  MONO,
  ROW,
  SLOT,
  TEXT,
} from './bus-layout.ts';
import { legendOf } from './bus-legend.ts';
import { brokenLine, crossingAt, endAt, endX, ringAt } from './bus-marks.ts';
import { moved } from './lettering.ts';
import type { Group } from './line-groups.ts';
import type { BusPicture, Drawn, LineRow } from './picture.ts';
import { element, label, widthOf } from './svg.ts';
import { svgFile } from './svg-file.ts';

export const GROUP_NAMES: Readonly<Record<Group, string>> = {
  power: 'Power',
  address: 'Address',
  data: 'Data',
  control: 'Control',
  chains: 'Daisy chains',
  unknown: 'Unknown, spare, private',
};

/** A piece of the picture, around (0, 0) at its upper left corner. */
export interface DrawnPiece {
  readonly top: number;
  readonly height: number;
  readonly svg: string;
}

/** A bus as it is drawn: pieces from the top down, the legend last. px. */
export interface BusSheet {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly layout: BusLayout;
  readonly pieces: readonly DrawnPiece[];
}

export function busSheet(picture: Drawn<BusPicture>, look: BusLook): BusSheet {
  const layout = busLayout(picture, look);
  const { width } = layout.columns;
  const pieces = layout.pieces.map((piece) => ({
    top: piece.top,
    height: piece.height,
    svg: pieceOf(picture, piece, layout, look),
  }));
  const legend = legendOf(look.marks, MARGIN, width - 2 * MARGIN);
  return {
    name: `${picture.backplane}, bus ${picture.bus}`,
    width,
    height: Math.ceil(layout.bottom + legend.height + MARGIN),
    layout,
    pieces: [...pieces, { top: layout.bottom, height: legend.height + MARGIN, svg: legend.svg }],
  };
}

/** The whole picture as one file. */
export function busSvg(picture: Drawn<BusPicture>, look: BusLook): string {
  const { pieces, ...sheet } = busSheet(picture, look);
  return svgFile({ ...sheet, content: pieces.map(({ top, svg }) => moved(top, svg)) });
}

function pieceOf(
  picture: Drawn<BusPicture>,
  piece: BusPiece,
  { columns, lines }: BusLayout,
  { marks }: BusLook,
): string {
  switch (piece.kind) {
    case 'title':
      return titleOf(picture, lines.length, columns.width - 2 * MARGIN);
    case 'head':
      return headOf(picture, columns, piece.height);
    case 'group':
      return label(GROUP_NAMES[piece.group], { class: 'strong', x: MARGIN, y: 14 });
    case 'nothing':
      return label('No line fits the filter.', { class: 'quiet', x: MARGIN, y: 14 });
    case 'lines': {
      const some = lines.slice(piece.first, piece.first + piece.count);
      const how = `${marks} ${JSON.stringify(columns)}`;
      return some.map((line, i) => moved(i * ROW, keptLine(line, columns, i % 2 === 1, marks, how))).join('');
    }
  }
}

function titleOf({ title, backplane, bus, lines }: Drawn<BusPicture>, shown: number, room: number): string {
  const some = shown === lines.length ? '' : `: ${shown} of ${lines.length} lines`;
  const text = `${backplane}: slots on bus ${bus}${title === '' ? '' : `, ${title}`}${some}`;
  return label(text, { class: 'strong', x: MARGIN, y: 12 }, room);
}

/** Boards written upwards over their slots, and the slots' labels. */
function headOf({ slots }: Drawn<BusPicture>, { slots: middles }: BusColumns, height: number): string {
  return slots
    .map(({ label: slot, board, state }, i) => {
      const x = middles[i]!;
      const said = board === '' ? (state === 'empty' ? 'empty' : 'not said') : board;
      return (
        label(
          said,
          {
            class: board === '' ? 'quiet' : 'strong',
            transform: `translate(${x + 4} ${height - 24}) rotate(-90)`,
          },
          LONGEST,
          TEXT,
        ) + label(slot, { class: 'mono', x, y: height - 8, 'text-anchor': 'middle' }, SLOT, MONO)
      );
    })
    .join('');
}

/** How each line was drawn last: an edit changes one of a hundred, and the others come to the page as they were. */
const kept = new WeakMap<object, { readonly how: string; readonly svg: string }>();

function keptLine(
  line: Drawn<LineRow>,
  columns: BusColumns,
  shaded: boolean,
  marks: MarksShown,
  where: string,
): string {
  const how = `${shaded} ${where}`;
  const before = kept.get(line);
  if (before?.how === how) return before.svg;
  const svg = lineOf(line, columns, shaded, marks);
  kept.set(line, { how, svg });
  return svg;
}

function lineOf(line: Drawn<LineRow>, columns: BusColumns, shaded: boolean, marks: MarksShown): string {
  const y = ROW / 2;
  const { names, contacts, slots, gaps, beyond, width } = columns;
  const parts = [
    shaded ? element('rect', { class: 'band', x: 0, y: 0, width, height: ROW }) : '',
    label(line.name, { x: names, y: y + 4 }, LONGEST, TEXT),
    line.finding ? nameRing(line.name, line.finding, names, y) : '',
    label(line.contacts, { class: 'mono', x: contacts, y: y + 4 }, LONGEST, MONO),
    element('path', { class: `copper ${line.group}`, d: copperOf(line, columns, y) }),
    ...line.ends.map((end) => endAt(end, endX(end, gaps[end.gap]!), y)),
    ...line.crossings.map((crossing, i) => (crossing ? crossingAt(crossing, slots[i]!, y, marks) : '')),
    label(elsewhere(line), { class: 'quiet', x: beyond, y: y + 4 }, ELSEWHERE, TEXT),
  ];
  return element('g', { class: 'line' }, ...parts);
}

/** Around a line's name: what is found concerns the line as a whole. */
function nameRing(name: string, finding: Severity, x: number, y: number): string {
  const width = Math.min(LONGEST, widthOf(name, TEXT));
  return ringAt(finding, x + width / 2 + 1, y, width + 8);
}

/**
 * The copper of a line: from slot to slot where its trace leads on, past slots that do not carry it; a stub with a bar
 * where it does not. A chain is open inside each slot; what carries it on there is the board's mark.
 */
function copperOf(
  { crossings, links, chain, ends }: Drawn<LineRow>,
  { slots, gaps }: BusColumns,
  y: number,
): string {
  const half = (slot: number): number => (chain && crossings[slot] ? 7 : 0);
  const reaches = (slot: number, gap: number): boolean =>
    crossings[slot] !== undefined || links[gap] === true;
  let d = '';
  links.forEach((linked, i) => {
    const [from, to] = [slots[i]! + half(i), slots[i + 1]! - half(i + 1)];
    if (linked) d += `M${from} ${y}H${to}`;
    else if (reaches(i, i - 1) && reaches(i + 1, i + 1)) d += brokenLine(from, gaps[i + 1]!, to, y);
  });
  const [first, last] = [crossings.findIndex(Boolean), crossings.findLastIndex(Boolean)];
  if (first < 0) return d;
  for (const { gap } of ends) {
    if (gap <= first) d += `M${gaps[gap]} ${y}H${slots[first]}`;
    else if (gap > last) d += `M${slots[last]} ${y}H${gaps[gap]}`;
  }
  return d;
}
