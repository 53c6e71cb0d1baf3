import { written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { element, escaped } from './svg.ts';
import { HARM_LETTERS, type Weight } from './what-if-harms.ts';
import type { DrawnHarm } from './what-if-picture.ts';

/** px: half the width of a mark. */
export const MARK = 9;

/** A shape for each weight, around its middle; the heavier, the fuller. */
const SHAPES: Readonly<Record<Weight, { readonly d: string; readonly full: boolean }>> = {
  destroys: { d: 'M-9 0L-5 -8H5L9 0L5 8H-5Z', full: true },
  shorts: { d: 'M0 -9L9 0L0 9L-9 0Z', full: true },
  strains: { d: 'M-8 -7H8V7H-8Z', full: false },
  harmless: { d: 'M-7 0A7 7 0 1 0 7 0A7 7 0 1 0 -7 0Z', full: false },
};

/** Where nobody can judge what two contacts that meet do to each other: no shape of a harm, and no line without a mark. */
export const unknownMark = (x: number, y: number): string => {
  const d = 'M-9 7L0 -9L9 7Z';
  return element(
    'g',
    { class: 'harm unjudged', transform: `translate(${x} ${y})` },
    element('title', {}, CANNOT_BE_JUDGED),
    element('path', { class: 'halo', d }),
    element('path', { class: 'pen', d }),
    written('?', 0, 5, { class: 'letter', anchor: 'middle', size: 10 }),
  );
};

export const CANNOT_BE_JUDGED = 'cannot be judged: not all there is known';

/** What happens where two contacts meet: its shape says how bad it is, its letter what it is. */
export function harmMark(
  { kind, weight, says }: Pick<Drawn<DrawnHarm>, 'kind' | 'weight' | 'says'>,
  x: number,
  y: number,
): string {
  const { d, full } = SHAPES[weight];
  return element(
    'g',
    { class: `harm ${weight}`, transform: `translate(${x} ${y})` },
    element('title', {}, escaped(says)),
    element('path', { class: 'halo', d }),
    element('path', { class: full ? 'full' : 'pen', d }),
    written(HARM_LETTERS[kind], 0, 3.5, { class: 'letter', anchor: 'middle', size: 10 }),
  );
}

/** A cross through what does not come about. */
export const crossMark = (x: number, y: number, says: string): string =>
  element(
    'g',
    { class: 'stands', transform: `translate(${x} ${y})` },
    element('title', {}, escaped(says)),
    element('path', { class: 'halo', d: 'M-5 -5L5 5M-5 5L5 -5' }),
    element('path', { class: 'pen', d: 'M-5 -5L5 5M-5 5L5 -5' }),
  );
