import { wrongMatingOf } from '../../src/analysis/wrong-mating/wrong-mating.ts';
import type { Machine } from '../../src/machine/types.ts';
import { generatedMisfits } from '../support/generate.ts';
import { machineOf } from '../support/machine.ts';
import { referenceCases } from '../support/mating-reference.ts';

/** Runs that only let the just-in-time compiler settle, and runs that count. */
const WARM_UP = 10;
const MEASURED = 21;

/** ms for all wrong matings of a machine, each judged: ours, each time on a machine never seen before, and once by the reference. */
export function matingTimes(): { cases: number; ours: number[]; theirs: number } {
  const machineTagged = (tag: string): Machine =>
    machineOf(generatedMisfits({ slots: 20, contacts: 100, tag })).machine;
  const ours: number[] = [];
  let cases = 0;
  for (let i = 0; i < WARM_UP + MEASURED; i++) {
    const machine = machineTagged(`w${i}`);
    globalThis.gc?.({ type: 'minor' });
    const start = performance.now();
    const mating = wrongMatingOf(machine);
    const all = mating.cases();
    for (const one of all) mating.outcome(one);
    ours.push(performance.now() - start);
    cases = all.length;
  }
  const machine = machineTagged('w');
  const start = performance.now();
  const found = referenceCases(machine).length;
  const theirs = performance.now() - start;
  if (found !== cases) throw new Error(`the reference finds ${found} wrong matings, not ${cases}`);
  return { cases, ours: ours.slice(WARM_UP), theirs };
}
