import { matings } from './matings.ts';
import type { Rule } from './types.ts';

/** A board that goes into a slot turned, and does harm there. */
export const mateTurned: Rule = {
  id: 'mate-turned',
  severity: 'warning',
  summary: 'a board can be put in turned, and something is destroyed',
  check: (view) =>
    matings('mate-turned', view, ({ plug, fault }) => plug.kind === 'board' && fault === 'turned'),
};
