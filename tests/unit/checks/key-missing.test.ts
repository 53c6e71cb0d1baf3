import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, cage, LINES, lead } from './mating-machine.ts';

const RULE = 'key-missing';
const at = (text: string, connector: string): string =>
  text.replace(`connector ${connector} {`, `connector ${connector} { #! note ${RULE}`);

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe(RULE, () => {
  test('one key for all cards and slots of a connector', () => {
    expectMarked(RULE, at(cage({}), 'E8'));
    expect(told(cage({}))).toEqual([
      '2 harmful ways to plug in on E8 are open: a key between 1 and 2 of E8 prevents both; no fewer keys would do',
    ]);
  });

  test('different keys where boards must not go into each other’s slots', () => {
    const rest = `bus X on E8 {
${BUS.replace('+5V', '+12V').replace('4, D = +12V', '4, D = +5V')}
}
backplane AUX {
  slots 1 on X guides
  feed GND from PSU at 1
  feed +12V from PSU at 2
}`;
    expect(told(cage({ slots: ' guides', rest }))).toEqual([
      '1 harmful way to plug in on E8 is open: a key between 1 and 2 of E8 on B, and a key between 2 and 3 of E8 on X prevent it',
    ]);
  });

  test('pins and holes on a header, and what they cost', () => {
    expectMarked(RULE, at(lead({ header: '  shroud' }), 'H10'));
    expect(told(lead({ header: '  shroud' }))).toEqual([
      '2 harmful ways to plug in on H10 are open: pin 8 pulled out of each H10 and hole 8 of each plug on it blocked prevent both; no contact in use is lost; no fewer keys would do',
    ]);
  });

  test('headers are told apart by where they are', () => {
    const ports = `  port P2 on H10 {\n${LINES.replace('2, 4, 6 = Q0..Q2', '2, 4, 6 = +24V')}\n  }`;
    const ends = ['stripe 1 bump', 'stripe 1 bump'] as const;
    const [message] = told(lead({ header: '  shroud notch', ends, ports }));
    expect(message).toMatch(
      /pin \d+ pulled out of GAUGE\.J1 and LAMPS\.J1 and hole \d+ of their plugs blocked, and pin \d+ pulled out of PSU\.P2 and hole \d+ of its plug blocked prevent both/,
    );
  });

  test('a wall where keys would cost contacts in use', () => {
    const full = '    1 = GND by trace\n    2 = +5V by trace\n    3..10 = Q0..Q7 by trace';
    const uses = ['drives Q0..Q7 with 74LS244 at J1', 'receives Q0..Q7 with 74LS at J1'] as const;
    expect(told(lead({ near: full, far: full, uses }))).toEqual([
      expect.stringContaining(
        'a wall with a notch round the pins of each H10, and a bump on each plug, keep plugs straight on it and cost no contact',
      ),
    ]);
  });

  test('silent where keys, walls or guides prevent all, and where only a look is missing', () => {
    expectSilent(RULE, cage({ socket: '  ends closed\n  key between 1, 2' }));
    expectSilent(RULE, cage({ slots: ' guides' }));
    expectSilent(RULE, cage({ slots: ' key between 1, 2' }));
    expectSilent(RULE, lead({ header: '  shroud notch' }));
  });

  test('silent where nothing that can go in wrong does harm', () => {
    const uses = ['receives Q0..Q2 with 74LS at J1', 'pulls Q0..Q2 with 7438 at J1'] as const;
    expectSilent(RULE, lead({ uses }));
  });
});
