import { expect, test } from 'vitest';
import { machineOf } from '../../support/machine.ts';

const problems = (rail: string): string[] =>
  machineOf(`supply PSU {\n  rail ${rail}\n  ground GND\n}\n`).machine.problems.map(({ rule }) => rule);

test('a rail whose volts and name are of opposite sign', () => {
  expect(problems('-12V 12 V')).toEqual(['range-mismatch']);
  expect(problems('+16V -21.5..-14.5 V')).toEqual(['range-mismatch']);
  expect(problems('-12V -12 V')).toEqual([]);
  expect(problems('+8V 7..11 V')).toEqual([]);
  expect(problems('VCC -5 V')).toEqual([]);
});

test('a sense lead is at what it watches, and joins nothing', () => {
  const { machine } = machineOf(
    'connector H {\n  shape row 3\n}\nsupply PSU {\n  rail +5V 5 V\n  ground GND\n  sense S+ for +5V\n  sense S- for GND\n  port P1 on H {\n    1 = S+\n    2 = S-\n    3 = +5V\n  }\n}\n',
  );
  const [port] = machine.instances;
  expect(port?.pins.claims.map((claim) => claim?.kind)).toEqual(['rail', 'ground', 'rail']);
  expect(machine.railSources.map(({ rail }) => rail)).toEqual(['+5V']);
  expect(machine.nets.of[0]).not.toBe(machine.nets.of[2]);
});
