import type { ClaimAt } from '../analysis/nets.ts';
import { voltsOfName } from '../machine/names.ts';
import type { Machine } from '../machine/types.ts';
import { placeOf, spokenClaim, spokenEvidence, stepsBetween } from './explain.ts';
import page from './rail-conflict.md';
import type { Finding, Rule, View } from './types.ts';

/** Two rails, or a rail and ground, on one net. One finding per pair of names on a net. */
export const railConflict: Rule = {
  id: 'rail-conflict',
  severity: 'error',
  summary: 'two rails, or a rail and ground, meet on one net',
  page,
  *check(view) {
    for (const { claims } of view.nets.views) {
      const power = claims.filter(({ claim }) => claim.kind === 'rail' || claim.kind === 'ground');
      const told = new Set<string>();
      for (let i = 1; i < power.length; i++) {
        for (let j = 0; j < i; j++) {
          const [a, b] = [power[j]!, power[i]!];
          if (sameRail(view.machine, a, b)) continue;
          const pair = [a.claim.name, b.claim.name].sort().join('\n');
          if (told.has(pair)) continue;
          told.add(pair);
          yield conflict(view, a, b);
        }
      }
    }
  },
};

/** V of a rail by its declaration, else by its name; 0 for ground. */
export function voltsOf(machine: Machine, { claim }: ClaimAt): number | undefined {
  if (claim.kind === 'ground') return 0;
  return machine.railNames.rails.get(claim.name)?.[0]?.low ?? voltsOfName(claim.name);
}

function sameRail(machine: Machine, a: ClaimAt, b: ClaimAt): boolean {
  if (a.claim.name === b.claim.name || machine.aliases.has(`${a.claim.name}\n${b.claim.name}`)) return true;
  if (a.claim.aliases.includes(b.claim.name) || b.claim.aliases.includes(a.claim.name)) return true;
  if (a.claim.kind !== 'ground' || b.claim.kind !== 'ground') return false;
  const [one, other] = [a, b].map(({ claim }) => machine.railNames.grounds.get(claim.name));
  return one !== undefined && one === other;
}

function conflict(view: View, a: ClaimAt, b: ClaimAt): Finding {
  const [u, v] = [voltsOf(view.machine, a), voltsOf(view.machine, b)];
  const grounds = a.claim.kind === 'ground' && b.claim.kind === 'ground';
  const equal = u !== undefined && u === v;
  const reversed = u !== undefined && v !== undefined && u * v < 0;
  // The claim of a card or port is the later one: it is where the text was probably written wrongly.
  const { claim } = b;
  const [left, right] = [a, b].map(
    (at) => `${spokenClaim(at.claim)} at ${placeOf(view, at.contact)} (${spokenEvidence(at.claim.evidence)})`,
  );
  const how = reversed ? ', which are of opposite sign: one is reversed' : '';
  return {
    rule: 'rail-conflict',
    severity: grounds || equal ? 'warning' : 'error',
    message: `${left} meets ${right} on one net${how}`,
    source: claim.source,
    path: stepsBetween(view, a.contact, b.contact, claim.source),
    fix:
      equal || grounds
        ? `if they are joined on purpose, say so with ${grounds ? `\`ground ${a.claim.name}, ${b.claim.name}\`` : `\`strap ${a.claim.name}, ${b.claim.name}\``}`
        : 'check both contacts with the meter before power is applied, and correct the one that is wrong',
    about: [a.claim.name, b.claim.name, a.claim.owner, b.claim.owner],
  };
}
