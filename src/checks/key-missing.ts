import { wrongMatingOf } from '../analysis/wrong-mating/cases.ts';
import type { KeyPlan } from '../analysis/wrong-mating/keys.ts';
import { keyPlansOf } from '../analysis/wrong-mating/plans.ts';
import type { Connector, Source } from '../machine/types.ts';
import { withEdits } from './edits.ts';
import { keyEdits } from './key-edits.ts';
import { agree } from './lists.ts';
import { spokenPlan } from './mating-advice.ts';
import type { Finding, Rule, View } from './types.ts';

/** The fewest keys against all harm that is open, one finding a connector. What does the harm, other rules tell. */
export const keyMissing: Rule = {
  id: 'key-missing',
  severity: 'note',
  summary: 'the fewest keys that would prevent every harmful way to plug in',
  *check(view) {
    for (const { connector, plan } of keyPlansOf(view.machine, wrongMatingOf(view.machine))) {
      if (plan) yield missing(view, connector, plan);
    }
  },
};

function missing(view: View, connector: Connector, plan: KeyPlan): Finding {
  const count = plan.prevents + plan.leaves;
  return {
    rule: 'key-missing',
    severity: 'note',
    message: `${count} harmful ${agree(count, 'way', 'ways')} to plug in on ${connector.name} ${agree(count, 'is', 'are')} open: ${spokenPlan(plan)}; no fewer keys would do`,
    source: placeOf(view, connector),
    path: [],
    fix: 'put the key in, on both halves, and write it down',
    ...withEdits(keyEdits(view, plan)),
    about: [connector.name, ...plan.groups.flatMap(({ owners }) => owners.map(({ name }) => name))],
  };
}

/** A table that ships with the product is not what the person is looking at. */
function placeOf({ machine }: View, connector: Connector): Source {
  if (!connector.source.file.startsWith('published:')) return connector.source;
  const user = machine.backplanes.find(({ buses }) =>
    buses.some(({ bus }) => bus.pins.connector === connector),
  );
  return user?.source ?? connector.source;
}
