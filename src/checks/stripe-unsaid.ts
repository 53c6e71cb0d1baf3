import { edit, saying } from './edits.ts';
import type { Rule } from './types.ts';

/** A ribbon end of which nobody says how it is turned. */
export const stripeUnsaid: Rule = {
  id: 'stripe-unsaid',
  severity: 'question',
  summary: 'a ribbon end at a known port does not say which contact the stripe meets',
  *check({ machine }) {
    for (const { name, kind, rigid, ends } of machine.ribbons) {
      if (kind !== 'ribbon' || rigid) continue;
      for (const { instance, stripe, unplugged, source } of ends) {
        if (instance === undefined || stripe !== undefined) continue;
        const { labels, conductors } = instance.pins.connector;
        const [first, last] = [labels[conductors?.[0] ?? 0], labels[conductors?.at(-1) ?? labels.length - 1]];
        const meets = unplugged ? 'belongs to' : 'is in';
        yield {
          rule: 'stripe-unsaid',
          severity: 'question',
          message: `an end of ribbon ${name} ${meets} ${instance.path}, but nobody says whether its stripe meets contact ${first} or ${last}`,
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
