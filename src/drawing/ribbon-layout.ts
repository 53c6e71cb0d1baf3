import type { Drawn } from './picture.ts';
import type { DrawnConductor, DrawnEnd, Met, RibbonPicture } from './ribbon-picture.ts';
import { widthOf } from './svg.ts';
import { VERDICTS_SAY } from './verdicts.ts';

/** px */
export const ROW = 20;
export const TEXT = 11;
const GAP = 110;
const NUMBER = 28;
const WIDEST = 230;
const LONGEST = 320;
const NARROWEST = 90;
/** Between the parts of a cell. */
export const SPACE = 6;
const LETTER = 12;
const BOX_LEAST = 22;
const BOX_MOST = 150;

/** Where one end's column stands, in px. */
export interface EndColumn {
  readonly x: number;
  readonly width: number;
  readonly box: number;
  /** px for names. */
  readonly room: number;
}

export interface RibbonLayout {
  readonly numbers: number;
  readonly columns: readonly EndColumn[];
  /** Facts of each end, in lines over its column. */
  readonly heads: readonly (readonly string[])[];
  readonly head: number;
  /** Where what is wrong is told, and where that ends. */
  readonly words: number;
  readonly right: number;
  /** Place (from 0) of each conductor at each end. */
  readonly places: readonly (readonly number[])[];
}

/** What is written in a contact's mark: at a cable's wires the whole place. */
export const markText = ({ kind }: Drawn<RibbonPicture>, { label, place }: Drawn<Met>): string =>
  kind === 'cable' ? place : label;

export function ribbonLayout(picture: Drawn<RibbonPicture>, margin: number): RibbonLayout {
  const { ends, conductors, kind } = picture;
  const heads = ends.map((end, e) => {
    const first = conductors[end.order[0] ?? 0]?.meets[e]?.label;
    return headOf(end, kind, first ?? '1');
  });
  let x = margin + NUMBER;
  const columns = ends.map((_, e): EndColumn => {
    const met = conductors.flatMap(({ meets }) => meets[e] ?? []);
    const wide = (texts: readonly string[]): number =>
      Math.max(0, ...texts.map((text) => widthOf(text, TEXT)));
    const box = Math.min(
      BOX_MOST,
      Math.max(BOX_LEAST, ...met.map((one) => widthOf(markText(picture, one), 9) + 8)),
    );
    const names = Math.min(WIDEST, wide(met.map(nameOf)));
    const inside = box + names + LETTER + 4 * SPACE;
    const width = Math.min(WIDEST + box, Math.max(NARROWEST, inside, wide(heads[e]!) + SPACE));
    const column = { x, width, box, room: width - box - LETTER - 4 * SPACE };
    x += width + GAP;
    return column;
  });
  const words = x - GAP + 24;
  const told = Math.max(0, ...conductors.map((one) => widthOf(wordsOf(one, ends, kind), TEXT)));
  return {
    numbers: margin,
    columns,
    heads,
    head: 15 * Math.max(0, ...heads.map(({ length }) => length)) + 6,
    words,
    right: words + Math.min(LONGEST, told),
    places: ends.map(({ order }) => {
      const places: number[] = [];
      order.forEach((conductor, place) => {
        places[conductor] = place;
      });
      return places;
    }),
  };
}

export const nameOf = ({ name, state }: Drawn<Met>): string =>
  state === 'there' ? name : `${name} (${state})`;

/** What is said of an end, over its column; `first` is the contact that the stripe is drawn at. */
function headOf(end: Drawn<DrawnEnd>, kind: RibbonPicture['kind'], first: string): string[] {
  const { place, known, connector, stripe, turned, bump, shroud, keys, unplugged, along } = end;
  if (kind === 'cable') return [place, connector];
  if (!known) return [place, 'end unknown'];
  return [
    place,
    connector,
    ...(stripe === undefined
      ? ['STRIPE NOT SAID', `drawn as if at ${first}`]
      : [`stripe at ${stripe}${turned ? ': turned' : ''}`]),
    [bump ? 'bump' : '', shroud === 'notch' ? 'notch' : '', keys.length > 0 ? `key ${keys.join(', ')}` : '']
      .filter((one) => one !== '')
      .join(', ') || 'no key said',
    along === undefined ? '' : `${Number(along.toPrecision(4))} mm along`,
    unplugged ? 'UNPLUGGED' : '',
  ].filter((line) => line !== '');
}

/** `crossed at DISPLAY.J1`; empty where nothing is wrong. */
export function wordsOf(
  { meets }: Drawn<DrawnConductor>,
  ends: readonly Drawn<DrawnEnd>[],
  kind: RibbonPicture['kind'],
): string {
  return meets
    .flatMap((met, e) =>
      met?.verdict ? `${VERDICTS_SAY[met.verdict]}${kind === 'ribbon' ? ` at ${ends[e]!.place}` : ''}` : [],
    )
    .join(', ');
}
