import { drivesIt, hearsIt } from '../analysis/parties.ts';
import { placeOf } from './explain.ts';
import { aboutOf, type LineGroup, lonelyLines, spokenUnsaid, stepsOf } from './line-ends.ts';
import { agree, spokenList, spokenNames } from './lists.ts';
import type { Finding, Rule, View } from './types.ts';

/** A line that somebody hears, nobody drives and nothing holds. */
export const lineUndriven: Rule = {
  id: 'line-undriven',
  severity: 'warning',
  summary: 'a line is heard, but nobody drives it and nothing holds it',
  *check(view) {
    const groups = lonelyLines(view, ({ uses, biasings }) => {
      if (biasings.length > 0 || uses.some(drivesIt)) return undefined;
      const heard = uses.filter(hearsIt);
      return heard.length === 0 ? undefined : { uses: heard, severity: () => 'warning' };
    });
    for (const group of groups) yield finding(view, group);
  },
};

function finding(view: View, group: LineGroup): Finding {
  const { names, boards, uses, severity, parties } = group;
  const lines = spokenNames(names);
  const many = names.length;
  const hearers = spokenList([...boards.keys()].map(({ name }) => name));
  const [place] = [...boards.values()].map((contact) => placeOf(view, contact));
  const heard = `${lines} ${agree(many, 'is', 'are')} heard by ${hearers} (${place})`;
  const it = agree(many, 'it', 'them');
  const asked = severity === 'question';
  return {
    rule: 'line-undriven',
    severity,
    message: asked
      ? `${heard}, and nobody is said to drive ${it}: ${spokenUnsaid(parties.unsaid)}`
      : `${heard}, but no board drives ${it} and no resistor holds ${it}: ${agree(many, 'the input floats', 'the inputs float')}`,
    source: uses[0]!.card.source,
    path: stepsOf(view, group),
    fix: asked
      ? `find what drives ${lines} and say it, or close the open lists with \`untouched rest\``
      : `look for what should drive ${lines}: an empty socket, a missing board, an open jumper; a line meant to rest needs a pull-up`,
    about: aboutOf(group),
  };
}
