import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'line-no-pull-up';
const bench = (more: object = {}, mark = ''): string =>
  benchText({
    bus: '3 = /IRQ wired-or',
    cards: { CPU: 'receives /IRQ with 74LS', IO: `pulls /IRQ with 7406 ${mark}` },
    fitted: '1 = CPU\n2 = IO',
    ...more,
  });

describe('fires', () => {
  test('every board is closed: a warning', () => expectMarked(RULE, bench({}, '#! warning line-no-pull-up')));

  test('without the word wired-or, when all drivers are open collectors', () =>
    expectMarked(RULE, bench({ bus: '3 = /IRQ' }, '#! warning line-no-pull-up')));

  test('a board that is not closed may carry it: a question', () =>
    expectMarked(RULE, bench({ open: true }, '#! question line-no-pull-up')));

  test('a pull-down does not pull up', () =>
    expectMarked(RULE, bench({ backplane: 'pull-down /IRQ 10 kohm to GND' }, '#! warning line-no-pull-up')));

  test('a board without its resistor pack', () => {
    const cards = {
      CPU: 'receives /IRQ with 74LS\npull-up /IRQ 1 kohm to +5V as RN1',
      IO: 'pulls /IRQ with 7406 #! warning line-no-pull-up',
    };
    expectMarked(RULE, bench({ cards, fitted: '1 = CPU {\n without RN1\n}\n2 = IO' }));
    expectSilent(RULE, bench({ cards }).replace(/#!.*/, ''));
  });

  test('behind a cut, where the resistor does not reach', () => {
    const backplane = 'pull-up /IRQ 1 kohm to +5V after 4\ncut /IRQ between 2, 3';
    expectMarked(RULE, bench({ backplane }, '#! warning line-no-pull-up'));
  });

  test('between two boards over a ribbon', () => {
    const port = (verb: string): string => `${verb}\nport J1 on IDC10 {\n 1 = GND\n 2 = /BUSY\n}`;
    const cards = {
      CPU: port('receives /BUSY with 74LS'),
      IO: port('pulls /BUSY with 7438 #! warning line-no-pull-up'),
    };
    const more = 'ribbon W1 10 way {\n end CPU.J1 stripe 1\n end IO.J1 stripe 1\n}';
    expectMarked(RULE, bench({ cards, more }));
    // Nothing plugged in: the other end may hold it.
    expectSilent(RULE, bench({ cards }).replace(/#!.*/, ''));
  });

  test('eight sisters are one finding', () => {
    const text = bench({
      bus: '3..10 = VI0*..VI7* wired-or',
      cards: { CPU: 'receives VI0*..VI7* with 74LS', IO: 'pulls VI0*..VI7* with 7406 #! line-no-pull-up' },
    });
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('VI0*..VI7*');
  });
});

describe('silent', () => {
  test.each([
    ['a pull-up', 'pull-up /IRQ 1 kohm to +5V after 4'],
    ['a terminator', 'terminate /IRQ 220 ohm to +5V, 330 ohm to GND after 4'],
    ['a pull-up to a rail nobody knows', 'pull-up /IRQ 1 kohm to VTT'],
  ])('%s', (_, backplane) => expectSilent(RULE, bench({ backplane })));
  test('a pull-up on a board', () =>
    expectSilent(
      RULE,
      bench({
        cards: { CPU: 'receives /IRQ with 74LS\npull-up /IRQ 1 kohm to +5V', IO: 'pulls /IRQ with 7406' },
      }),
    ));
  test('nobody uses it', () => expectSilent(RULE, bench({ cards: { CPU: '', IO: 'untouched /IRQ' } })));
  test('a three-state line', () =>
    expectSilent(
      RULE,
      bench({ bus: '3 = X', cards: { CPU: 'receives X with 74LS', IO: 'drives X with 74LS244' } }),
    ));
  test('a loose board on the shelf', () =>
    expectSilent(RULE, bench({ fitted: '1..4 = empty', more: 'loose IO' })));
});
