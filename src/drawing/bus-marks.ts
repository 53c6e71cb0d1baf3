import type { Severity } from '../checks/types.ts';
import { briefAmount } from './brief.ts';
import type { MarksShown } from './bus-layout.ts';
import { markAt } from './marks.ts';
import type { Crossing, Drawn, EndMark } from './picture.ts';
import { element, escaped, label, widthOf } from './svg.ts';
import { letterOf } from './told.ts';

const FEED = 'M-12 -3H0V-6L8 0L0 6V3H-12Z';
const BOXES = {
  terminate: 'M-9 -6H9V6H-9Z',
  'pull-up': 'M-7 -6H7V6H-7ZM0 -6V-8M-2 -7L0 -9L2 -7',
  'pull-down': 'M-7 -6H7V6H-7ZM0 6V8M-2 7L0 9L2 7',
} as const;
const LETTERS = { terminate: 'T', 'pull-up': 'R', 'pull-down': 'R' } as const;

/** A resistor network as a box with a letter, a feed as an arrow, around this point; its values where one points. */
export function endAt(
  { kind, text, guess, finding }: Pick<EndMark, 'kind' | 'text' | 'guess' | 'finding'>,
  x: number,
  y: number,
): string {
  const title = text === '' ? '' : element('title', {}, escaped(`${kind} ${text}`));
  const group = { class: `end ${kind} ${guess ? 'guess' : 'said'}`, transform: `translate(${x} ${y})` };
  const ring = finding ? ringAt(finding, x, y, 26) : '';
  if (kind === 'feed')
    return element('g', group, title, element('path', { class: guess ? 'pen' : 'full', d: FEED })) + ring;
  const letter = label(LETTERS[kind], { class: 'mono', x: 0, y: 3.5, 'text-anchor': 'middle' });
  return element('g', group, title, element('path', { class: 'pen', d: BOXES[kind] }), letter) + ring;
}

/** What happens where a line meets a slot, around this point: what the marks show, the ring of a finding. */
export function crossingAt(crossing: Drawn<Crossing>, x: number, y: number, marks: MarksShown): string {
  const { finding, evidence, role } = crossing;
  // A break is a break, whatever the marks show.
  if (marks === 'role' || role === 'stops')
    return roleAt(crossing, x, y) + (finding ? ringAt(finding, x, y) : '');
  if (marks === 'evidence')
    return valueAt(letterOf(crossing), x, y, evidence === 'guess') + (finding ? ringAt(finding, x, y) : '');
  const text = amountIn(crossing, marks);
  const ring = finding ? ringAt(finding, x, y, Math.max(18, widthOf(text, VALUE_SIZE) + 5)) : '';
  return (text === '' ? '' : amountOn(text, x, y)) + ring;
}

const amountIn = ({ amps, reading }: Drawn<Crossing>, marks: 'current' | 'readings'): string =>
  marks === 'current' ? (amps === undefined ? '' : briefAmount(amps, 'A')) : (reading ?? '');

const roleAt = ({ role, evidence, biases }: Drawn<Crossing>, x: number, y: number): string =>
  (evidence === 'guess' ? guessAt(x, y) : '') +
  (role === 'open' ? '' : markAt(role, x, y, evidence === 'guess')) +
  (biases ? resistorAt(x, y) : '');

/** The broken frame around what is a guess: a small mark alone does not show that it is one. */
export const guessAt = (x: number, y: number): string =>
  element('path', { class: 'frame', d: `M${x - 7.5} ${y - 7.5}h15v15h-15Z` });

/** Beside the mark of a board that has a resistor on the line. */
export const resistorAt = (x: number, y: number): string => label('R', { class: 'mono', x: x + 9, y: y - 1 });

/** A letter in place of a mark; a guess stands in a broken frame. */
export const valueAt = (text: string, x: number, y: number, guess: boolean): string =>
  (guess ? guessAt(x, y) : '') + label(text, { class: 'value', x, y: y + 3.5, 'text-anchor': 'middle' });

/**
 * An amount on a line at this height, as figures stand on a drawing's: copper through them would pass for a sign or a
 * point.
 */
export const amountOn = (text: string, x: number, y: number): string =>
  label(text, { class: 'amount', x, y: y - 1.4, 'text-anchor': 'middle' }, AMOUNT, VALUE_SIZE);

/** px: six characters, and less than from one slot to the next. */
const AMOUNT = 36;
const VALUE_SIZE = 9;

/** Around this point, and what stands there of this width in px. */
export const ringAt = (severity: Severity, x: number, y: number, width = 18): string =>
  element('rect', { class: `ring ${severity}`, x: x - width / 2, y: y - 8.5, width, height: 17, rx: 3 });

/** Copper that leads on from neither side of a gap: two stubs, each with a bar. */
export const brokenLine = (from: number, gap: number, to: number, y: number): string =>
  `M${from} ${y}H${gap - 3}m0 -4v8M${gap + 3} ${y - 4}v8m0 -4H${to}`;

/** Where a resistor or a feed stands in a gap: beside the bars of a cut, on the side that it is on. */
export const endX = ({ side }: Pick<EndMark, 'side'>, gap: number): number =>
  side === undefined ? gap : side === 'left' ? gap - BESIDE : gap + BESIDE;

const BESIDE = 16;
