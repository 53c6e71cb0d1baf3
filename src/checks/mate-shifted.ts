import { matings } from './matings.ts';
import type { Rule } from './types.ts';

/** A board that goes in shifted along its socket, or skewed, and does harm. */
export const mateShifted: Rule = {
  id: 'mate-shifted',
  severity: 'warning',
  summary: 'a board can be put in shifted or skewed, and something is destroyed',
  check: (view) => matings('mate-shifted', view, ({ fault }) => fault === 'shifted'),
};
