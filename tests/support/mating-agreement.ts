import type { Case } from '../../src/analysis/wrong-mating/cases.ts';
import { RANKS } from '../../src/analysis/wrong-mating/harms.ts';
import { wrongMatingOf } from '../../src/analysis/wrong-mating/wrong-mating.ts';
import type { Machine } from '../../src/machine/types.ts';
import { type ReferenceCase, referenceCases } from './mating-reference.ts';
import { wayText } from './mating-reference-cases.ts';

const endName = ({ name, end }: Case['plug']): string => (end === undefined ? name : `${name} end ${end}`);

/** Names each case as the reference does. */
function keysOf(cases: readonly Case[]): string[] {
  const over = new Map<Case['plug'], number>();
  return cases.map(({ plug, also, place, way, fault }) => {
    let how = wayText(way.turned, way.shift, way.over);
    if (fault === 'exchanged') how = `exchanged with ${endName(also!)}`;
    if (fault === 'crimped turned') how = `crimped turned${also ? ` with ${endName(also)}` : ''}`;
    if (fault === 'crimped over') {
      // Both ways over are one fault; they come one after the other.
      how = `crimped over ${over.has(plug) ? -1 : 1}`;
      over.set(plug, 1);
    }
    return `${endName(plug)} at ${place.path}: ${how}`;
  });
}

const kindsOf = ({ harms }: ReferenceCase): string =>
  [...new Set([...harms].map((harm) => harm.slice(0, harm.indexOf(':'))))].sort().join(', ');

export interface Agreement {
  readonly cases: number;
  /** Kinds of harm that came up as the worst of some case. */
  readonly kinds: ReadonlySet<string>;
  /** Empty where the two agree. */
  readonly differences: readonly string[];
}

/** Holds what the product finds of all wrong matings to the reference: which there are, how bad, and, of every so many, what happens. */
export function agreementOn(machine: Machine, every = 1): Agreement {
  const { cases, outcome, harms } = wrongMatingOf(machine);
  const reference = new Map(
    referenceCases(machine).map((one) => [`${one.plug} at ${one.place}: ${one.way}`, one]),
  );
  const differences: string[] = [];
  const kinds = new Set<string>();
  const found = cases();
  keysOf(found).forEach((key, i) => {
    const theirs = reference.get(key);
    if (theirs === undefined) {
      differences.push(`${key}: no case of the reference, or twice`);
      return;
    }
    reference.delete(key);
    const { rank } = outcome(found[i]!);
    const expected = kindsOf(theirs);
    for (const kind of expected.split(', ')) kinds.add(kind);
    if (rank !== theirs.rank) {
      differences.push(`${key}: rank ${rank}, reference ${theirs.rank} (${[...theirs.harms].join('; ')})`);
    } else if (i % every === 0) {
      const worst = harms(found[i]!).filter(({ kind }) => RANKS[kind] === rank);
      const ours = [...new Set(worst.map(({ kind }) => kind))].sort().join(', ');
      if (ours !== expected)
        differences.push(
          `${key}: rank ${rank} ${ours}, reference ${expected} (${[...theirs.harms].join('; ')})`,
        );
    }
  });
  for (const key of reference.keys()) differences.push(`${key}: only in the reference`);
  return { cases: found.length, kinds, differences };
}
