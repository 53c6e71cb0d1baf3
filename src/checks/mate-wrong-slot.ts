import { matings } from './matings.ts';
import type { Rule } from './types.ts';

/** A board that fits a slot it is not made for, and does harm there. */
export const mateWrongSlot: Rule = {
  id: 'mate-wrong-slot',
  severity: 'warning',
  summary: 'a board fits a slot that is not its own, and something is destroyed',
  check: (view) =>
    matings('mate-wrong-slot', view, ({ plug, fault }) => plug.kind === 'board' && fault === 'wrong place'),
};
