import type { Claim, Machine, PinMap } from '../machine/types.ts';

/** How much is known of the contacts of a table. */
export interface Tally {
  readonly contacts: number;
  /** Said to be something: a line, a rail, spare, private. */
  readonly known: number;
  /** Said to be unknown. */
  readonly unknown: number;
  /** Of which nothing is said. */
  readonly unsaid: number;
}

/** What is known of each contact of a table; an edge's includes what it takes over from its bus. */
export const tallyOf = ({ claims }: PinMap): Tally => tally(claims);

/**
 * The same of all tables in the machine's files: buses, and ports of cards, backplanes and supplies, each once however
 * many of it there are.
 */
export function machineTally(machine: Machine): Tally {
  const { buses, cards, backplanes, supplies } = machine;
  const ports = [...cards, ...backplanes, ...supplies].flatMap((owner) => owner.ports);
  return tally([...buses, ...ports].flatMap(({ pins }) => pins.claims));
}

function tally(claims: readonly (Claim | undefined)[]): Tally {
  let [known, unknown] = [0, 0];
  for (const claim of claims) {
    if (claim?.kind === 'unknown') unknown++;
    else if (claim !== undefined) known++;
  }
  return { contacts: claims.length, known, unknown, unsaid: claims.length - known - unknown };
}

/** Percent of the contacts that are known; 100 only where all are. */
export const percentKnown = ({ contacts, known }: Tally): number =>
  contacts === 0 ? 100 : Math.floor((known / contacts) * 100);
