import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'line-overloaded';
const DATA = '3..10 = D0..D7';
const TERMINATOR = '220 ohm to +5V, 330 ohm to GND';
const bothEnds = `terminate D0..D7 ${TERMINATOR} before 1\nterminate D0..D7 ${TERMINATOR} after 4`;
const data = (driver: string, mark = '', back = ''): string =>
  benchText({
    bus: DATA,
    backplane: back,
    cards: { CPU: `transceives D0..D7 with ${driver} ${mark}`, RAM: 'transceives D0..D7 with 74LS245' },
    fitted: '1 = CPU\n4 = RAM',
  });
const one = (driver: string, receiver: string, back = '', receiverCount = 1): string =>
  benchText({
    bus: '3 = CLK',
    backplane: back,
    cards: {
      CPU: `drives CLK ${driver}`,
      IO: Array.from({ length: receiverCount }, () => `receives CLK ${receiver}`).join('\n'),
    },
    fitted: '1 = CPU\n2 = IO',
  });
const messages = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ severity, message }) => `${severity} ${message}`);

describe('low level', () => {
  test('two terminators are too much for 24 mA: one finding for eight sisters, with the sum', () => {
    const text = data('74LS245', '#! error line-overloaded', bothEnds);
    expectMarked(RULE, text);
    const [message] = messages(text);
    expect(message).toContain('D0..D7');
    // 2 × 18.94 mA at 0.5 V, and 0.2 mA of the other transceiver.
    expect(message).toContain('38.1 mA');
    expect(message).toContain('24 mA at 0.5 V');
    expect(message).toContain('74LS245 on RAM 200 uA');
  });

  test('one terminator is within 24 mA; both are within 48 mA', () => {
    expectSilent(RULE, data('74LS245', '', `terminate D0..D7 ${TERMINATOR} after 4`));
    const strong = data('8T26', '', bothEnds).replace('with 74LS245', 'with 8T26');
    expectSilent(RULE, strong);
  });

  test('the fan-out of 10 is used to its last load; the eleventh is a warning, the thirteenth an error', () => {
    expectSilent(RULE, one('with 7400', 'with 10 x 74'));
    expectMarked(RULE, one('with 7400 #! warning line-overloaded', 'with 11 x 74'));
    expectMarked(RULE, one('with 7400 #! warning line-overloaded', 'with 12 x 74'));
    expectMarked(RULE, one('with 7400 #! error line-overloaded', 'with 13 x 74'));
  });

  test('loads add up over statements and boards, and two buffers of a word are one load a line', () => {
    expectMarked(RULE, one('with 74LS04 #! error line-overloaded', 'with 7400', '', 7));
    expectSilent(RULE, one('with 74LS04', 'with 2 x 74LS244'));
  });

  test('a transceiver is counted once: the larger of input and off output', () => {
    // 640: 0.4 mA in, 0.4 mA off. Twenty of them are 8 mA.
    const boards = Array.from({ length: 20 }, () => 'transceives D0 with 74LS640').join('\n');
    const text = (more: string): string =>
      benchText({
        bus: '3 = D0',
        cards: { CPU: 'transceives D0 with 74LS three-state', RAM: `${boards}\n${more}` },
        fitted: '1 = CPU\n2 = RAM',
      });
    expectSilent(RULE, text(''));
    expect(messages(text('receives D0 with 74LS'))[0]).toContain('warning D0: CPU (74LS) must sink 8.4 mA');
  });

  test('only a point with less noise margin suffices: a note', () => {
    const text = benchText({
      bus: '3 = /IRQ wired-or',
      backplane:
        'terminate /IRQ 330 ohm to +5V, 470 ohm to GND before 1\nterminate /IRQ 330 ohm to +5V, 470 ohm to GND after 4',
      cards: { CPU: 'receives /IRQ with 74LS', IO: 'pulls /IRQ with 7406 #! note line-overloaded' },
      fitted: '1 = CPU\n2 = IO',
    });
    expectMarked(RULE, text);
  });

  test('a part rated at 0.55 V only is taken at that', () => {
    expectSilent(
      RULE,
      data('74F244', '', `terminate D0..D7 ${TERMINATOR} after 4`).replace('transceives', 'drives'),
    );
  });

  test('the weakest driver counts, at the highest voltage of the rail', () => {
    const text = (rail: string, mark: string): string =>
      benchText({
        bus: '3 = D0',
        rail,
        backplane: 'terminate D0 220 ohm to +5V after 4',
        cards: { CPU: 'transceives D0 with 8T26', RAM: `transceives D0 with own ${mark}` },
        fitted: '1 = CPU\n2 = RAM',
        more: 'part own {\n  like 74LS\n  output three-state off 0.02 mA\n  sinks 20.8 mA 0.5 V\n  gives 3 mA 2.4 V\n}',
      });
    // 4.5 V ÷ 220 Ω = 20.45 mA, at 5.25 V 21.6 mA; and 0.2 mA of the 8T26.
    expectSilent(RULE, text('5 V', ''));
    expectMarked(RULE, text('5 V 5 %', '#! warning line-overloaded'));
  });

  test('what is not known is named and never counted', () => {
    expectSilent(RULE, one('with 7400', ''));
    expectSilent(RULE, one('', 'with 30 x 74'));
    expectSilent(RULE, one('with UNHEARD-OF', 'with 30 x 74'));
    const text = benchText({
      bus: '3 = CLK',
      cards: {
        CPU: 'drives CLK with 7400 #! error line-overloaded',
        IO: 'receives CLK with 20 x 74',
        MYSTERY: 'receives CLK',
      },
      fitted: '1 = CPU\n2 = IO\n3 = MYSTERY',
    });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('not known: MYSTERY');
  });

  test('a terminator to a rail whose voltage nobody says is named, not counted', () => {
    expectSilent(RULE, one('with 74LS04', 'with 74LS', 'terminate CLK 100 ohm to VTT after 4'));
  });

  test('levels below ground are not judged', () => {
    expectSilent(RULE, one('with 1488', 'with 1489'));
  });

  test('unused boards and loose boards load nothing', () => {
    const text = benchText({
      bus: '3 = CLK',
      cards: { CPU: 'drives CLK with 7400', IO: 'receives CLK with 20 x 74' },
      fitted: '1 = CPU',
      more: 'loose IO',
    });
    expectSilent(RULE, text);
  });

  test('through a ribbon', () => {
    const port = (verb: string): string => `${verb}\nport J1 on IDC10 {\n 1 = GND\n 2 = Q0\n}`;
    const text = benchText({
      bus: '3 = X',
      cards: {
        CPU: port('drives Q0 with 7400 #! error line-overloaded'),
        IO: port('receives Q0 with 20 x 74'),
      },
      fitted: '1 = CPU\n2 = IO',
      more: 'ribbon W1 10 way {\n  end CPU.J1 stripe 1\n  end IO.J1 stripe 1\n}',
    });
    expectMarked(RULE, text);
    expectSilent(
      RULE,
      text.replace('end IO.J1 stripe 1', 'end IO.J1 stripe 1 found unplugged').replace(/#!.*/, ''),
    );
  });
});

describe('high level', () => {
  test('a resistor to ground asks too much of a gate: a warning', () => {
    const text = one(
      'with 74LS04 #! warning line-overloaded',
      'with 74LS',
      'pull-down CLK 1 kohm to GND after 4',
    );
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('must give 2.42 mA');
  });

  test('within less noise margin: a note; a terminator helps it', () => {
    const text = one('with 74LS244 #! note line-overloaded', 'with 74LS', 'pull-down CLK 680 ohm to GND');
    expectMarked(RULE, text);
    const helped = text.replace('pull-down', `terminate CLK ${TERMINATOR} after 4\npull-down`);
    expectSilent(RULE, helped.replace(/#!.*/, ''));
  });

  test('CMOS that gives its current at 3.8 V gives it at 2.4 V too', () => {
    expectSilent(
      RULE,
      one('with 74HCT244', 'with 74LS', 'pull-up CLK 2.2 kohm to +5V\npull-down CLK 3.3 kohm to GND'),
    );
  });
});
