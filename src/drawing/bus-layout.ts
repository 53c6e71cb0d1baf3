import type { Group } from './line-groups.ts';
import { type BusFilter, narrowed } from './narrow.ts';
import type { BusPicture, Drawn, LineRow } from './picture.ts';
import { widthOf } from './svg.ts';

/** What the marks of a bus picture show. */
export const MARKS_SHOWN = ['role', 'evidence', 'current', 'readings'] as const;
export type MarksShown = (typeof MARKS_SHOWN)[number];

export interface BusLook {
  readonly marks: MarksShown;
  /** Only lines that this lets through are drawn. */
  readonly filter?: BusFilter;
}

/** px */
export const ROW = 18;
export const SLOT = 30;
export const MARGIN = 12;
export const TEXT = 11;
export const MONO = 10;
const GAP = 10;
const RESISTOR_GAP = 30;
/** Resistors on both sides of a cut. */
const CUT_GAP = 58;
const TITLE = 28;
const GROUP = 20;
const BELOW = 4;
/** Names longer than this are cut, and told whole where one points. */
export const LONGEST = 170;
/** Lines that are drawn as one piece: what a page paints anew when one of them changes. */
const PIECE = 10;

/** Where things stand across the picture, in px. */
export interface BusColumns {
  readonly names: number;
  readonly contacts: number;
  /** The middle of each slot. */
  readonly slots: readonly number[];
  /** The middle of each gap; the last is behind the last slot. */
  readonly gaps: readonly number[];
  readonly beyond: number;
  readonly width: number;
}

/** A piece of the picture from left to right: its place from the top, and its height, in px. */
interface Piece {
  readonly top: number;
  readonly height: number;
}

/** Some lines of one group, each `ROW` high. `first` is the index of the first of them among the lines that are drawn. */
export interface LinesPiece extends Piece {
  readonly kind: 'lines';
  readonly first: number;
  readonly count: number;
}

export type BusPiece =
  | (Piece & { readonly kind: 'title' | 'head' | 'nothing' })
  | (Piece & { readonly kind: 'group'; readonly group: Group })
  | LinesPiece;

export interface BusLayout {
  readonly columns: BusColumns;
  /** From the top down; the legend comes below. */
  readonly pieces: readonly BusPiece[];
  readonly bottom: number;
  /** The lines that are drawn, and for each its index in the picture. */
  readonly lines: readonly Drawn<LineRow>[];
  readonly rows: readonly number[];
}

export function busLayout(picture: Drawn<BusPicture>, { filter }: BusLook): BusLayout {
  const rows = narrowed(picture, filter);
  const lines = rows.map((row) => picture.lines[row]!);
  const pieces: BusPiece[] = [];
  let y = MARGIN;
  const put = (piece: { [P in BusPiece as P['kind']]: Omit<P, 'top'> }[BusPiece['kind']]): void => {
    pieces.push({ ...piece, top: y } as BusPiece);
    y += piece.height;
  };
  put({ kind: 'title', height: TITLE });
  put({ kind: 'head', height: headHeight(picture) });
  if (lines.length === 0) put({ kind: 'nothing', height: GROUP + ROW });
  for (let at = 0; at < lines.length; ) {
    const { group } = lines[at]!;
    const end = lines.findIndex((line, i) => i > at && line.group !== group);
    const next = end < 0 ? lines.length : end;
    put({ kind: 'group', group, height: GROUP });
    for (let first = at; first < next; first += PIECE) {
      const count = Math.min(PIECE, next - first);
      put({ kind: 'lines', first, count, height: count * ROW + (first + count === next ? BELOW : 0) });
    }
    at = next;
  }
  // Columns stand where they stand, whatever is filtered out.
  return { columns: columnsOf(picture), pieces, bottom: y + 10, lines, rows };
}

const wide = (texts: readonly string[], size: number, most = LONGEST): number =>
  Math.min(most, Math.max(24, ...texts.map((text) => widthOf(text, size))));

function columnsOf({ lines, slots }: Drawn<BusPicture>): BusColumns {
  const names = MARGIN;
  const named = lines.map(({ name }) => name);
  const contacts = names + wide(named, TEXT) + 8;
  const numbers = lines.map((line) => line.contacts);
  let x = contacts + wide(numbers, MONO) + 8;
  const used = new Set(lines.flatMap(({ ends }) => ends.map(({ gap }) => gap)));
  const cut = new Set(lines.flatMap(({ ends }) => ends.flatMap(({ gap, side }) => (side ? [gap] : []))));
  const [middles, gaps]: [number[], number[]] = [[], []];
  for (let i = 0; i <= slots.length; i++) {
    const gap = cut.has(i) ? CUT_GAP : used.has(i) ? RESISTOR_GAP : GAP;
    gaps.push(x + gap / 2);
    x += gap;
    if (i === slots.length) break;
    middles.push(x + SLOT / 2);
    x += SLOT;
  }
  const beyond = x + 10;
  return {
    names,
    contacts,
    slots: middles,
    gaps,
    beyond,
    width: Math.ceil(beyond + wide(lines.map(elsewhere), TEXT, ELSEWHERE) + MARGIN),
  };
}

/** Bold letters are broader, by this many times at most. */
const BOLD = 1.12;

/** Boards are written upwards in bold, each as long as its name. */
const headHeight = ({ slots }: Drawn<BusPicture>): number =>
  Math.ceil(Math.max(48, ...slots.map(({ board }) => Math.min(LONGEST, widthOf(board, TEXT) * BOLD))) + 26);

/** px for the names of places elsewhere: no other column is behind them. */
export const ELSEWHERE = 250;

/** Where else a line goes: as many places as have room, the others counted. */
export function elsewhere({ beyond }: Drawn<LineRow>): string {
  for (const shown of [beyond.length, 4, 3, 2]) {
    if (shown > beyond.length) continue;
    const text = listed(beyond, shown);
    if (widthOf(text, TEXT) <= ELSEWHERE) return text;
  }
  return listed(beyond, 1);
}

const listed = (places: readonly string[], shown: number): string =>
  places.slice(0, shown).join(', ') + (places.length > shown ? ` and ${places.length - shown} more` : '');
