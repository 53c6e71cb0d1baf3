import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'rail-order';

interface Options {
  readonly order?: string;
  readonly part?: string;
  readonly takes?: string;
  readonly fitted?: string;
  readonly more?: string;
  readonly minus?: string;
}

const machine = ({
  order = '',
  part = 'part U1..U8 with MCM4116',
  takes = 'takes -5V 20 mA',
  fitted = '1 = RAM as RAM-A\n  2 = RAM as RAM-B',
  more = '',
  minus = '-5V',
}: Options): string => `pinout 1
supply PSU {
  rail +5V 5 V
  rail +12V 12 V
  rail ${minus} ${minus.slice(0, -1)} V
  ground GND
  ${order}
}
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1..2 = GND by meter
  3 = +5V by meter
  4 = +12V by meter
  5 = ${minus} by meter
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +5V from PSU at 3
  feed +12V from PSU at 4
  feed ${minus} from PSU at 5
}
card RAM {
  edge on B
  takes +5V 600 mA
  takes +12V 200 mA
  ${takes}
  ${part}
}
fitted CAGE {
  ${fitted}
}
${more}`;

const made = { minus: '-12V', takes: 'takes -12V 20 mA\n  makes -5V from -12V with 7905' };
const message = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe('fires', () => {
  test('as an error where the maker demands an order and the supply has another', () => {
    const text = machine({
      order: 'order +12V, -5V, +5V',
      part: 'part U1..U8 with MCM4116  #! error rail-order',
    });
    expectMarked(RULE, text);
    expect(message(text)).toBe(
      'MCM4116 (U1..U8) on RAM-A and RAM-B must have -5V on first and off last, and PSU brings +12V up before -5V',
    );
  });

  test('as a question where the maker demands it and nobody says the order', () => {
    expectMarked(RULE, machine({ part: 'part U1..U8 with MCM4116  #! question rail-order' }));
  });

  test('as a question where a rail is missing from the order', () => {
    const text = machine({
      order: 'order +5V, +12V',
      part: 'part U1..U8 with MCM4116  #! question rail-order',
    });
    expectMarked(RULE, text);
  });

  test('as a question where the order is wrong and makers differ', () => {
    expectMarked(
      RULE,
      machine({ order: 'order +12V, -5V, +5V', part: 'part U1 with 2708  #! question rail-order' }),
    );
  });

  test('by the rail that a regulator makes the bias from', () => {
    const text = machine({
      ...made,
      order: 'order +12V, -12V, +5V',
      part: 'part U1..U8 with MCM4116  #! error rail-order',
    });
    expectMarked(RULE, text);
    expect(message(text)).toContain(
      '-5V on first and off last, which is made from -12V, and PSU brings +12V up before -12V',
    );
  });

  test('at a part of one’s own', () => {
    const text = machine({
      order: 'order +12V, -5V, +5V',
      part: 'part U1 with XR99  #! error rail-order',
      more: 'part XR99 {\n  needs -5V 3 mA\n  needs +12V 30 mA\n  first -5V\n}',
    });
    expectMarked(RULE, text);
  });
});

describe('stays silent', () => {
  test.each([
    ['where the order is right', machine({ order: 'order -5V, +12V, +5V' })],
    ['where the order is right through a regulator', machine({ ...made, order: 'order -12V, +12V, +5V' })],
    ['where makers differ and the order is unsaid', machine({ part: 'part U1..U8 with 4116' })],
    ['at a part with one rail', machine({ part: 'part U1 with 74LS244' })],
    ['at an unknown part', machine({ part: 'part U1 with QQ17' })],
    ['for chips that are not there', machine({ fitted: '1 = RAM {\n    without U1..U8\n  }' })],
    ['for a board on a shelf', machine({ fitted: '1 = empty', more: 'loose RAM' })],
  ])('%s', (_, text) => expectSilent(RULE, text));
});
