import { expect, test } from 'vitest';
import { findingsOf, lineAt } from '../../support/machine.ts';
import { rack } from './rail-machine.ts';

test('a rail or ground of a supply is explained by its own line', () => {
  const text = rack({
    supply: 'supply PSU {\n  rail +5V 5 V by meter 2026-05-02\n  rail +12V 12 V\n  ground GND\n}',
    plane: '  feed GND from PSU at 1\n  feed +5V from PSU at 2\n  feed +12V from PSU at 2',
  });
  const steps = findingsOf(text).flatMap(({ path }) => path);
  const at = (contact: string) => {
    const step = steps.find((one) => one.contact === contact);
    return step && [step.signal, step.evidence, lineAt(text, step.source.from)];
  };
  expect(at('PSU.+5V')).toEqual(['+5V', 'meter 2026-05-02', 3]);
  expect(at('PSU.+12V')).toEqual(['+12V', 'not said', 4]);
});
