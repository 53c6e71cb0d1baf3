import { isHarmful, wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Ribbon } from '../machine/types.ts';
import { edit, saying } from './edits.ts';
import { spokenHarm } from './spoken-mating.ts';
import type { Rule, View } from './types.ts';

/** A ribbon end of which nobody says how it is turned. */
export const stripeUnsaid: Rule = {
  id: 'stripe-unsaid',
  severity: 'question',
  summary: 'a ribbon end at a known port does not say which contact the stripe meets',
  *check(view) {
    for (const ribbon of view.machine.ribbons) {
      const { name, kind, rigid, ends } = ribbon;
      if (kind !== 'ribbon' || rigid) continue;
      for (const [end, { instance, stripe, unplugged, source }] of ends.entries()) {
        if (instance === undefined || stripe !== undefined) continue;
        const { labels, conductors } = instance.pins.connector;
        const [first, last] = [labels[conductors?.[0] ?? 0], labels[conductors?.at(-1) ?? labels.length - 1]];
        const meets = unplugged ? 'belongs to' : 'is in';
        yield {
          rule: 'stripe-unsaid',
          severity: 'question',
          message: `an end of ribbon ${name} ${meets} ${instance.path}, but nobody says whether its stripe meets contact ${first} or ${last}${otherwise(view, ribbon, end)}`,
          source,
          path: [{ contact: instance.path, signal: name, evidence: 'not said', source }],
          fix: `look which end of ${instance.path} the stripe is at, and write \`stripe ${first}\` or \`stripe ${last}\``,
          edits: [first, last].map((label) =>
            edit(`write \`stripe ${label}\``, saying(source, { stripe: `stripe ${label}` })),
          ),
          about: [name, instance.path],
        };
      }
    }
  },
};

/** What is destroyed if the connector is turned on the ribbon: why the stripe is worth a look. */
function otherwise({ machine }: View, ribbon: Ribbon, end: number): string {
  const wrong = wrongMatingOf(machine);
  const turned = wrong
    .open()
    .find(
      ({ plug, fault, also }) =>
        plug.ribbon === ribbon && plug.end === end && fault === 'crimped turned' && also === undefined,
    );
  if (turned === undefined || !isHarmful(turned, wrong.outcome(turned))) return '';
  return `; if it is the other way round than taken here, ${spokenHarm(wrong.worst(turned)!)}`;
}
