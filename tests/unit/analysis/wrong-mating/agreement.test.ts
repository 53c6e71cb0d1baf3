import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { RANKS } from '../../../../src/analysis/wrong-mating/harms.ts';
import { machineFromDisk, machineOf } from '../../../support/machine.ts';
import { agreementOn } from '../../../support/mating-agreement.ts';
import { randomMachine } from '../../../support/mating-machines.ts';

const EXAMPLES = readdirSync('examples', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.pinout') && !file.endsWith('bus.pinout'))
  .sort();

/** All harms of a case take longer than its rank: they are compared on every so many. */
const EVERY = 7;

describe('a reference that joins everything anew for each case finds the same', () => {
  test.each(EXAMPLES)('on %s', (file) => {
    const { cases, differences } = agreementOn(machineFromDisk(`examples/${file}`).machine, EVERY);
    expect(cases).toBeGreaterThan(10);
    expect(differences).toEqual([]);
  });

  test('on machines thrown together by chance, in which everything that can happen does', () => {
    const seen = new Set<string>();
    for (let seed = 1; seed <= 200; seed++) {
      const text = randomMachine(seed);
      const { kinds, differences } = agreementOn(machineOf(text).machine, EVERY);
      for (const kind of kinds) seen.add(kind);
      if (differences.length > 0) expect.fail(`seed ${seed}:\n${differences.join('\n')}\n${text}`);
    }
    expect(seen).toEqual(new Set([...Object.keys(RANKS), '']));
  });
});
