import { type Short, shortsOf } from '../analysis/readings.ts';
import type { Reading } from '../machine/types.ts';
import { claimOf, placeOf, spokenAmount, spokenEvidence, stepAt } from './explain.ts';
import { readingStep } from './readings.ts';
import type { Finding, Rule, View } from './types.ts';

/** A cold reading between rails that would draw more than their supply is rated for. One finding per pair of nets. */
export const readingShort: Rule = {
  id: 'reading-short',
  severity: 'error',
  summary: 'a reading between two rails, or a rail and ground, is below what the rail can bear',
  *check(view) {
    for (const short of shortsOf(view.machine, view.nets)) yield finding(view, short);
  },
};

function finding(view: View, short: Short): Finding {
  const { from, to, volts, rated, ohms, limit } = short;
  const [lowest, ...others] = short.readings as readonly [Reading, ...Reading[]];
  const place = (node: number, name: string, text: string): string => {
    const claim = claimOf(view, node);
    if (claim) return `${name} at ${placeOf(view, node)} (${spokenEvidence(claim.evidence)})`;
    return text.endsWith(name) ? text : `${name} at ${text}`;
  };
  const back = others.find(
    (one) => view.machine.nets.of[one.from] === view.machine.nets.of[lowest.to] && one.ohms !== undefined,
  );
  const other = back ? ` (${spokenAmount(back.ohms!, 'ohm')} with the leads exchanged)` : '';
  const current = ohms === 0 ? 'more current than the meter can tell' : spokenAmount(volts / ohms, 'A');
  return {
    rule: 'reading-short',
    severity: 'error',
    message:
      `${place(lowest.from, from.name, lowest.fromText)} to ${place(lowest.to, to.name, lowest.toText)} reads ${spokenAmount(lowest.ohms!, 'ohm')}${other}, ` +
      `of which ${spokenAmount(lowest.ohms! - ohms, 'ohm')} are leads: ${spokenAmount(volts, 'V')} would draw ${current}, ` +
      `where ${spokenAmount(rated, 'A')} is the rating and ${spokenAmount(limit, 'ohm')} the least there may be`,
    source: lowest.source,
    path: [
      stepAt(view, lowest.from, lowest.source),
      stepAt(view, lowest.to, lowest.source),
      ...others.slice(0, 6).map(readingStep),
    ],
    fix: 'leave power off: pull boards and lift the feed one by one until the reading rises, and mend what was pulled last',
    about: [from.name, to.name, lowest.fromText, lowest.toText],
  };
}
