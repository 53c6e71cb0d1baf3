import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'supply-overload';

/** A machine of which the supply's +5V line, the takes of two cards and what else there is can be said. */
const machine = (rail: string, cpu: string, ram: string, more = ''): string => `pinout 1
supply PSU {
  ${rail}
  ground GND
  port P1 on H4 {
    1..2 = +5V
    3..4 = GND
  }
}
connector E8 {
  shape edge 1 x 8
}
connector H4 {
  shape header 1 x 4
}
bus B on E8 {
  1..2 = GND by meter
  3..4 = +5V by meter
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +5V from PSU at 3
}
card CPU {
  edge on B
  ${cpu}
}
card RAM {
  edge on B
  ${ram}
}
card DISPLAY {
  takes +5V 1 A at J1
  port J1 on H4 {
    1..2 = +5V
    3..4 = GND
  }
}
fitted CAGE {
  1 = CPU
  2 = RAM as RAM-A
  3 = RAM as RAM-B
}
loose DISPLAY
${more}`;

const message = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe('fires', () => {
  test('where the sum exceeds the rating, two boards of one card counting twice', () => {
    const text = machine(
      'rail +5V 5 V max 3 A  #! error supply-overload',
      'takes +5V 1.1 A',
      'takes +5V 1 A',
    );
    expectMarked(RULE, text);
    expect(message(text)).toContain(
      'take 3.1 A, more than it is rated for: CPU 1.1 A, RAM-A 1 A and RAM-B 1 A',
    );
  });

  test('as a note above 80 %', () => {
    const text = machine('rail +5V 5 V max 5 A  #! note supply-overload', 'takes +5V 2.1 A', 'takes +5V 1 A');
    expectMarked(RULE, text);
    expect(message(text)).toContain('82 % of its rating');
  });

  test('at exactly the rating only as a note', () => {
    expectMarked(
      RULE,
      machine('rail +5V 5 V max 3.3 A  #! note supply-overload', 'takes +5V 1.1 A', 'takes +5V 1.1 A'),
    );
  });

  test('counting a board outside the cage that a cable joins', () => {
    const cable = 'cable C1 18 AWG 600 mm {\n  PSU.P1.1..4 = DISPLAY.J1.1..4\n}';
    const text = machine(
      'rail +5V 5 V max 4 A  #! error supply-overload',
      'takes +5V 1.1 A',
      'takes +5V 1 A',
      cable,
    );
    expectMarked(RULE, text);
    expect(message(text)).toContain('DISPLAY 1 A');
  });

  test('naming the boards whose current nobody gives', () => {
    const text = machine('rail +5V 5 V max 1 A  #! error supply-overload', 'takes +5V 1.1 A', 'takes +5V');
    expectMarked(RULE, text);
    expect(message(text)).toContain('what RAM-A and RAM-B take is not said');
  });

  test('on a negative rail too', () => {
    const text = machine('rail +5V 5 V', 'takes +5V 1 A', 'takes +5V 1 A')
      .replace('  ground GND', '  rail -12V -12 V max 100 mA  #! error supply-overload\n  ground GND')
      .replace('feed GND', 'feed -12V from PSU at 5\n  feed GND')
      .replace('3..4 = +5V by meter', '3..4 = +5V by meter\n  5 = -12V by meter')
      .replace('takes +5V 1 A', 'takes +5V 1 A\n  takes -12V 150 mA');
    expectMarked(RULE, text);
  });

  test('at the sum of two supplies that are declared one', () => {
    const text = machine(
      'rail +5V 5 V max 1 A  #! error supply-overload',
      'takes +5V 1 A',
      'takes +5V 1 A',
    ).replace('  ground GND', '  rail +5VB 5 V max 1 A\n  strap +5V, +5VB\n  ground GND');
    expectMarked(RULE, text);
    expect(message(text)).toContain('PSU.+5V and PSU.+5VB are rated 2 A');
  });
});

describe('stays silent', () => {
  test.each([
    ['up to 80 %', machine('rail +5V 5 V max 4 A', 'takes +5V 1.2 A', 'takes +5V 1 A')],
    ['below the least load', machine('rail +5V 5 V max 40 A min 10 A', 'takes +5V 1 A', 'takes +5V 1 A')],
    ['without a rating', machine('rail +5V 5 V', 'takes +5V 50 A', 'takes +5V 1 A')],
    ['where no current is said', machine('rail +5V 5 V max 1 A', 'takes +5V', 'takes +5V')],
    [
      'about a board on a shelf',
      machine('rail +5V 5 V max 4 A', 'takes +5V 1.2 A', 'takes +5V 1 A', 'loose CPU as SPARE'),
    ],
    [
      'about a board whose cable is unplugged',
      machine(
        'rail +5V 5 V max 4 A',
        'takes +5V 1.2 A',
        'takes +5V 1 A',
        'ribbon W 4 way {\n  end PSU.P1 stripe 1 found unplugged\n  end DISPLAY.J1 stripe 1\n}',
      ),
    ],
    [
      'about needs of chips, which `takes` holds',
      machine('rail +5V 5 V max 4 A', 'takes +5V 1.2 A\n  part U1 with 74LS244 +5V 5 A', 'takes +5V 1 A'),
    ],
  ])('%s', (_, text) => expectSilent(RULE, text));

  test('without a supply', () => {
    expectSilent(RULE, 'pinout 1\ncard A {\n  takes +5V 5 A\n}\nloose A\n');
  });
});
