import { ENTRIES } from './bus-legend.ts';
import { brokenLine, crossingAt, endAt } from './bus-marks.ts';
import { keyTo, moved } from './lettering.ts';
import type { Group } from './line-groups.ts';
import type { BusPicture, LineRow } from './picture.ts';
import { element, label, svgFile, widthOf } from './svg.ts';

/** px */
const ROW = 18;
const SLOT = 30;
const GAP = 10;
const RESISTOR_GAP = 30;
const MARGIN = 12;
const TEXT = 11;
const MONO = 10;
const TITLE = 28;
const GROUP = 20;
/** Names longer than this are cut, and told whole where one points. */
const LONGEST = 170;

const GROUP_NAMES: Readonly<Record<Group, string>> = {
  power: 'Power',
  address: 'Address',
  data: 'Data',
  control: 'Control',
  chains: 'Daisy chains',
  unknown: 'Unknown, spare, private',
};

/** Where things stand, in px: the same for all bands of one picture. */
interface BusLayout {
  readonly names: number;
  readonly contacts: number;
  /** The middle of each slot. */
  readonly slots: readonly number[];
  /** The middle of each gap; the last is behind the last slot. */
  readonly gaps: readonly number[];
  readonly beyond: number;
  readonly width: number;
  readonly head: number;
}

function busLayout({ lines, slots }: BusPicture): BusLayout {
  const wide = (texts: readonly string[], size: number): number =>
    Math.min(LONGEST, Math.max(24, ...texts.map((text) => widthOf(text, size))));
  const names = MARGIN;
  const contacts =
    names +
    wide(
      lines.map(({ name }) => name),
      TEXT,
    ) +
    8;
  let x =
    contacts +
    wide(
      lines.map((line) => line.contacts),
      MONO,
    ) +
    8;
  const used = new Set(lines.flatMap(({ ends }) => ends.map(({ gap }) => gap)));
  const [middles, gaps]: [number[], number[]] = [[], []];
  for (let i = 0; i <= slots.length; i++) {
    const gap = used.has(i) ? RESISTOR_GAP : GAP;
    gaps.push(x + gap / 2);
    x += gap;
    if (i === slots.length) break;
    middles.push(x + SLOT / 2);
    x += SLOT;
  }
  const beyond = x + 10;
  const right = wide(
    lines.map((line) => elsewhere(line)),
    TEXT,
  );
  const tallest = Math.max(30, ...slots.map(({ board }) => Math.min(LONGEST, widthOf(board, TEXT))));
  return {
    names,
    contacts,
    slots: middles,
    gaps,
    beyond,
    width: beyond + right + MARGIN,
    head: tallest + 26,
  };
}

const elsewhere = ({ beyond }: LineRow): string =>
  beyond.length <= 2 ? beyond.join(', ') : `${beyond.slice(0, 2).join(', ')} and ${beyond.length - 2} more`;

/** The whole picture as one file: heading, slots, lines in their groups, legend. */
export function busSvg(picture: BusPicture): string {
  const layout = busLayout(picture);
  const parts: string[] = [];
  let y = MARGIN + TITLE;
  parts.push(heading(picture), moved(y, headOf(picture, layout)));
  y += layout.head;
  for (const { group, lines } of grouped(picture)) {
    parts.push(moved(y, label(GROUP_NAMES[group], { class: 'strong', x: layout.names, y: 14 })));
    y += GROUP;
    parts.push(moved(y, linesOf(lines, layout)));
    y += lines.length * ROW + 4;
  }
  y += 10;
  const legend = keyTo(ENTRIES, MARGIN, layout.width - 2 * MARGIN);
  parts.push(moved(y, legend.svg));
  y += legend.height + MARGIN;
  return svgFile(`${picture.backplane}, bus ${picture.bus}`, [Math.ceil(layout.width), Math.ceil(y)], parts);
}

function heading({ title, backplane, bus }: BusPicture): string {
  const text = `${backplane}: slots on bus ${bus}${title === '' ? '' : `, ${title}`}`;
  return label(text, { class: 'strong', x: MARGIN, y: MARGIN + 12 });
}

/** Boards written upwards over their slots, and the slots' labels. */
function headOf({ slots }: BusPicture, { slots: middles, head }: BusLayout): string {
  return slots
    .map(({ label: slot, board, state }, i) => {
      const x = middles[i]!;
      const said = board === '' ? (state === 'empty' ? 'empty' : 'not said') : board;
      return (
        label(
          said,
          {
            class: board === '' ? 'quiet' : 'strong',
            transform: `translate(${x + 4} ${head - 24}) rotate(-90)`,
          },
          LONGEST,
          TEXT,
        ) + label(slot, { class: 'mono', x, y: head - 8, 'text-anchor': 'middle' }, SLOT, MONO)
      );
    })
    .join('');
}

function grouped({ lines }: BusPicture): { group: Group; lines: LineRow[] }[] {
  const groups: { group: Group; lines: LineRow[] }[] = [];
  for (const line of lines) {
    const last = groups.at(-1);
    if (last?.group === line.group) last.lines.push(line);
    else groups.push({ group: line.group, lines: [line] });
  }
  return groups;
}

/** Some lines, one below the other: what a band of the picture holds. Its height is `ROW` for each. */
function linesOf(lines: readonly LineRow[], layout: BusLayout): string {
  return lines.map((line, i) => moved(i * ROW, lineOf(line, layout, i % 2 === 1))).join('');
}

function lineOf(line: LineRow, layout: BusLayout, shaded: boolean): string {
  const y = ROW / 2;
  const { names, contacts, slots, beyond, width } = layout;
  const parts = [
    shaded ? element('rect', { class: 'band', x: 0, y: 0, width, height: ROW }) : '',
    label(line.name, { x: names, y: y + 4 }, LONGEST, TEXT),
    label(line.contacts, { class: 'mono', x: contacts, y: y + 4 }, LONGEST, MONO),
    element('path', { class: `copper ${line.group}`, d: copperOf(line, layout, y) }),
    ...line.ends.map((end) => endAt(end, layout.gaps[end.gap]!, y)),
    ...line.crossings.map((crossing, i) => (crossing ? crossingAt(crossing, slots[i]!, y) : '')),
    label(elsewhere(line), { class: 'quiet', x: beyond, y: y + 4 }, LONGEST, TEXT),
  ];
  return element('g', { class: 'line' }, ...parts);
}

/**
 * The copper of a line: from the middle of a slot to that of the next where it leads on, a stub with a bar where it
 * does not. A chain is open inside each slot; what carries it on there is the board's mark.
 */
function copperOf({ crossings, links, chain, ends }: LineRow, { slots, gaps }: BusLayout, y: number): string {
  const half = chain ? 7 : 0;
  let d = '';
  links.forEach((linked, i) => {
    const [here, next] = [crossings[i], crossings[i + 1]];
    const [from, to] = [slots[i]! + half, slots[i + 1]! - half];
    if (linked) d += `M${from} ${y}H${to}`;
    else if (here && next) d += brokenLine(from, gaps[i + 1]!, to, y);
  });
  for (const { gap } of ends) {
    if (gap === 0) d += `M${gaps[0]} ${y}H${slots[0]}`;
    else if (gap === slots.length) d += `M${slots.at(-1)} ${y}H${gaps[gap]}`;
  }
  return d;
}
