import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'regulator-wrong';

interface Options {
  readonly rails?: string;
  readonly takes?: string;
  readonly makes?: string;
  readonly more?: string;
  readonly fitted?: string;
}

const machine = ({
  rails = 'rail +8V 8..10 V\n  rail -16V -18..-15 V\n  rail +12V 12 V 5 %',
  takes = 'takes +8V 900 mA',
  makes = 'makes +5V from +8V with 7805',
  more = '',
  fitted = '1 = RAM as RAM-A\n  2 = RAM as RAM-B',
}: Options): string => `pinout 1
supply PSU {
  ${rails}
  ground GND
}
connector E8 {
  shape edge 1 x 8
}
connector H4 {
  shape header 1 x 4
}
bus B on E8 {
  1..2 = GND by meter
  3 = +8V by meter
  4 = -16V by meter
  5 = +12V by meter
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +8V from PSU at 3
  feed -16V from PSU at 4
  feed +12V from PSU at 5
}
card RAM {
  edge on B
  ${takes}
  ${makes}
}
fitted CAGE {
  ${fitted}
}
${more}`;

const messages = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe('fires', () => {
  test.each([
    ['a 78 on a negative rail', 'makes -12V from -16V with 7812', 'its input is reversed'],
    ['a 79 on a positive rail', 'makes +5V from +8V with LM7905CT', 'its input is reversed'],
    ['a 79 for a positive rail', 'makes +5V from -16V with 7905', '7905 gives -5 V, and +5V is 5 V'],
    ['another output', 'makes +12V from +8V with 7805', '7805 gives 5 V, and +12V is 12 V'],
    ['too little output', 'makes +5V from +12V with 7808', '7808 gives 8 V, and +5V is 5 V'],
    [
      'an output by the volts that are said',
      'makes VCC 5 V from +12V with 7808',
      '7808 gives 8 V, and VCC is 5 V',
    ],
    [
      'an adjustable one of the other sign',
      'makes -12V from +12V with LM317',
      'is a regulator for positive rails',
    ],
    ['too little input', 'makes +9V from +8V with 7809', '+8V may be only 8 V, and 7809 wants 11 V'],
    [
      'too little after the tolerance',
      'makes +10V from +12V with 7810',
      '+12V may be only 11.4 V, and 7810 wants 12 V',
    ],
    ['too little for an adjustable one', 'makes +10V from +12V with LM317', '+12V may be only 11.4 V'],
  ])('at %s', (_, makes, says) => {
    const text = machine({ makes: `${makes}  #! error regulator-wrong` });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain(says);
    expect(messages(text)[0]).toContain('likewise on RAM-B');
  });

  test('at an input above all it stands', () => {
    const text = machine({
      rails: 'rail +8V 48 V\n  rail -16V -16 V\n  rail +12V 12 V',
      makes: 'makes +5V from +8V with 7805  #! error regulator-wrong',
    });
    expectMarked(RULE, text);
  });

  test('as a note within half a volt, from the range of the bus where no supply reaches the board', () => {
    const text = machine({
      makes: 'makes +5V from +8V with 7805  #! note regulator-wrong',
      fitted: '1 = empty',
      more: 'loose RAM',
    }).replace('bus B on E8 {', 'bus B on E8 {\n  rail +8V 7..11 V');
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('but not the 7.5 V that leave it a margin');
  });

  test('on a card that no board is of', () => {
    expectMarked(
      RULE,
      machine({ makes: 'makes -5V from +12V with 7905  #! error regulator-wrong', fitted: '1 = empty' }),
    );
  });

  test('at more load than its rating', () => {
    const text = machine({
      takes: 'takes +12V 1 A',
      makes:
        'makes +5V from +12V with 78L05  #! error regulator-wrong\n  part U1..U4 with 74LS244 +5V 50 mA each',
    });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('+5V carries 200 mA, and 78L05 is rated 100 mA');
  });

  test('at the load of another board', () => {
    const text = machine({
      takes: 'takes +12V 1 A',
      makes:
        'makes +5V from +12V with 78L05  #! error regulator-wrong\n  port J1 on H4 {\n    1..2 = GND\n    3..4 = +5V\n  }',
      fitted: '1 = RAM',
      more: 'card SUB {\n  takes +5V 150 mA\n  port J1 on H4 {\n    1..2 = GND\n    3..4 = +5V\n  }\n}\nloose SUB\nribbon W 4 way {\n  end RAM.J1 stripe 1\n  end SUB.J1 stripe 1\n}',
    });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('SUB among it');
  });

  test('as a warning where a raw rail brings more than its regulators may give', () => {
    const text = machine({
      takes: 'takes +8V 1.5 A',
      makes: 'makes +5V from +8V with 7805  #! warning regulator-wrong',
    });
    expectMarked(RULE, text);
  });

  test('with a regulator of one’s own', () => {
    const text = machine({
      makes: 'makes +5V from +8V with REG5  #! error regulator-wrong',
      more: 'part REG5 {\n  regulates 5 V dropout 4 V max 3 A stands 40 V\n}',
    });
    expectMarked(RULE, text);
  });
});

describe('stays silent', () => {
  test.each([
    ['where all is well', machine({})],
    [
      'with a margin of half a volt',
      machine({ rails: 'rail +8V 7.5..10 V\n  rail -16V -16 V\n  rail +12V 12 V' }),
    ],
    ['at an unknown part', machine({ makes: 'makes +5V from -16V with XYZ99' })],
    ['without a part', machine({ makes: 'makes +5V from -16V' })],
    ['for 79 on a negative rail', machine({ makes: 'makes -12V from -16V with 7912' })],
    ['for a slightly lifted output', machine({ makes: 'makes -5.2V from -16V with 7905' })],
    [
      'for several that share',
      machine({ takes: 'takes +8V 1.8 A', makes: 'makes +5V from +8V with 2 x 7805' }),
    ],
    [
      'for more lines of one rail',
      machine({
        takes: 'takes +8V 1.8 A',
        makes: 'makes +5V from +8V with 7805\n  makes +5V from +8V with 7805',
      }),
    ],
    [
      'for chips that are not there',
      machine({
        takes: 'takes +12V 1 A',
        makes: 'makes +5V from +12V with 78L05\n  part U1..U4 with 74LS244 +5V 50 mA each',
        fitted: '1 = RAM {\n    without U2..U4\n  }',
      }),
    ],
    [
      'where other things take of the rail it is fed from',
      machine({ takes: 'takes +12V 3 A', makes: 'makes +5V from +12V with 78L05' }),
    ],
    [
      'where the rail says no volts',
      machine({ takes: 'takes RAW 1 A', makes: 'makes +5V from RAW with 7805' }),
    ],
    [
      'for what it dissipates',
      machine({ takes: 'takes +12V 900 mA', makes: 'makes +5V from +12V with 7805' }),
    ],
  ])('%s', (_, text) => expectSilent(RULE, text));
});
