import { type ConnectorPlan, keyPlansOf } from '../analysis/wrong-mating/plans.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Connector, Source } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { withEdits } from './edits.ts';
import { lackEdits } from './key-edits.ts';
import { agree } from './lists.ts';
import { spokenLack } from './mating-advice.ts';
import type { Finding, Rule, View } from './types.ts';

/** The fewest keys against all harm that is open, one finding a connector. What does the harm, other rules tell. */
export const keyMissing: Rule = {
  id: 'key-missing',
  severity: 'note',
  summary: 'the fewest keys that would prevent every harmful way to plug in',
  *check(view) {
    for (const lack of keyPlansOf(view.machine, wrongMatingOf(view.machine))) {
      if (lack.plan || lack.wall) yield missing(view, lack);
    }
  },
};

function missing(view: View, lack: ConnectorPlan): Finding {
  const { connector, cases, plan } = lack;
  const count = cases.length;
  return {
    rule: 'key-missing',
    severity: 'note',
    message: `${count} harmful ${agree(count, 'way', 'ways')} to plug in on ${connector.name} ${agree(count, 'is', 'are')} open: ${spokenLack(lack).join()}${plan?.groups.length === 1 ? '; no fewer keys would do' : ''}`,
    source: placeOf(view, connector),
    path: [],
    fix: doOf(lack),
    ...withEdits(lackEdits(view, lack)),
    about: [connector.name, ...(plan?.groups ?? []).flatMap(({ names }) => names)],
  };
}

/** A table that ships with the product is not what the person is looking at. */
function placeOf({ machine }: View, connector: Connector): Source {
  if (!isPublished(connector.source.file)) return connector.source;
  const user = machine.backplanes.find(({ buses }) =>
    buses.some(({ bus }) => bus.pins.connector === connector),
  );
  return user?.source ?? connector.source;
}

/** What is to be done at the bench: a key in an edge is a cut in the board, and is asked for no lighter way. */
function doOf({ connector, plan }: ConnectorPlan): string {
  if (plan === undefined) return 'fit the wall and the bumps, and write them down';
  if (connector.shape !== 'edge')
    return 'pull the pins, block the holes that face them in every plug, and write both down';
  return 'put the key into each socket and cut its slot into each tongue, and write both down; where you will not cut a board, card guides (`guides` on the `slots` line) keep it from going in turned or shifted, though they wear';
}
