import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'bias-lost';

interface Options {
  readonly feed?: string;
  readonly part?: string;
  readonly bias?: string;
  readonly fitted?: string;
  readonly more?: string;
}

const machine = ({
  feed = 'feed -12V from PSU at 5',
  part = 'part U1..U8 with 4116',
  bias = 'takes -12V 20 mA\n  makes -5V from -12V with 7905',
  fitted = '1 = RAM as RAM-A\n  2 = RAM as RAM-B',
  more = '',
}: Options): string => `pinout 1
supply PSU {
  rail +5V 5 V
  rail +12V 12 V
  rail -12V -12 V
  ground GND
}
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1..2 = GND by meter
  3 = +5V by meter
  4 = +12V by meter
  5..6 = -12V by meter
  7 = -5V by meter
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +5V from PSU at 3
  feed +12V from PSU at 4
  ${feed}
}
card RAM {
  edge on B
  takes +5V 600 mA
  takes +12V 200 mA
  ${bias}
  ${part}
}
fitted CAGE {
  ${fitted}
}
${more}`;

const message = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe('fires', () => {
  test('where nothing feeds the bias, while another rail is on', () => {
    const text = machine({ bias: 'takes -5V 20 mA', part: 'part U1..U8 with 4116  #! error bias-lost' });
    expectMarked(RULE, text);
    expect(message(text)).toBe(
      'no source reaches -5V, and +12V and +5V are on: 4116 (U1..U8) on RAM-A and RAM-B die without their bias',
    );
  });

  test('where what its regulator is fed from is dead', () => {
    expectMarked(RULE, machine({ feed: '', part: 'part U1..U8 with 4116  #! error bias-lost' }));
  });

  test('as a question where nothing says where the bias comes from', () => {
    const text = machine({
      bias: 'takes -12V 20 mA',
      part: 'part U1 with 2708  #! question bias-lost',
    }).replace('  7 = -5V by meter\n', '');
    expectMarked(RULE, text);
  });

  test('as a note where it hangs on one regulator', () => {
    const text = machine({ part: 'part U1..U8 with 4116  #! note bias-lost' }).replace(
      '  7 = -5V by meter\n',
      '',
    );
    expectMarked(RULE, text);
    expect(message(text)).toContain('it hangs on one 7905');
  });

  test('as a note where it hangs on one contact', () => {
    const text = machine({
      bias: 'takes -5V 20 mA',
      feed: 'feed -5V from PSU at 7',
      part: 'part U1..U8 with 4116  #! note bias-lost',
    }).replace('rail -12V -12 V', 'rail -5V -5 V');
    expectMarked(RULE, text);
    expect(message(text)).toContain('it hangs on the one contact CAGE.1.7 for -5V');
  });
});

describe('stays silent', () => {
  test.each([
    [
      'where two contacts and two regulators carry it',
      machine({ bias: 'takes -12V 20 mA\n  makes -5V from -12V with 2 x 7905' }),
    ],
    ['where the boards join their regulators through the bus', machine({})],
    ['at a part with one rail', machine({ bias: 'takes -5V 20 mA', part: 'part U1 with 74LS244' })],
    [
      'for chips that are not there',
      machine({ bias: 'takes -5V 20 mA', fitted: '1 = RAM {\n    without U1..U8\n  }' }),
    ],
    ['for a board on a shelf', machine({ fitted: '1 = empty', more: 'loose RAM' })],
    [
      'where no supply is described',
      machine({})
        .replace(/supply PSU \{[\s\S]*?\n\}\n/, '')
        .replace(/ {2}feed .*\n/g, ''),
    ],
  ])('%s', (_, text) => expectSilent(RULE, text));
});
