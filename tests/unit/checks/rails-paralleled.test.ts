import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { LINES, lead } from './mating-machine.ts';
import { BUS, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'rails-paralleled';
const regulator = (mark = '', name = '+5V'): string =>
  `card REG {\n  edge on B\n  takes +12V 1 A\n  makes ${name} 5 V from +12V with 7805${mark}\n}`;

test('a supply and a regulator on one net', () => {
  expectMarked(RULE, rack({ cards: regulator(` #! warning ${RULE}`), fitted: '  1 = REG' }));
  expectMarked(
    RULE,
    rack({ cards: regulator(` #! warning ${RULE}`), fitted: '  1 = REG as R1\n  2 = REG as R2' }),
  );
  expectSilent(RULE, rack({ cards: regulator('', '+5VR'), fitted: '  1 = REG as R1\n  2 = REG as R2' }));
});

test('regulators of two boards on a line of the bus', () => {
  const bus = BUS.replace('7 = spare', '7 = -5V');
  const cards = `card REG {\n  edge on B\n  takes +12V 1 A\n  makes -5V from +12V with 7905 #! warning ${RULE}\n}`;
  expectMarked(RULE, rack({ bus, cards, fitted: '  1 = REG as R1\n  2 = REG as R2' }));
  expectSilent(RULE, rack({ bus, cards: cards.replace(/ #!.*/, ''), fitted: '  1 = REG' }));
});

test('two supplies on one contact; unequal ones are a rail-conflict', () => {
  const two = (volts: string, mark = ''): string =>
    `${SUPPLY}\nsupply AUX {\n  rail +5V ${volts}${mark}\n  ground GND\n}`;
  const plane = `${PLANE}\n  feed +5V from AUX at 2`;
  expectMarked(RULE, rack({ supply: two('5 V', ` #! warning ${RULE}`), plane }));
  expectSilent(RULE, rack({ supply: two('9 V'), plane }));
});

test('rails of one supply: silent with a strap', () => {
  const supply = (strap: string, mark = ''): string =>
    `supply PSU {\n  rail +5V 5 V\n  rail +5VB 5 V${mark}\n  rail +12V 12 V\n  ground GND\n${strap}}`;
  const plane = `${PLANE}\n  feed +5VB from PSU at 2`;
  expectMarked(RULE, rack({ supply: supply('', ` #! warning ${RULE}`), plane }));
  expectSilent(RULE, rack({ supply: supply('  strap +5V, +5VB\n'), plane }));
});

test('two regulators on one board are one', () => {
  const cards =
    'card REG {\n  edge on B\n  takes +12V 1 A\n  makes +6V from +12V with 2 x 7806\n  makes +6V from +12V with 7806\n}';
  expectSilent(RULE, rack({ cards, fitted: '  1 = REG' }));
});

describe('by a wrong plug', () => {
  const POWER = LINES.replace('2, 4, 6 = Q0..Q2 by trace', '2 = +5V by meter\n    4, 6 = Q1..Q2 by trace');
  const spare = (volts: string): string => `supply AUX {
  rail +5V ${volts} max 2 A
  ground GND
  port P3 on H10 {
    1..9 step 2 = GND by meter
    2 = +5V by meter
    4, 6, 8, 10 = spare by trace
  }
}`;
  const machine = (rest: string, mark = ''): string =>
    lead({
      header: '  shroud notch',
      near: POWER,
      far: POWER,
      uses: ['drives Q1..Q2 with 74LS244 at J1', 'takes +5V 100 mA at J1\n  receives Q1..Q2 with 74LS at J1'],
      ends: ['stripe 1 bump', `stripe 1 bump${mark}`],
      rest,
    });

  test('a live plug that fits the port of another supply', () => {
    expectMarked(RULE, machine(spare('5 V'), ` #! warning ${RULE}`));
    const [finding] = findingsOf(machine(spare('5 V'))).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'W1 plugged into AUX.P3 by its end for LAMPS.J1: +5V of PSU, up to 5 A, is joined to +5V of AUX, up to 2 A; nothing that the file says prevents it',
    );
  });

  test('unequal rails are another rule’s', () => {
    const text = machine(spare('9 V'));
    expectSilent(RULE, text);
    expect(findingsOf(text).map(({ rule }) => rule)).toContain('ribbon-wrong-port');
  });

  test('silent where a key keeps it out', () => {
    const keyed = machine(spare('5 V')).replaceAll(
      '8, 10 = spare by trace',
      '8, 10 = spare by trace\n    pulled 8\n    plugged 8',
    );
    expectSilent(
      RULE,
      keyed.replace(
        '4, 6, 8, 10 = spare by trace\n    pulled 8\n    plugged 8',
        '4, 6, 8, 10 = spare by trace',
      ),
    );
  });
});
