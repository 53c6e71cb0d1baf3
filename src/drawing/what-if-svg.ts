import { agree, runsOf } from '../checks/lists.ts';
import { type LegendRow, legendTo, letterRows, oddRows } from './contact-legend.ts';
import { contactMark } from './face-marks.ts';
import { moved, paragraph, wrapped, written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { element, escaped, type Sheet } from './svg.ts';
import { svgFile } from './svg-file.ts';
import { letterOf } from './told.ts';
import { ALL_PLUGS } from './what-if-choice.ts';
import { unknownSaid } from './what-if-harms.ts';
import {
  HEAD_ROW,
  headsOf,
  middleOf,
  nameOf,
  ROW,
  type SideColumn,
  SPACE,
  type WhatIfLayout,
  whatIfLayout,
  wordsAt,
} from './what-if-layout.ts';
import { CANNOT_BE_JUDGED, crossMark, harmMark, MARK, unknownMark } from './what-if-marks.ts';
import type { DrawnKey, DrawnMate, MateContact, Meet } from './what-if-mates.ts';
import type { DrawnCase, DrawnHarm, WhatIfPicture } from './what-if-picture.ts';

/** px */
const MARGIN = 14;
const NARROWEST = 560;
const LINE = 20;
/** From the columns to where a line between them is drawn. */
const STUB = 4;
const KEY = 26;
/** Of two lines where there is room for one. */
const SMALL = 9;
/** So many harms are told over the contacts; all are told where somebody asks. */
const TOLD = 6;

/** A case as one file. */
export const whatIfSvg = (picture: Drawn<WhatIfPicture>): string => svgFile(whatIfSheet(picture));

/** A case as it is drawn, with its layout and how far down the contacts begin, in px. */
export interface WhatIfSheet extends Sheet {
  readonly layout?: WhatIfLayout;
  readonly top: number;
}

export function whatIfSheet(picture: Drawn<WhatIfPicture>): WhatIfSheet {
  const { shown, of } = picture;
  const layout = shown && whatIfLayout(shown, MARGIN);
  const right = Math.max(NARROWEST, layout?.right ?? 0);
  // What one has to read keeps to the width of a narrow tab.
  const width = NARROWEST - MARGIN;
  const parts: string[] = [];
  let y = MARGIN;
  const add = ({ svg, height }: { svg: string; height: number }, space: number): void => {
    parts.push(moved(y, svg));
    y += height + space;
  };
  add(paragraph([{ text: summaryOf(picture), class: 'quiet' }], MARGIN, width), 4);
  if (shown) {
    add(headingOf(shown, width), 4);
    add(harmsOf(shown, width), 14);
  }
  const top = y;
  if (shown && layout) {
    add(
      { svg: shown.mates.map((mate, m) => mateOf(shown, mate, layout, m)).join(''), height: layout.height },
      4,
    );
    add(legendOf(shown, width), 0);
  }
  const name = shown ? `what if: ${shown.says}` : `what if: ${of}`;
  return {
    name,
    width: Math.ceil(right + MARGIN),
    height: Math.ceil(y + MARGIN),
    content: parts,
    ...(layout ? { layout } : {}),
    top,
  };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const numbered = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

function summaryOf({ of, title, shown, harmful, unjudged }: Drawn<WhatIfPicture>): string {
  const who = `${of}${title === '' ? '' : `, ${title}`}`;
  if (shown === undefined) return `${who}: there is no wrong way to plug anything in.`;
  const how = `to plug ${of === ALL_PLUGS ? 'something' : 'it'} in wrong`;
  const open = `${agree(harmful, 'is', 'are')} open`;
  if (unjudged === 0)
    return harmful === 0
      ? `${who}: no harmful way ${how} is open.`
      : `${who}: ${numbered(harmful, 'harmful way')} ${how} ${open}.`;
  const doubt = `cannot be judged, because contacts meet that nobody knows`;
  return harmful === 0
    ? `${who}: ${numbered(unjudged, 'way')} ${how} ${doubt}.`
    : `${who}: ${numbered(harmful, 'harmful way')} ${how} ${open}, and ${unjudged} more ${doubt}.`;
}

const SIZE = 15;

/** The case in words: struck through where it cannot happen. */
function headingOf({ says, also, state, verdict, against }: Drawn<DrawnCase>, width: number) {
  const lines = wrapped(`${says}.`, width, SIZE);
  const heading = lines
    .map((line, i) =>
      written(line, MARGIN, 15 + i * LINE, {
        class: state === 'prevented' ? 'strong struck' : 'strong',
        size: SIZE,
        room: width,
      }),
    )
    .join('');
  const first = lines.length * LINE;
  const rest = paragraph(
    [
      ...(also.length === 0 ? [] : [{ text: `It comes to the same in ${runsOf(also).join(', ')}.` }]),
      { text: `${capital(verdict)}.`, class: 'strong' },
      ...(against === undefined ? [] : [{ text: `${against}.` }]),
    ],
    MARGIN,
    width,
  );
  return { svg: heading + moved(first + 2, rest.svg), height: first + 2 + rest.height };
}

/** What happens, the worst first, each with its mark; what cannot be judged before it where nothing else counts, and else behind it. */
function harmsOf({ harms, more, state, does, unknown }: Drawn<DrawnCase>, width: number) {
  const left = MARGIN + 2 * MARK + SPACE + 2;
  const parts: string[] = [];
  let y = 4;
  const say = (text: string, x = MARGIN, how: { readonly class?: string } = {}): void => {
    for (const line of wrapped(text, width + MARGIN - x)) {
      parts.push(written(line, x, y + 11, { ...how, room: width + MARGIN - x }));
      y += 15;
    }
  };
  const sayUnknown = (): void => {
    if (unknown === 0) return;
    y += 3;
    parts.push(unknownMark(MARGIN + MARK, y + 8));
    say(`${capital(unknownSaid(does, unknown))}.`, left, { class: 'strong' });
    y += 2;
  };
  if (does === 'unknown') sayUnknown();
  if (harms.length === 0 && unknown === 0) {
    say('Nothing is joined that does harm.');
    return { svg: parts.join(''), height: y };
  }
  if (state === 'prevented' && harms.length > 0) say('What it would do:');
  for (const harm of harms.slice(0, TOLD)) {
    y += 3;
    parts.push(harmMark(harm, MARGIN + MARK, y + 8));
    say(sentenceOf(harm), left);
    y += 2;
  }
  const others = harms.length - TOLD + more;
  if (others > 0) say(`And ${numbered(others, 'other thing')}, marked below.`, left);
  if (does !== 'unknown') sayUnknown();
  return { svg: parts.join(''), height: y };
}

/** `Foreign rail: +24V of PSU meets D0 of CPU, through CPU.edge.3 on CAGE.1.20.` */
const sentenceOf = ({ word, says, through }: Drawn<DrawnHarm>): string =>
  `${capital(word)}: ${says}${through === '' ? '' : `, through ${through}`}.`;

// ---- contacts ----

function mateOf(shown: Drawn<DrawnCase>, mate: Drawn<DrawnMate>, layout: WhatIfLayout, m: number): string {
  const { columns } = layout;
  const place = layout.mates[m]!;
  const heads = headsOf(mate).map((lines, side) =>
    lines
      .map((line, i) =>
        written(line, columns[side]!.x, place.head + 11 + i * HEAD_ROW, {
          room: columns[side]!.width,
          ...(i === 0 ? { class: 'strong' } : { class: 'quiet' }),
        }),
      )
      .join(''),
  );
  const y = (line: number): number => middleOf(place, line);
  return [
    ...heads,
    ...mate.keys.map((key) => keyMark(key, layout, y(key.line))),
    ...mate.meets.map((meet) => lineOf(shown, mate, meet, layout, y)),
    ...mate.plugContacts.map((contact) => cellOf(contact, columns[0], 0, y(contact.line))),
    ...mate.socketContacts.map((contact) => cellOf(contact, columns[1], 1, y(contact.line))),
    ...mate.slots.map((slot) => slotMark(slot, layout, y(slot.line))),
    ...mate.meets.map((meet) => wordsOf(shown, mate, meet, layout, y)),
  ].join('');
}

/** Two contacts that meet; dashed where it cannot come to that. */
function lineOf(
  { harms, state }: Drawn<DrawnCase>,
  { plugContacts, socketContacts }: Drawn<DrawnMate>,
  meet: Drawn<Meet>,
  { columns: [plug, socket] }: WhatIfLayout,
  y: (line: number) => number,
): string {
  const [x0, x1] = [plug.x + plug.width + STUB, socket.x - STUB];
  const [y0, y1] = [y(plugContacts[meet.plug]!.line), y(socketContacts[meet.socket]!.line)];
  const middle = [(x0 + x1) / 2, (y0 + y1) / 2] as const;
  const line = (names: string): string =>
    element('path', { class: `meet ${names}`, d: `M${x0} ${y0}L${x1} ${y1}` });
  if (meet.state === 'blocked')
    return line('never') + crossMark(...middle, 'the plugged hole stands on this pin: it does not go on');
  const harm = meet.harm === undefined ? undefined : harms[meet.harm];
  const never = state === 'prevented' ? ' never' : '';
  if (meet.unknown) return line(`unjudged${never}`) + unknownMark(...middle);
  return line(`${harm?.weight ?? 'nothing'}${never}`) + (harm ? harmMark(harm, ...middle) : '');
}

/** Beside the contacts at which something is done to something, what that is: in two small lines where one does not hold it. */
function wordsOf(
  { harms }: Drawn<DrawnCase>,
  { socketContacts }: Drawn<DrawnMate>,
  meet: Drawn<Meet>,
  { words, right }: WhatIfLayout,
  y: (line: number) => number,
): string {
  const [first] = meet.tells;
  if (first === undefined) return '';
  const { weight } = harms[first]!;
  const [text, room, middle] = [wordsAt(harms, meet), right - words, y(socketContacts[meet.socket]!.line)];
  const kind = weight === 'harmless' ? 'quiet' : weight === 'destroys' ? 'wrong' : 'told';
  const fits = wrapped(text, room).length === 1;
  if (fits) return written(text, words, middle + 4, { class: kind, room });
  const [top, ...rest] = wrapped(text, room, SMALL);
  return [top!, rest.join(' ')]
    .map((line, i) => written(line, words, middle - 1 + i * SMALL, { class: kind, room, size: SMALL }))
    .join('');
}

function cellOf(contact: Drawn<MateContact>, column: SideColumn, side: 0 | 1, y: number): string {
  const { x, width, box, room } = column;
  const isPlug = side === 0;
  const mark = isPlug ? x + width - box / 2 - SPACE / 2 : x + box / 2 + SPACE / 2;
  const name = isPlug ? x + width - box - SPACE * 1.5 : x + box + SPACE * 1.5;
  const letter = isPlug ? x + SPACE + 1 : x + width - SPACE - 1;
  const { kind } = contact;
  return (
    element('rect', { class: 'cell', x, y: y - ROW / 2 + 1, width, height: ROW - 2 }) +
    contactMark(contact, mark, y, { width: box, height: 14 }, 9) +
    written(nameOf(contact), name, y + 4, {
      room,
      ...(isPlug ? { anchor: 'end' as const } : {}),
      ...(kind === 'rail' || kind === 'ground'
        ? { class: 'strong' }
        : kind === undefined || contact.name === kind
          ? { class: 'quiet' }
          : {}),
    }) +
    written(letterOf(contact), letter, y + 4, { class: 'letter', anchor: 'middle' })
  );
}

// ---- keys ----

/** A key of the socket: a bar that reaches out of it, crossed where no slot lies over it. */
function keyMark(
  { between, stands }: Drawn<DrawnKey>,
  { columns: [, socket] }: WhatIfLayout,
  y: number,
): string {
  const says = `key between ${between.replace(' ', ' and ')}${stands ? ', which stands in the way' : ''}`;
  return (
    element(
      'rect',
      { class: 'key', x: socket.x - STUB - KEY, y: y - 2.5, width: KEY + STUB, height: 5 },
      element('title', {}, escaped(says)),
    ) + (stands ? crossMark(socket.x - STUB - KEY - 8, y, says) : '')
  );
}

/** A slot in the tongue, or in the plug's front: open towards the socket. */
function slotMark({ between }: Drawn<DrawnKey>, { columns: [plug] }: WhatIfLayout, y: number): string {
  const x = plug.x + plug.width + STUB;
  return element(
    'g',
    { class: 'slot' },
    element('title', {}, escaped(`slot for a key between ${between.replace(' ', ' and ')}`)),
    element('path', { class: 'pen', d: `M${x + KEY} ${y - 3.5}H${x}V${y + 3.5}H${x + KEY}` }),
  );
}

/** Only what is in the picture. */
function legendOf(
  { harms, mates, state, unknown }: Drawn<DrawnCase>,
  width: number,
): { svg: string; height: number } {
  const contacts = mates.flatMap(({ plugContacts, socketContacts }) => [...plugContacts, ...socketContacts]);
  const kinds = [...new Map(harms.map((harm) => [harm.kind, harm])).values()];
  const line = (names: string) => (x: number, y: number) =>
    element('path', { class: `meet ${names}`, d: `M${x - 12} ${y}H${x + 12}` });
  const bar = (x: number, y: number): string =>
    element('rect', { class: 'key', x: x - 12, y: y - 2.5, width: 24, height: 5 });
  const slot = (x: number, y: number): string =>
    element('path', { class: 'pen', d: `M${x + 12} ${y - 3.5}H${x - 12}V${y + 3.5}H${x + 12}` });
  const meets = mates.flatMap((mate) => mate.meets);
  const rows: LegendRow[] = [
    ...kinds.map(
      (harm): LegendRow => [true, (x, y) => harmMark({ ...harm, says: harm.word }, x, y), harm.word],
    ),
    [unknown > 0, unknownMark, CANNOT_BE_JUDGED],
    [
      meets.some((one) => one.harm === undefined && !one.unknown) && state !== 'prevented',
      line('nothing'),
      unknown > 0 ? 'meet, nothing known against it' : 'meet, and no harm comes of it',
    ],
    [state === 'prevented', line('nothing never'), 'would meet'],
    [mates.some(({ keys }) => keys.length > 0), bar, 'key of the socket'],
    [mates.some(({ slots }) => slots.length > 0), slot, 'slot for a key'],
    [
      mates.some(({ keys }) => keys.some(({ stands }) => stands)) ||
        meets.some((one) => one.state === 'blocked'),
      (x, y) => crossMark(x, y, ''),
      'stands in the way',
    ],
    ...oddRows(contacts),
    ...letterRows(contacts),
  ];
  return legendTo(rows, MARGIN, width);
}
