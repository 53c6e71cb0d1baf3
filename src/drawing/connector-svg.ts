import type { ConnectorPicture, FaceContact } from './connector-picture.ts';
import { type LegendRow, legendTo, letterRows, oddRows, sampleContact } from './contact-legend.ts';
import { type FaceLayout, type FaceLook, faceLayout, nameOf, PX_PER_MM } from './face-layout.ts';
import { bodyMark, contactMark, hazardMark, keyMark } from './face-marks.ts';
import { moved, paragraph, written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { element, type Sheet } from './svg.ts';
import { svgFile } from './svg-file.ts';
import { letterOf } from './told.ts';

/** px */
const MARGIN = 14;
const NARROWEST = 560;
const MOST_HAZARDS = 6;

/** Why a face cannot be drawn as it is asked for, and what to add to the file; undefined where it can. */
export function hindered(
  { connector, pitch, of }: Drawn<ConnectorPicture>,
  { scale }: FaceLook,
): string | undefined {
  if (scale !== '1:1' || pitch !== undefined) return undefined;
  return `${of} cannot be drawn at 1:1: connector ${connector} does not say its pitch; measure it over ten contacts and add a line to it such as \`pitch 2.54 mm\``;
}

/** A connector face as one file. Throws where it is `hindered`. */
export function connectorSvg(picture: Drawn<ConnectorPicture>, look: FaceLook): string {
  const hindrance = hindered(picture, look);
  if (hindrance !== undefined) throw new Error(hindrance);
  const sheet = connectorSheet(picture, look);
  return look.scale === '1:1' ? svgFile(sheet, (px) => `${(px / PX_PER_MM).toFixed(3)}mm`) : svgFile(sheet);
}

/** A face as it is drawn, with the layout of its contacts and how far down their upper row is, in px. */
export interface ConnectorSheet extends Sheet {
  readonly layout: FaceLayout;
  readonly upper: number;
}

export function connectorSheet(picture: Drawn<ConnectorPicture>, look: FaceLook): ConnectorSheet {
  const { of, pitch } = picture;
  const lifeSize = look.scale === '1:1';
  const layout = faceLayout(picture, look, MARGIN);
  const width = Math.ceil(Math.max(NARROWEST, layout.right + layout.pitch + MARGIN));
  const inside = width - 2 * MARGIN;
  const parts: string[] = [];
  let y = MARGIN;
  const put = ({ svg, height }: { svg: string; height: number }, gap: number): void => {
    parts.push(moved(y, svg));
    y += height + gap;
  };
  put(paragraph(headOf(picture, look), MARGIN, inside), 10);
  if (pitch !== undefined) put(barOf(layout, pitch, lifeSize), 10);
  const upper = y + layout.above;
  put(
    {
      svg: moved(layout.above, faceMarks(picture, layout, look)),
      height: layout.above + layout.last + layout.below,
    },
    10,
  );
  if (picture.hazards.length > 0) put(paragraph(hazardsSay(picture), MARGIN, inside), 10);
  put(legendOf(picture, inside), MARGIN);
  return {
    name: `${of}, ${look.side} side`,
    width,
    height: Math.ceil(y),
    content: parts,
    layout,
    upper,
  };
}

function headOf(
  picture: Drawn<ConnectorPicture>,
  { side, scale }: FaceLook,
): { text: string; class?: string }[] {
  const { of, connector, board, title, pitch, half, rowsSay, shape, rows, positions, contacts } = picture;
  const what = of === connector ? of : `${of}, ${connector}`;
  const size =
    shape === 'row' || shape === 'dip' || shape === 'dshell'
      ? `${contacts.length}`
      : `${rows} x ${positions}`;
  const where = side === 'mating' ? 'left' : 'right';
  const first = contacts[0]?.label ?? '';
  const drawn =
    pitch === undefined
      ? `Not to scale: nobody says the pitch. Measure it over ten contacts and write it into connector ${connector}, such as \`pitch 2.54 mm\`.`
      : `Pitch ${Number(pitch.toPrecision(4))} mm; ${scale === '1:1' ? 'drawn 1:1' : 'drawn larger, to scale'}.`;
  return [
    {
      text: `${what}: ${shape} ${size}${board === '' ? '' : `, board ${board}`}${title === '' ? '' : `, ${title}`}`,
      class: 'strong',
    },
    { text: `Seen from the ${side} side: ${half}, contact ${first} at the ${where}.`, class: 'strong' },
    { text: drawn + (rowsSay === '' ? '' : ` ${rowsSay[0]!.toUpperCase()}${rowsSay.slice(1)}.`) },
    {
      text: 'Which way the rows run is as common for this half: compare it with the number beside the contact before you touch one.',
      class: 'quiet',
    },
  ];
}

/** 10 mm at the scale of the drawing. */
function barOf({ pitch: px }: FaceLayout, pitch: number, lifeSize: boolean): { svg: string; height: number } {
  const length = (10 / pitch) * px;
  const says = lifeSize ? '10 mm: measure this bar on the print' : '10 mm';
  return {
    svg:
      element('path', {
        class: 'pen',
        d: `M${MARGIN} 3v8M${MARGIN} 7h${Math.round(length * 100) / 100}m0 -4v8`,
      }) + written(says, MARGIN + length + 8, 11),
    height: 16,
  };
}

/** Body, keys, contacts with their names, hazards; y = 0 is the middle of the upper row. */
function faceMarks(picture: Drawn<ConnectorPicture>, layout: FaceLayout, look: FaceLook): string {
  const { at, box, labelSize, pitch } = layout;
  const zigzag = look.scale === '1:1' ? pitch * 0.5 : 14;
  const marks = [
    bodyMark(picture, layout, look),
    ...picture.contacts.map((_, i) => leaderOf(layout, i)),
    ...picture.keys.map((key) => keyMark(picture, key, layout)),
    ...picture.contacts.map((contact, i) => contactMark(contact, at[i]!.x, at[i]!.y, box, labelSize)),
    ...picture.hazards.map(({ a, b, says }) => hazardMark(at[a]!, at[b]!, zigzag, says)),
    ...picture.contacts.map((contact, i) => nameAt(contact, layout, i)),
  ];
  return element('g', { class: look.scale === '1:1' ? 'face fine' : 'face' }, ...marks);
}

/** Height above or below the rows at which the letters stand, px. */
const lettersAt = ({ pitch }: FaceLayout): number => pitch * 0.9;

/** From a contact of an inner row, through the gap beside it, to its name outside. */
function leaderOf(layout: FaceLayout, i: number): string {
  const name = layout.names[i];
  const { x, y } = layout.at[i]!;
  if (name === undefined || !name.inner) return '';
  const edge = name.up ? -layout.pitch * 0.5 : layout.last + layout.pitch * 0.5;
  const end = name.up ? -lettersAt(layout) + 2 : layout.last + lettersAt(layout) - 2;
  const [left, middle, gap, to, out, tip] = [x, y, name.gap, name.x, edge, end].map(
    (one) => Math.round(one * 100) / 100,
  );
  return element('path', { class: 'leader', d: `M${left} ${middle}H${gap}V${out}L${to} ${tip}` });
}

function nameAt(contact: Drawn<FaceContact>, layout: FaceLayout, i: number): string {
  const spot = layout.names[i];
  if (spot === undefined) return '';
  const { last, nameSize: size, room } = layout;
  const y = spot.up ? -lettersAt(layout) : last + lettersAt(layout) + size * 0.75;
  const away = spot.up ? y - size : y + size * 0.4;
  const strong = contact.kind === 'rail' || contact.kind === 'ground' ? 'name strong' : 'name';
  const quiet = contact.kind === undefined || contact.name === contact.kind ? 'name quiet' : strong;
  return (
    written(letterOf(contact), spot.x, y, { class: 'letter', size, anchor: 'middle' }) +
    written(nameOf(contact), spot.x + size * 0.36, away, {
      class: quiet,
      size,
      upwards: true,
      room,
      ...(spot.up ? {} : { anchor: 'end' as const }),
    })
  );
}

function hazardsSay({ hazards }: Drawn<ConnectorPicture>): { text: string; class?: string }[] {
  const more = hazards.length - MOST_HAZARDS;
  return [
    { text: 'Where a slip of the probe does harm', class: 'strong' },
    ...hazards.slice(0, MOST_HAZARDS).map(({ says }) => ({ text: says })),
    ...(more > 0 ? [{ text: `and ${more} more, each marked` }] : []),
  ];
}

/** Only what is in the picture. */
function legendOf(picture: Drawn<ConnectorPicture>, width: number): { svg: string; height: number } {
  const { contacts, keys, hazards, shroud } = picture;
  const said = contacts.filter(({ kind }) => kind !== undefined);
  const rows: LegendRow[] = [
    [said.length > 0, sampleContact({}), 'said, known as its letter'],
    [said.some(({ kind }) => kind === 'rail'), sampleContact({ kind: 'rail' }), 'a rail'],
    ...oddRows(contacts),
    [
      keys.length > 0,
      (x, y) => element('rect', { class: 'key', x: x - 2, y: y - 8, width: 4, height: 16 }),
      'key',
    ],
    [
      picture.bump,
      (x, y) => element('rect', { class: 'key', x: x - 8, y: y - 3, width: 16, height: 6 }),
      'polarising bump',
    ],
    [
      hazards.length > 0,
      (x, y) => hazardMark({ x: x - 1, y }, { x: x + 1, y }, 14, 'as an example'),
      'do not slip here',
    ],
    [
      shroud !== undefined,
      (x, y) =>
        element('path', { class: 'shell shroud', d: `M${x - 10} ${y + 5}V${y - 5}H${x + 10}V${y + 5}` }),
      shroud === 'notch' ? 'shroud, open at its notch' : 'shroud',
    ],
    ...(said.length > 0 ? letterRows(contacts) : []),
  ];
  return legendTo(rows, MARGIN, width);
}
