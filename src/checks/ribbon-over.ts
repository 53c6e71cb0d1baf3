import { matings } from './matings.ts';
import type { Rule } from './types.ts';

/** A ribbon or harness that can be plugged in one row or a contact over, and does harm. */
export const ribbonOver: Rule = {
  id: 'ribbon-over',
  severity: 'warning',
  summary: 'a ribbon, cable or harness can be plugged in a row or a contact over, and does harm',
  check: (view) => matings('ribbon-over', view, ({ fault }) => fault === 'over'),
};
