import { describe, expect, test } from 'vitest';
import { dropOver } from '../../src/analysis/drop.ts';
import { awgResistance } from '../../src/knowledge/wire.ts';
import { findingsOf } from '../support/machine.ts';

/** Ohm per 1000 ft of a solid wire. */
const perThousandFeet = (awg: number): number => awgResistance(awg) * 304.8;

describe('wire', () => {
  // NBS Handbook 100, Copper Wire Tables: Ω per 1000 ft at 20 °C.
  test.each([
    [22, 16.14],
    [24, 25.67],
    [28, 64.9],
  ])('%i AWG is %f Ω per 1000 ft', (awg, ohms) => {
    expect(Math.abs(perThousandFeet(awg) / ohms - 1)).toBeLessThan(0.002);
  });
});

describe('drop over equal paths', () => {
  // I·(R_contact + R_conductor + R_contact)/n: common practice, no source.
  test('2 A over 4 conductors of 300 mm 28 AWG with 20 mΩ contacts', () => {
    const conductor = awgResistance(28) * 0.3;
    expect(dropOver(2, 4, 0.02, conductor, 0.02)).toBeCloseTo((2 * (0.04 + 0.0639)) / 4, 3);
  });

  // Supply of 74 and 74LS: 4.75 V to 5.25 V (Fairchild DM7402, DM74LS00).
  test('5 V less 2 % leaves 150 mV to 4.75 V', () => {
    const at = (milliohm: string): string[] => findingsOf(slot(milliohm)).map(({ rule }) => rule);
    // 1 A through one contact there and one back: 74 mΩ lose 148 mV, 76 mΩ lose 152 mV.
    expect(at('74 mohm')).not.toContain('rail-drop');
    expect(at('76 mohm')).toContain('rail-drop');
  });
});

const slot = (resistance: string): string => `pinout 1
supply PSU {
  rail +5V 5 V 2 %
  ground GND
}
connector E4 {
  shape edge 1 x 4
  contact 3 A ${resistance}
}
bus B on E4 {
  1 = GND by meter
  2 = +5V by meter
  3 = /RD by trace
}
backplane CAGE {
  slots 1..2 on B
  feed GND from PSU at 1 by "lugs"
  feed +5V from PSU at 2 by "lugs"
}
card RAM {
  edge on B
  takes +5V 1 A
  receives /RD with 74LS
}
fitted CAGE {
  1 = RAM
}
`;

describe('regulators', () => {
  const severities = (input: string, make: string): string[] =>
    findingsOf(`pinout 1
supply PSU {
  rail IN ${input}
  ground GND
}
connector E4 {
  shape edge 1 x 4
}
bus B on E4 {
  1 = GND by meter
  2 = IN by meter
}
backplane CAGE {
  slots 1..2 on B
  feed GND from PSU at 1 by "lugs"
  feed IN from PSU at 2 by "lugs"
}
card RAM {
  edge on B
  takes IN 500 mA
  ${make}
}
fitted CAGE {
  1 = RAM
}
`)
      .filter(({ rule }) => rule === 'regulator-wrong')
      .map(({ severity }) => severity);

  // LM340 data sheet (National/TI SNOSBT0): input 7.5 V to 35 V for 5 V, 2 V drop-out at 1 A. IEEE 696: +8 V falls to 7 V.
  test.each([
    ['6.9 V', ['error']],
    ['7..11 V', ['note']],
    ['7.4 V', ['note']],
    ['7.5 V', []],
    ['35 V', []],
    ['36 V', ['error']],
  ])('LM340-5 from %s', (input, expected) => {
    expect(severities(input, 'makes +5V from IN with LM340-5')).toEqual(expected);
  });

  // IEEE 696: ±16 V is 14.5 V to 21.5 V. LM79XX (National DS007340): 1.1 V across a 7912 at 1 A.
  test.each([
    ['-21.5..-14.5 V', []],
    ['-13.2 V', ['note']],
    ['-13 V', ['error']],
  ])('7912 from %s', (input, expected) => {
    expect(severities(input, 'makes -12V from IN with 7912')).toEqual(expected);
  });

  // Polarity and output from the number: 78 positive, 79 negative, two digits of volts (common practice, no source).
  test.each([
    ['15 V', 'makes +5V from IN with 7905', ['error']],
    ['-15 V', 'makes -5V from IN with 7805', ['error']],
    ['15 V', 'makes +12V from IN with 7805', ['error']],
  ])('from %s: %s', (input, make, expected) => {
    expect(severities(input, make)).toEqual(expected);
  });
});
