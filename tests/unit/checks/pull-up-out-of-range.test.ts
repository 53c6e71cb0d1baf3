import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'pull-up-out-of-range';
const irq = (pull: string, io = 'with 7406', cpu = 'receives /IRQ with 74LS', rail = '5 V'): string =>
  benchText({
    bus: '3 = /IRQ wired-or',
    backplane: pull,
    rail,
    cards: { CPU: cpu, IO: `pulls /IRQ ${io}` },
    fitted: '1 = CPU\n2 = IO',
  });

describe('too small', () => {
  test('far below: an error with the window', () => {
    const text = irq('pull-up /IRQ 100 ohm to +5V after 4 #! error pull-up-out-of-range');
    expectMarked(RULE, text);
    const found = findingsOf(text).find(({ rule }) => rule === RULE);
    // (5 − 0.4) ÷ (16 mA − 0.4 mA); (5 − 2.4) ÷ (250 µA + 20 µA).
    expect(found?.message).toContain('295 ohm to 9.63 kohm');
  });

  test('a little below: a warning where the part has no stronger point', () => {
    expectMarked(RULE, irq('pull-up /IRQ 270 ohm to +5V #! warning pull-up-out-of-range', 'with 7403'));
  });

  test('the driver carries it with less noise margin: a note', () => {
    expectMarked(RULE, irq('pull-up /IRQ 270 ohm to +5V #! note pull-up-out-of-range'));
  });

  test('several pull-ups are one in parallel', () => {
    const text = irq(
      'pull-up /IRQ 470 ohm to +5V before 1 #! error pull-up-out-of-range\npull-up /IRQ 470 ohm to +5V after 4',
      'with 7403',
      'receives /IRQ with 3 x 74',
    );
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
      '2 pull-ups in parallel are 235 ohm',
    );
  });

  test('a terminator of one leg is a pull-up', () => {
    expectMarked(RULE, irq('terminate /IRQ 50 ohm to +5V after 4 #! error pull-up-out-of-range'));
    expectSilent(RULE, irq('terminate /IRQ 150 ohm to +5V after 4', 'with 7438'));
  });
});

describe('too large', () => {
  test('leakage leaves less than 2.4 V: a note, less than 2.0 V: a warning', () => {
    expectSilent(RULE, irq('pull-up /IRQ 9.1 kohm to +5V'));
    expectMarked(RULE, irq('pull-up /IRQ 10 kohm to +5V #! note pull-up-out-of-range'));
    expectMarked(RULE, irq('pull-up /IRQ 100 kohm to +5V #! warning pull-up-out-of-range'));
  });
});

describe('silent', () => {
  test('within the window', () => expectSilent(RULE, irq('pull-up /IRQ 1 kohm to +5V after 4')));
  test('at the edge of the window', () =>
    expectSilent(RULE, irq('pull-up /IRQ 300 ohm to +5V', 'with 7403', 'receives /IRQ with 74HCT', '4.9 V')));
  test('split terminators, which line-overloaded judges', () =>
    expectSilent(RULE, irq('terminate /IRQ 33 ohm to +5V, 47 ohm to GND after 4')));
  test('a totem-pole or three-state driver', () =>
    expectSilent(
      RULE,
      irq('pull-up /IRQ 10 ohm to +5V').replace('pulls /IRQ with 7406', 'drives /IRQ with 74LS244'),
    ));
  test('nobody pulls', () =>
    expectSilent(
      RULE,
      irq('pull-up /IRQ 10 ohm to +5V').replace('pulls /IRQ with 7406', 'receives /IRQ with 74'),
    ));
  test('a rail without a known voltage', () => expectSilent(RULE, irq('pull-up /IRQ 10 ohm to VTT')));
  test('unknown driver: only what is known is judged', () => {
    expectSilent(RULE, irq('pull-up /IRQ 10 ohm to +5V', ''));
  });
  test('inputs that are too much by themselves are one finding, of line-overloaded', () => {
    const text = irq('pull-up /IRQ 1 kohm to +5V', 'with 74LS05', 'receives /IRQ with 10 x 74');
    expectSilent(RULE, text);
    expect(findingsOf(text).filter(({ rule }) => rule === 'line-overloaded')).toHaveLength(1);
  });
});

test('sisters fail together', () => {
  const text = benchText({
    bus: '3..9 = IRQ1*..IRQ7* wired-or',
    backplane: 'pull-up IRQ1*..IRQ7* 50 ohm to +5V after 4 #! error pull-up-out-of-range',
    cards: { CPU: 'receives IRQ1*..IRQ7* with 74LS', IO: 'pulls IRQ1*..IRQ7* with 7406' },
    fitted: '1 = CPU\n2 = IO',
  });
  expectMarked([RULE, 'line-overloaded'], text);
});
