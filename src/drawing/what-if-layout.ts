import type { Drawn } from './picture.ts';
import { widthOf } from './svg.ts';
import type { DrawnMate, MateContact, Meet } from './what-if-mates.ts';
import type { DrawnCase, DrawnHarm } from './what-if-picture.ts';

/** px */
export const ROW = 20;
export const SPACE = 6;
const TEXT = 11;
/** Between plug and socket, where the contacts meet. */
const GAP = 120;
const LETTER = 12;
const BOX_LEAST = 22;
const BOX_MOST = 60;
const NAMES = 190;
const NARROWEST = 110;
const WORDS = 620;
/** Bold is broader than what widths are reckoned by. */
const BOLD = 1.08;
/** Over the first line of each connector: what it is, and its kind. */
export const HEAD_ROW = 15;
const APART = 22;

/** Where the contacts of one side stand, in px. */
export interface SideColumn {
  readonly x: number;
  readonly width: number;
  readonly box: number;
  /** px for names. */
  readonly room: number;
}

export interface WhatIfLayout {
  readonly columns: readonly [SideColumn, SideColumn];
  /** Where it is told what happens, and where that ends. */
  readonly words: number;
  readonly right: number;
  /** Top of the head of each mate, and of its first line. */
  readonly mates: readonly { readonly head: number; readonly first: number }[];
  readonly height: number;
}

export const nameOf = ({ name, state }: Drawn<MateContact>): string =>
  state === 'there' ? name : `${name} (${state})`;

/** What the two columns are headed with. */
export const headsOf = ({ plug, socket, kinds }: Drawn<DrawnMate>): readonly [string[], string[]] => [
  [plug, kinds[0]],
  [socket, kinds[1]],
];

export function whatIfLayout({ mates, harms }: Drawn<DrawnCase>, margin: number): WhatIfLayout {
  const sides = [0, 1].map((side) => {
    const contacts = mates.flatMap((mate) => (side === 0 ? mate.plugContacts : mate.socketContacts));
    const heads = mates.flatMap((mate) => headsOf(mate)[side]!);
    const wide = (texts: readonly string[], size: number): number =>
      Math.max(0, ...texts.map((text) => widthOf(text, size)));
    const box = Math.min(
      BOX_MOST,
      Math.max(
        BOX_LEAST,
        wide(
          contacts.map(({ label }) => label),
          9,
        ) + 8,
      ),
    );
    const names = Math.min(NAMES, wide(contacts.map(nameOf), TEXT));
    const width = Math.max(NARROWEST, box + names + LETTER + 4 * SPACE, Math.min(NAMES, wide(heads, TEXT)));
    return { width, box, room: width - box - LETTER - 4 * SPACE };
  });
  const [plug, socket] = sides as [Omit<SideColumn, 'x'>, Omit<SideColumn, 'x'>];
  const columns = [
    { x: margin, ...plug },
    { x: margin + plug.width + GAP, ...socket },
  ] as const;
  let y = 0;
  const placed = mates.map(({ lines }) => {
    const head = y;
    const first = head + 2 * HEAD_ROW + SPACE;
    y = first + lines * ROW + APART;
    return { head, first };
  });
  const words = columns[1].x + columns[1].width + 2 * SPACE;
  const told = mates.flatMap(({ meets }) => meets.map((meet) => widthOf(wordsAt(harms, meet), TEXT)));
  const most = Math.ceil(Math.max(0, ...told) * BOLD);
  return { columns, words, right: words + Math.min(WORDS, most), mates: placed, height: y };
}

/** What is told beside two contacts: what is done to something there, and through which others where not through them alone. */
export function wordsAt(harms: readonly Drawn<DrawnHarm>[], { tells, more }: Drawn<Meet>): string {
  const [first] = tells;
  if (first === undefined) return '';
  const { says, by } = harms[first]!;
  const others = tells.length - 1 + more;
  return `${says}${by === '' ? '' : `, by way of ${by}`}${others > 0 ? `, and ${others} more` : ''}`;
}

/** Middle of a line of a mate. */
export const middleOf = ({ first }: WhatIfLayout['mates'][number], line: number): number =>
  first + line * ROW + ROW / 2;
