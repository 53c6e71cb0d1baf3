import { matings } from './matings.ts';
import type { Rule } from './types.ts';

/** A ribbon or harness that fits a port it does not belong to, and does harm there. */
export const ribbonWrongPort: Rule = {
  id: 'ribbon-wrong-port',
  severity: 'warning',
  summary: 'a ribbon, cable or harness fits a port it does not belong to, and does harm',
  check: (view) =>
    matings(
      'ribbon-wrong-port',
      view,
      ({ plug, fault }) => plug.kind !== 'board' && (fault === 'wrong place' || fault === 'exchanged'),
    ),
};
