import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { lead } from './mating-machine.ts';

const RULE = 'ribbon-over';
const marked = (mark: string): readonly [string, string] => [`stripe 1 #! ${mark} ${RULE}`, 'stripe 1'];

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe(RULE, () => {
  test('open pins take a plug one row over', () => {
    expectMarked(RULE, lead({ ends: marked('warning') }));
    expect(told(lead({}))).toEqual([
      'W1 one row over at GAUGE.J1 and LAMPS.J1: Q2 of GAUGE (74LS244) drives against Q1 of GAUGE (74LS244) (W1 conductor 3 on GAUGE.J1.4); nothing that the file says prevents it; 4 other ways do harm too',
    ]);
  });

  test('silent inside a wall, with a notch or without', () => {
    expectSilent(RULE, lead({ header: '  shroud' }));
    expectSilent(RULE, lead({ header: '  shroud notch' }));
  });

  test('one plugged hole leaves ways past it', () => {
    expectMarked(RULE, lead({ header: '  pulled 8\n  plugged 8', ends: marked('warning') }));
  });

  test('a hole or pin of which only one half is said is a question, beside what passes it', () => {
    for (const half of ['pulled', 'plugged']) {
      const text = lead({ header: `  ${half} 4` });
      const its = findingsOf(text).filter(({ rule }) => rule === RULE);
      expect(its.map(({ severity }) => severity).sort(), half).toEqual(['question', 'warning']);
      expect(its.find(({ severity }) => severity === 'question')?.message).toMatch(
        /; prevented only if the pin is pulled and the hole for it is plugged, which nobody says/,
      );
    }
  });

  test('silent where only inputs and open collectors are held to ground', () => {
    expectSilent(RULE, lead({ uses: ['receives Q0..Q2 with 74LS at J1', 'pulls Q0..Q2 with 7438 at J1'] }));
  });

  test('a single row shifts, and is not told as a row over', () => {
    const row = (text: string): string =>
      text
        .replace('shape header 2 x 5\n  numbers zigzag', 'shape row 10')
        .replaceAll('1..9 step 2 = GND by trace\n    2, 4, 6', '1..2, 6..10 = GND by trace\n    3..5')
        .replaceAll('    8, 10 = spare by trace\n', '');
    expect(told(row(lead({})))).toEqual([
      expect.stringMatching(/^W1 shifted by two contacts at .*; 2 other ways do harm too$/),
    ]);
    expectSilent(RULE, row(lead({ header: '  shroud' })));
  });
});
