import type { NetView } from '../analysis/nets.ts';
import { drivesIt, hearsIt, type Parties } from '../analysis/parties.ts';
import { placeOf } from './explain.ts';
import { aboutOf, type LineGroup, lonelyLines, spokenUnsaid, stepsOf, type Verdict } from './line-ends.ts';
import { agree, spokenList, spokenNames } from './lists.ts';
import type { Finding, Rule, Severity, View } from './types.ts';

/** A line that somebody drives and nobody hears. */
export const lineUnheard: Rule = {
  id: 'line-unheard',
  severity: 'warning',
  summary: 'a line is driven, but nobody hears it',
  *check(view) {
    for (const group of lonelyLines(view, judge)) yield finding(view, group);
  },
};

function judge({ uses, claims }: NetView): Verdict | undefined {
  const driving = uses.filter(drivesIt);
  if (driving.length === 0) return undefined;
  // What a board says into its own ear on purpose is heard; a transceiver alone on its line talks to nobody.
  const heard = uses.some(({ card: { kind } }) => kind === 'receives' || kind === 'passes');
  if (heard) return undefined;
  const [first, ...others] = uses.filter((use) => drivesIt(use) || hearsIt(use));
  if (uses.some(hearsIt) && others.some(({ board }) => board !== first!.board)) return undefined;
  const asks = claims.some(({ claim }) => claim.wiredOr) || driving.some(({ card }) => card.kind === 'pulls');
  return { uses: driving, severity: (parties) => severityOf(parties, asks) };
}

/**
 * A request that nobody answers, or a conductor laid for one signal, is probably wrong. An output that a board offers
 * to its bus may well be of no use to the boards that are fitted: worth knowing, and no harm.
 */
const severityOf = ({ bussed }: Parties, asks: boolean): Severity => (bussed && !asks ? 'note' : 'warning');

function finding(view: View, group: LineGroup): Finding {
  const { names, boards, uses, severity, parties } = group;
  const lines = spokenNames(names);
  const many = names.length;
  const drivers = spokenList([...boards.keys()].map(({ name }) => name));
  const [place] = [...boards.values()].map((contact) => placeOf(view, contact));
  const driven = `${lines} ${agree(many, 'is', 'are')} driven by ${drivers} (${place})`;
  const it = agree(many, 'it', 'them');
  const asked = severity === 'question';
  return {
    rule: 'line-unheard',
    severity,
    message: asked
      ? `${driven}, and nobody is said to hear ${it}: ${spokenUnsaid(parties.unsaid)}`
      : `${driven}, but no other board hears ${it}`,
    source: uses[0]!.card.source,
    path: stepsOf(view, group),
    fix: asked
      ? `find who hears ${lines} and say it, or close the open lists with \`untouched rest\``
      : `look for the board that should hear ${lines}; where none needs ${it}, say so with \`allow line-unheard at ${names[0]} "reason"\``,
    about: aboutOf(group),
  };
}
