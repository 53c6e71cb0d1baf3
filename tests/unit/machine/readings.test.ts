import { describe, expect, test } from 'vitest';
import { apart, continuity } from '../../../src/machine/readings.ts';
import type { Reading } from '../../../src/machine/types.ts';
import { findingsOf, machineOf } from '../../support/machine.ts';

const machine = (readings: string, header = 'power off leads 0.1 ohm'): string => `
pinout 1
supply PSU {
  rail +5V 5 V
  rail +12V 12 V
  ground GND
}
supply AUX {
  rail +24V 24 V
}
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1 = GND
  2 = +5V
  3 = D0
  4 = D1
  5..8 = unknown
}
backplane CAGE {
  slots 1..2 on B
  feed GND from PSU at 1
  feed +5V from PSU at 2
}
card RAM {
  edge on B
  takes +5V 1 A
  makes -5V from +5V
}
fitted CAGE {
  1 = RAM
}
readings 2026-05-02 ${header} {
  ${readings}
}`;

const readingOf = (line: string, header?: string): Reading =>
  machineOf(machine(line, header)).machine.readings[0]!;

/** Whether the two places of the reading are on one net. */
const joined = (line: string): boolean => {
  const { nets, readings } = machineOf(machine(line)).machine;
  return nets.of[readings[0]!.from] === nets.of[readings[0]!.to];
};

describe('what a reading says', () => {
  test.each([
    ['CAGE.1.3 to CAGE.1.5 = 2.1 ohm', false, true],
    ['CAGE.1.3 to CAGE.1.5 = 2.2 ohm', false, false],
    ['CAGE.1.3 to CAGE.1.5 = 0.4 ohm', true, true],
    ['CAGE.1.3 to CAGE.1.5 = 0.5 ohm', true, false],
    ['CAGE.1.3 to CAGE.1.5 = open', false, false],
    ['CAGE.1.3 to CAGE.1.5 = 0.1 ohm diode', false, false],
    ['CAGE.1.3 to CAGE.1.5 = 0.1 V', false, false],
  ])('%s, rails %s: joined %s', (line, rails, expected) => {
    expect(continuity(readingOf(line), rails)).toBe(expected);
  });

  test.each([
    ['CAGE.1.3 to CAGE.1.5 = open', true],
    ['CAGE.1.3 to CAGE.1.5 = 101 ohm', true],
    ['CAGE.1.3 to CAGE.1.5 = 100 ohm', false],
    ['CAGE.1.3 to CAGE.1.5 = open diode', false],
    ['CAGE.1.3 to CAGE.1.5 = 5 V', false],
  ])('%s: apart %s', (line, expected) => {
    expect(apart(readingOf(line))).toBe(expected);
  });

  test('with power on, resistance says nothing', () => {
    expect(continuity(readingOf('CAGE.1.3 to CAGE.1.5 = 0.1 ohm', 'power on'), false)).toBe(false);
    expect(apart(readingOf('CAGE.1.3 to CAGE.1.5 = open', 'power on'))).toBe(false);
  });
});

describe('what a reading joins', () => {
  test.each(['CAGE.1.3 to CAGE.1.5 = 1 ohm', 'CAGE.1.5 to CAGE.2.6 = 1 ohm', 'CAGE.1.5 to +24V = 0.2 ohm'])(
    '%s',
    (line) => expect(joined(line)).toBe(true),
  );

  test.each([
    ['two signals', 'CAGE.1.3 to CAGE.1.4 = 0.2 ohm'],
    ['a rail and ground', 'CAGE.1.2 to CAGE.1.1 = 0.2 ohm'],
    ['a rail, and a supply that nothing is fed from', 'CAGE.1.2 to AUX.+24V = 0.2 ohm'],
    ['what a regulator makes, and ground', 'RAM.-5V to CAGE.1.1 = 0.2 ohm'],
    ['a signal and a rail nobody feeds', 'CAGE.1.3 to PSU.+12V = 0.2 ohm'],
  ])('not %s', (_, line) => expect(joined(line)).toBe(false));

  test('what is not joined for its names is a finding', () => {
    expect(findingsOf(machine('CAGE.1.2 to AUX.+24V = 0.2 ohm')).map(({ rule }) => rule)).toContain(
      'reading-contradicts',
    );
  });
});
