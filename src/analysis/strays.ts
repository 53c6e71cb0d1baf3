import type { Claim, Machine } from '../machine/types.ts';
import type { NetIndex } from './nets.ts';

/** One conductor with the contacts it joins. */
interface Joined {
  readonly a: number;
  readonly b: number;
  /** Whether a twist, which is made on purpose, lies between the two. */
  readonly twisted: boolean;
  readonly agrees: boolean;
}

interface Named {
  readonly node: number;
  /** What the conductor meets at the other end. */
  readonly meets: Claim | undefined;
}

/**
 * Conductors, by their place in the list, that take a name to a spare contact, though the other end has the name on
 * another conductor and it meets itself on none; with the contact where the other end has it. Silent about names that
 * are one net by another way, and about rails and grounds that may meet themselves at a contact nobody has said.
 * Linear in the conductors, but for the contacts of one name.
 */
export function straysOf(
  machine: Machine,
  nets: NetIndex,
  conductors: readonly Joined[],
): ReadonlyMap<number, number> {
  const said = (node: number): Claim | undefined => {
    const { pins, base } = nets.instanceOf(node);
    return pins.claims[node - base];
  };
  const met = new Set<string>();
  const atA = new Map<string, Named[]>();
  const atB = new Map<string, Named[]>();
  for (const { a, b, agrees } of conductors) {
    const [one, other] = [said(a), said(b)];
    if (agrees) for (const name of [...namesOf(one), ...namesOf(other)]) met.add(name);
    note(atA, one, { node: a, meets: other });
    note(atB, other, { node: b, meets: one });
  }
  const homeOf = (
    node: number,
    here: ReadonlyMap<string, Named[]>,
    end: Claim | undefined,
    there: ReadonlyMap<string, Named[]>,
  ): number | undefined => {
    const claim = said(node);
    const names = namesOf(claim);
    if (end?.kind !== 'spare' || names.some((name) => met.has(name))) return undefined;
    const all = (map: ReadonlyMap<string, Named[]>): Named[] => names.flatMap((name) => map.get(name) ?? []);
    const homes = all(there);
    if (homes.some((one) => machine.nets.of[one.node] === machine.nets.of[node])) return undefined;
    const power = claim?.kind === 'rail' || claim?.kind === 'ground';
    if (power && [...all(here), ...homes].some(({ meets }) => isUnknown(meets))) return undefined;
    return homes[0]?.node;
  };
  const strays = new Map<number, number>();
  conductors.forEach(({ a, b, twisted }, k) => {
    if (twisted) return;
    const home = homeOf(a, atA, said(b), atB) ?? homeOf(b, atB, said(a), atA);
    if (home !== undefined) strays.set(k, home);
  });
  return strays;
}

const isUnknown = (claim: Claim | undefined): boolean => claim === undefined || claim.kind === 'unknown';

const namesOf = (claim: Claim | undefined): readonly string[] =>
  claim === undefined || claim.name === '' ? [] : [claim.name, ...claim.aliases];

function note(table: Map<string, Named[]>, claim: Claim | undefined, named: Named): void {
  for (const name of namesOf(claim)) {
    const list = table.get(name);
    if (list) list.push(named);
    else table.set(name, [named]);
  }
}
