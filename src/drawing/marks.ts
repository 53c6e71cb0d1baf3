import type { Role } from './picture.ts';
import { element } from './svg.ts';

/**
 * The marks of a bus picture, each around its own middle, within 12 by 12 px. Each has a shape of its own, so that none
 * needs its colour. `line` is drawn with a pen, `fill` is solid; a guess is drawn open, with a broken pen.
 */
interface Mark {
  readonly paths: readonly { readonly d: string; readonly solid: boolean }[];
  readonly says: string;
}

const pen = (d: string): Mark['paths'][number] => ({ d, solid: false });
const solid = (d: string): Mark['paths'][number] => ({ d, solid: true });

export const MARKS: Readonly<Record<Exclude<Role, 'open'>, Mark>> = {
  takes: { paths: [solid('M-5 -4H5L0 5Z')], says: 'takes power' },
  makes: { paths: [solid('M-5 4H5L0 -5Z')], says: 'makes this rail' },
  ground: { paths: [pen('M-5 -2H5M-3 1H3M-1 4H1')], says: 'ground' },
  drives: { paths: [solid('M-4 -5L5 0L-4 5Z')], says: 'drives' },
  receives: { paths: [pen('M4 -5L-5 0L4 5Z')], says: 'receives' },
  both: { paths: [solid('M0 -5.5L0 5.5L5.5 0Z'), pen('M0 -5.5L-5.5 0L0 5.5')], says: 'drives and receives' },
  pulls: { paths: [pen('M-4.5 -4H4.5M0 -4V1'), solid('M-3 1H3L0 5.5Z')], says: 'pulls low' },
  holds: { paths: [pen('M-5.5 0H-4L-3 -3L-1 3L1 -3L3 3L4 0H5.5')], says: 'holds it by a resistor' },
  starts: { paths: [solid('M-5 -5H-2V5H-5ZM0 -4L5 0L0 4Z')], says: 'starts the chain' },
  passes: { paths: [pen('M-5.5 3C-5.5 -5 5.5 -5 5.5 3')], says: 'passes the chain on' },
  bridge: { paths: [pen('M-5.5 3V-3H5.5V3')], says: 'bridged' },
  stops: { paths: [pen('M-4 -4L4 4M-4 4L4 -4')], says: 'the chain stops' },
  unknown: { paths: [pen('M-3 -2.5A3 3 0 1 1 0 1V2.2M0 4.4V5.4')], says: 'nobody has said' },
  untouched: { paths: [pen('M-1.5 0A1.5 1.5 0 1 0 1.5 0A1.5 1.5 0 1 0 -1.5 0Z')], says: 'untouched' },
};

/** A mark at this place; `guess` draws it open and broken, whatever colours are there. */
export function markAt(role: Exclude<Role, 'open'>, x: number, y: number, guess: boolean): string {
  const { paths } = MARKS[role];
  const kind = guess ? 'guess' : 'said';
  return element(
    'g',
    { class: `mark ${role} ${kind}`, transform: `translate(${x} ${y})` },
    ...paths.map(({ d, solid: full }) => element('path', { class: full && !guess ? 'full' : 'pen', d })),
  );
}
