import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'reading-short';

const machine = (readings: string, header = 'cards out power off leads 0.1 ohm', rails = RAILS): string => `
pinout 1
supply PSU {
${rails}
  ground GND
}
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1 = GND by meter
  2 = +5V by meter
  3 = +12V by meter
  4 = -12V by meter
  5 = D0 by trace
  6 = spare
  7 = unknown
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +5V from PSU at 2
  feed +12V from PSU at 3
  feed -12V from PSU at 4
}
card RAM {
  edge on B
  takes +5V 1 A
  makes -5V from -12V with 7905
}
fitted CAGE {
  1 = RAM as A
  2 = RAM as B
}
readings 2026-05-02 ${header} {
${readings}
}`;

const RAILS = '  rail +5V 5 V max 12 A\n  rail +12V 12 V max 2 A\n  rail -12V -12 V max 800 mA';
const UNRATED = '  rail +5V 5 V\n  rail +12V 12 V\n  rail -12V -12 V';

const messageOf = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe(RULE, () => {
  test('below volts ÷ rated current, the leads taken off', () => {
    // 5 V ÷ 12 A = 0.417 ohm; with 0.1 ohm of leads the meter shows 0.517 ohm.
    expectMarked(RULE, machine('  CAGE.1.2 to CAGE.1.1 = 0.5 ohm #! error reading-short'));
    expectSilent(RULE, machine('  CAGE.1.2 to CAGE.1.1 = 0.52 ohm'));
    expectMarked(RULE, machine('  CAGE.1.2 to GND = 0 ohm #! error reading-short'));
    expectSilent(RULE, machine('  CAGE.1.2 to GND = 48 ohm'));
  });

  test('says which contacts, how known, and the figures', () => {
    expect(messageOf(machine('  CAGE.1.2 to CAGE.1.1 = 0.3 ohm'))).toBe(
      '+5V at CAGE.1.2 (meter) to GND at CAGE.1.1 (meter) reads 0.3 ohm, of which 0.1 ohm are leads: 5 V would draw 25 A, where 12 A is the rating and 0.417 ohm the least there may be',
    );
  });

  test('between two rails the voltages differ, and the weaker rating counts', () => {
    // 24 V ÷ 0.8 A = 30 ohm; 7 V ÷ 2 A = 3.5 ohm; 17 V ÷ 0.8 A = 21.25 ohm.
    expectMarked(RULE, machine('  CAGE.1.3 to CAGE.1.4 = 30 ohm #! reading-short'));
    expectSilent(RULE, machine('  CAGE.1.3 to CAGE.1.4 = 30.2 ohm'));
    expectMarked(RULE, machine('  CAGE.1.3 to CAGE.1.2 = 3.5 ohm #! reading-short'));
    expectSilent(RULE, machine('  CAGE.1.3 to CAGE.1.2 = 3.7 ohm'));
    expectMarked(RULE, machine('  CAGE.1.4 to CAGE.1.2 = 21 ohm #! reading-short'));
  });

  test('either polarity is enough, and both are one finding at the lower', () => {
    const text = machine(
      '  CAGE.1.2 to CAGE.1.1 = 48 ohm\n  CAGE.1.1 to CAGE.1.2 = 0.3 ohm #! error reading-short',
    );
    expectMarked(RULE, text);
    expect(messageOf(text)).toContain('reads 0.3 ohm (48 ohm with the leads exchanged)');
    expectMarked(RULE, machine('  CAGE.1.1 to CAGE.1.2 = 0.3 ohm #! reading-short'));
  });

  test('readings of one short in several slots are one finding', () => {
    const text = machine(
      '  CAGE.1.2 to CAGE.1.1 = 0.3 ohm\n  CAGE.2.2 to CAGE.2.1 = 0.2 ohm #! reading-short\n  CAGE.4.2 to GND = 0.4 ohm',
    );
    expectMarked(RULE, text);
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.path.map(({ contact }) => contact)).toEqual([
      'CAGE.2.2',
      'CAGE.2.1',
      'CAGE.1.2 to CAGE.1.1',
      'CAGE.4.2 to GND',
    ]);
  });

  test('two boards in the hand are two shorts', () => {
    expectMarked(
      RULE,
      machine(
        '  A.edge.2 to A.edge.1 = 0.3 ohm #! reading-short\n  B.edge.2 to B.edge.1 = 0.3 ohm #! reading-short',
      ),
    );
  });

  test('whether the cards were in does not matter, nor whether power off is said', () => {
    for (const header of ['cards in', 'cards out', '', 'power off'])
      expectMarked(RULE, machine('  CAGE.1.2 to CAGE.1.1 = 0.3 ohm #! reading-short', header));
  });

  test('a regulator on a board has a rating too', () => {
    // 5 V ÷ 1.5 A or so: 1 ohm is below, 10 ohm above.
    expectMarked(RULE, machine('  A.-5V to A.edge.1 = 1 ohm #! reading-short'));
    expectSilent(RULE, machine('  A.-5V to A.edge.1 = 10 ohm'));
  });

  test('a rail that is a range counts with its highest voltage', () => {
    const rails = '  rail +5V 7..11 V max 18 A\n  rail +12V 12 V\n  rail -12V -12 V';
    // 11 V ÷ 18 A = 0.611 ohm.
    expectMarked(RULE, machine('  CAGE.1.2 to GND = 0.7 ohm #! reading-short', undefined, rails));
    expectSilent(RULE, machine('  CAGE.1.2 to GND = 0.72 ohm', undefined, rails));
  });

  test('one known rating of the two is enough', () => {
    const rails = '  rail +5V 5 V\n  rail +12V 12 V max 2 A\n  rail -12V -12 V';
    expectMarked(RULE, machine('  CAGE.1.2 to CAGE.1.3 = 1 ohm #! reading-short', undefined, rails));
  });

  test('silent without a rating, on diode readings, with power on, and on alternating current', () => {
    expectSilent(RULE, machine('  CAGE.1.2 to CAGE.1.1 = 0.1 ohm', undefined, UNRATED));
    expectSilent(
      RULE,
      machine('  CAGE.1.2 to CAGE.1.1 = 0.3 ohm diode\n  CAGE.1.3 to CAGE.1.1 = 0.1 V diode'),
    );
    expectSilent(RULE, machine('  CAGE.1.2 to CAGE.1.1 = 0.3 ohm', 'power on'));
    expectSilent(
      RULE,
      machine('  CAGE.1.2 to CAGE.1.1 = 0.3 ohm', undefined, RAILS.replace('12 A', '12 A ac')),
    );
  });

  test('silent between other places', () => {
    expectSilent(
      RULE,
      machine(
        '  CAGE.1.2 to CAGE.4.2 = 0.1 ohm\n  CAGE.1.1 to CAGE.4.1 = 0.1 ohm\n  CAGE.1.2 to CAGE.1.5 = 0.1 ohm\n' +
          '  CAGE.1.6 to CAGE.1.1 = 0.1 ohm\n  CAGE.1.7 to CAGE.1.1 = 0.1 ohm\n  CAGE.1.2 to CAGE.1.1 = open',
      ),
    );
  });
});

test('a board in the hand is held against the rating of the rail it will hang on', () => {
  const shelf = (ohms: string): string =>
    machine(`  SPARE.edge.2 to SPARE.edge.1 = ${ohms}`).replace(
      'fitted CAGE',
      'loose RAM as SPARE\nfitted CAGE',
    );
  expectSilent(RULE, shelf('130 ohm'));
  expectMarked(RULE, shelf('0.4 ohm #! error reading-short'));
});

test('where a card joins two rails, the place read is called what its own contact is said to be', () => {
  const joined = (contact: string): string =>
    machine(
      `  CAGE.1.${contact} to GND = 0.4 ohm`,
      undefined,
      RAILS.replace('-12V -12 V', '-12V 24 V'),
    ).replace('makes -5V from -12V with 7905', 'strap +12V, -12V');
  const text = (contact: string): string => joined(contact).replaceAll('-12V', '+24V');
  expect(messageOf(text('3'))).toContain('+12V at CAGE.1.3 (meter) to GND reads');
  expect(messageOf(text('4'))).toContain('+24V at CAGE.1.4 (meter) to GND reads');
});
