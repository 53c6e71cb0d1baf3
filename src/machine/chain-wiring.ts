import { isOfChain } from './claims.ts';
import { slotsBeforeCuts } from './cuts.ts';
import type { Backplane, Bus, Chain, Instance, Rework, Slot, Source } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Leads each chain from a slot's out contact to the next slot's in contact, except at cuts, and through bridges. */
export function wireChains(wiring: Wiring, backplane: Backplane, bus: Bus, cuts: readonly Rework[]): void {
  const { joins } = wiring;
  for (const chain of bus.chains) {
    const { input, output, claim } = chain;
    const cutAfter = slotsBeforeCuts(backplane, cuts, (place) => isOfChain(place, chain));
    const cause = joins.because('chain', claim.source, claim.evidence);
    let before: Instance | undefined;
    for (const slot of backplane.slots) {
      const instance = slot.instances.find((one) => one.port.bus === bus);
      if (instance === undefined) continue;
      if (before && !cutAfter.has(slot.index - 1))
        joins.join(before.base + output, instance.base + input, cause);
      before = instance;
      const bridge = bridgeIn(slot, chain);
      if (bridge !== undefined)
        joins.join(instance.base + input, instance.base + output, joins.because('bridge', bridge));
    }
  }
}

/** Where it is said that a chain is bridged in a slot. */
function bridgeIn({ bridges, selfBridging, state, source }: Slot, chain: Chain): Source | undefined {
  const named = bridges.find(({ name }) => isOfChain(name, chain));
  return named?.source ?? (selfBridging && state === 'empty' ? source : undefined);
}
