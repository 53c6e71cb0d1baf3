import { busPlaces, columnBeyond } from '../drawing/bus-places.ts';
import { busSheet, busSvg, type DrawnPiece } from '../drawing/bus-svg.ts';
import { connectorSheet, connectorSvg, hindered } from '../drawing/connector-svg.ts';
import { facePlaces } from '../drawing/face-places.ts';
import { type Cell, columnOf, HEAD } from '../drawing/picture.ts';
import type { Place } from '../drawing/places.ts';
import { ribbonPlaces } from '../drawing/ribbon-places.ts';
import { ribbonSheet, ribbonSvg } from '../drawing/ribbon-svg.ts';
import type { Sheet } from '../drawing/svg.ts';
import type { Shown } from '../drawing/to-page.ts';
import { whatIfPlaces } from '../drawing/what-if-places.ts';
import { whatIfSheet, whatIfSvg } from '../drawing/what-if-svg.ts';
import type { State } from './state.ts';

/** A drawing as a page shows it: in pieces, with what can be pointed at. */
export interface Scene {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  /** px from the top that stay in sight while the rest is scrolled. */
  readonly head: number;
  readonly pieces: readonly DrawnPiece[];
  readonly places: readonly Place[];
}

export type Look = Pick<State, 'marks' | 'filter' | 'side' | 'scale'>;

export function sceneOf(shown: Shown, look: Look): Scene {
  if (shown.view === 'bus') {
    const { layout, ...sheet } = busSheet(shown.picture, look);
    const head = layout.pieces.find(({ kind }) => kind === 'head')!;
    return { ...sheet, head: head.top + head.height, places: busPlaces(shown.picture, layout) };
  }
  if (shown.view === 'connector') {
    const sheet = connectorSheet(shown.picture, fitting(shown.picture, look));
    return { ...whole(sheet), places: facePlaces(shown.picture, sheet) };
  }
  if (shown.view === 'what-if') {
    const sheet = whatIfSheet(shown.picture);
    return { ...whole(sheet), places: whatIfPlaces(shown.picture, sheet) };
  }
  const sheet = ribbonSheet(shown.picture);
  return { ...whole(sheet), places: ribbonPlaces(shown.picture, sheet) };
}

/** A drawing that is one piece. */
const whole = ({ name, width, height, content }: Sheet) => ({
  name,
  width,
  height,
  head: 0,
  pieces: [{ top: 0, height, svg: content.join('') }],
});

/** The drawing as a file: the very text that the command line writes. */
export function fileOf(shown: Shown, look: Look): string {
  if (shown.view === 'bus') return busSvg(shown.picture, look);
  if (shown.view === 'connector') return connectorSvg(shown.picture, fitting(shown.picture, look));
  return shown.view === 'what-if' ? whatIfSvg(shown.picture) : ribbonSvg(shown.picture);
}

/** Life-size only where the pitch is known. */
const fitting = (picture: Extract<Shown, { view: 'connector' }>['picture'], { side, scale }: Look) =>
  hindered(picture, { side, scale }) === undefined ? { side, scale } : { side, scale: 'reading' as const };

/** Why a connector is not drawn as it is asked for. */
export const hindrance = (shown: Shown, { side, scale }: Look): string | undefined =>
  shown.view === 'connector' ? hindered(shown.picture, { side, scale }) : undefined;

/**
 * Where a cell of one version of a drawing is in the next: its line may stand elsewhere now, or its slot. Undefined where
 * it is gone.
 */
export function followed(cell: Cell, before: Shown, now: Shown): Cell | undefined {
  if (before.view !== 'bus' || now.view !== 'bus') return before.view === now.view ? cell : undefined;
  const row = cell.row < 0 ? cell.row : at(before.picture.lines, now.picture.lines, cell.row, nameOfLine);
  const gap = cell.column % 2 === 0 || cell.column < 0;
  const column = gap
    ? cell.column
    : columnOf(at(before.picture.slots, now.picture.slots, (cell.column - 1) / 2, ({ label }) => label));
  // What lies behind the slots moves with their count.
  const beyond = cell.column === columnBeyond(before.picture) ? columnBeyond(now.picture) : column;
  return row === GONE || beyond < HEAD ? undefined : { row, column: beyond };
}

const GONE = -2;

const nameOfLine = ({
  name,
  contacts,
}: Extract<Shown, { view: 'bus' }>['picture']['lines'][number]): string => `${name} ${contacts}`;

function at<One>(
  before: readonly One[],
  now: readonly One[],
  index: number,
  name: (one: One) => string,
): number {
  const one = before[index];
  if (one === undefined) return GONE;
  const same = now[index];
  if (same !== undefined && name(same) === name(one)) return index;
  const found = now.findIndex((other) => name(other) === name(one));
  // A name that is typed anew stays in its place.
  return found >= 0 ? found : now.length === before.length ? index : GONE;
}
