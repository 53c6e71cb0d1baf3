import { expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'rail-unused';
const MARKED = SUPPLY.replace('rail +12V 12 V', `rail +12V 12 V #! note ${RULE}`);
const CPU = 'card CPU {\n  edge on B\n  takes +5V 1 A\n  receives D0 with 74LS\n}';
const fitted = '  1 = CPU\n  2..4 = empty';

test('a rail that nothing takes, fed to the bus or not', () => {
  expectMarked(RULE, rack({ supply: MARKED, cards: CPU, fitted }));
  expectMarked(
    RULE,
    rack({ supply: MARKED, plane: PLANE.replace('  feed +12V from PSU at 3', ''), cards: CPU, fitted }),
  );
  const least = rack({ supply: SUPPLY.replace('12 V', '12 V min 1 A'), cards: CPU, fitted });
  expect(findingsOf(least).find(({ rule }) => rule === RULE)?.message).toContain('wants a load');
});

test('taken by a board, a regulator, a chip, a terminator or a pull-up', () => {
  const with12 = (line: string): string =>
    rack({ cards: CPU.replace('  takes +5V', `  ${line}\n  takes +5V`), fitted });
  expectSilent(RULE, with12('takes +12V 10 mA'));
  expectSilent(RULE, with12('makes +8V from +12V with 7808'));
  expectSilent(RULE, with12('part U1 with XYZ +12V 1 mA'));
  expectSilent(RULE, with12('pull-up D0 4.7 kohm to +12V'));
  expectSilent(RULE, rack({ plane: `${PLANE}\n  pull-up D0 4.7 kohm to +12V after 4`, cards: CPU, fitted }));
});

test('where something is not described, nobody can tell', () => {
  expectSilent(RULE, rack({ cards: CPU, fitted: '  1 = CPU' }));
  expectSilent(
    RULE,
    rack({ cards: `${CPU}\ncard X {\n  edge on B\n}`, fitted: '  1 = CPU\n  2 = X\n  3..4 = empty' }),
  );
  const closed = 'card X {\n  edge on B\n  untouched rest\n}';
  expectMarked(
    RULE,
    rack({ supply: MARKED, cards: `${CPU}\n${closed}`, fitted: '  1 = CPU\n  2 = X\n  3..4 = empty' }),
  );
});

test('a rail that a board waits for in vain is not unused, and `allow` silences', () => {
  const cards = CPU.replace('  takes +5V', '  takes +12V 1 A\n  takes +5V');
  const plane = PLANE.replace('  feed +12V from PSU at 3', '');
  expectSilent(
    RULE,
    rack({
      cards,
      bus: BUS.replace('3 = +12V', '3 = unknown').replace(' by meter\n  4', '\n  4'),
      plane,
      fitted,
    }),
  );
  expectSilent(
    [RULE, 'allow-unused'],
    rack({ cards: CPU, fitted, rest: 'allow rail-unused at +12V "capped"' }),
  );
});
