import type { Network } from './power.ts';

/** What is taken of a rail, and what its supplies are rated for. */
export interface Budget {
  /** A, of all boards that say it: a least where some do not. */
  readonly taken: number;
  /** A; undefined where nobody says it, or where a regulator feeds beside a supply: who gives what is then open. */
  readonly rated?: number;
}

export function budgetOf({ sources, loads }: Pick<Network, 'sources' | 'loads'>): Budget {
  const taken = loads.reduce((sum, { take }) => sum + (take.current ?? 0), 0);
  let rated = 0;
  for (const { kind, declared } of sources) {
    if (kind !== 'supply' || declared?.max === undefined) return { taken };
    rated += declared.max;
  }
  return sources.length === 0 ? { taken } : { taken, rated };
}
