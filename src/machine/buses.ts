import { items, subjects } from '../language/tree.ts';
import { type Lookup, unknown } from './cards.ts';
import { readTable } from './claims.ts';
import { inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Bus, Claim } from './types.ts';

/** A bus together with what holds in some of its slots only. */
export interface BusTable {
  readonly bus: Bus;
  readonly inSlots: readonly { readonly contact: number; readonly claim: Claim }[];
}

export function buildBus(
  said: Said,
  lookup: Pick<Lookup, 'connectors' | 'rails'>,
  problems: Problems,
): BusTable | undefined {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const on = items(statement, 'on')[0];
  const connector = on && lookup.connectors.get(on.first);
  if (connector === undefined) {
    if (on)
      problems.add(
        'name-unknown',
        sourceOf(said, on),
        unknown('connector', on.first, [...lookup.connectors.keys()]),
      );
    return undefined;
  }
  const { pins, chains, inSlots } = readTable(inside(said), connector, name, lookup.rails, problems);
  const taken = { ...pins, own: [] };
  return { bus: { name, pins, taken, chains, source: sourceOf(said) }, inSlots };
}
