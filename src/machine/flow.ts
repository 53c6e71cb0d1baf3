import { copperAt } from './copper.ts';
import type { Keeper } from './keeper.ts';
import type { Metal } from './metal.ts';
import { Problems } from './scope.ts';
import type { Instance, Joins, Nets } from './types.ts';

/**
 * The same object as long as all stays that has a say in how current flows: the metal, what readings join, and whether
 * boards have copper where a rail is on a contact that is said to be a signal's.
 */
export function flowOf(metal: Metal, joins: Joins, nets: Nets, keeper: Keeper): object {
  const none = new Problems();
  const odd = keeper.part('odd contacts', [metal, joins], none, () => oddContacts(metal, nets));
  const copper = odd.map(({ instance, contact }) => copperAt(instance, contact));
  return keeper.part('flow', [metal, joins, ...copper], none, () => ({}));
}

interface ContactOf {
  readonly instance: Instance;
  readonly contact: number;
}

/** Contacts of boards that are said to be a signal's, on nets with a rail or ground on them. */
function oddContacts({ wiring, sources, grounds }: Metal, { of, count }: Nets): ContactOf[] {
  const hasPower = new Uint8Array(count);
  for (const { node } of [...sources, ...grounds]) hasPower[of[node]!] = 1;
  for (const { base, pins, board } of wiring.instances) {
    const taken = new Set(board?.card.takes.map(({ rail }) => rail));
    pins.claims.forEach((claim, i) => {
      if (claim === undefined) return;
      const isTaken = taken.has(claim.name) || claim.aliases.some((name) => taken.has(name));
      if (claim.kind === 'rail' || claim.kind === 'ground' || isTaken) hasPower[of[base + i]!] = 1;
    });
  }
  for (const [{ card }, names] of wiring.boardNames) {
    for (const { rail } of card.takes) {
      const node = names.get(rail);
      if (node !== undefined) hasPower[of[node]!] = 1;
    }
  }
  const odd: ContactOf[] = [];
  for (const instance of wiring.instances) {
    if (instance.board === undefined) continue;
    instance.pins.claims.forEach((claim, contact) => {
      const isSignal = claim !== undefined && claim.kind !== 'rail' && claim.kind !== 'ground';
      if (isSignal && hasPower[of[instance.base + contact]!] === 1) odd.push({ instance, contact });
    });
  }
  return odd;
}
