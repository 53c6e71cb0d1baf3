import { expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, PLANE, rack } from './rail-machine.ts';

const RULE = 'pull-up-too-high';
const line = (bias: string, use: string, mark = true): string =>
  rack({
    plane: `${PLANE}\n  ${bias}${mark ? ` #! error ${RULE}` : ''}`,
    cards: `card CPU {\n  edge on B\n  takes +5V 1 A\n  takes +12V 1 A\n  ${use}\n}`,
    fitted: '  1 = CPU as A\n  2 = CPU as C',
  });
const silent = (bias: string, use: string): void => expectSilent(RULE, line(bias, use, false));

test('a pull-up to more than an input, or an output, stands', () => {
  const text = line('pull-up /IRQ 1 kohm to +12V after 4', 'receives /IRQ with 74LS');
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toBe(
    'the pull-up to +12V lifts /IRQ to 12 V, above the 7 V that 74LS on A stands',
  );
  expectMarked(RULE, line('pull-up /IRQ 1 kohm to +12V after 4', 'pulls /IRQ with 74LS38'));
});

test('what stands it is silent, and so is what nobody knows', () => {
  silent('pull-up /IRQ 1 kohm to +5V after 4', 'receives /IRQ with 7404');
  silent('pull-up /IRQ 1 kohm to +12V after 4', 'pulls /IRQ with 7406');
  silent('pull-up /IRQ 1 kohm to +12V after 4', 'receives /IRQ');
  silent('pull-up /IRQ 1 kohm to +12V after 4', 'receives /IRQ with XYZ99');
  silent('pull-up /IRQ 1 kohm to VXX after 4', 'receives /IRQ with 74LS');
  silent('pull-up /IRQ 1 kohm to +12V after 4', 'untouched /IRQ');
});

test('a split terminator counts as its divider', () => {
  silent('terminate D0 1 kohm to +12V, 470 ohm to GND after 4', 'receives D0 with 7404');
  const text = line('terminate D0 470 ohm to +12V, 1 kohm to GND after 4', 'receives D0 with 7404');
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('to 8.16 V');
});

test('all resistors of a line are one divider', () => {
  const bias = 'terminate D0 220 ohm to +5V, 330 ohm to GND after 4\n  pull-up D0 10 kohm to +12V after 4';
  silent(bias, 'receives D0 with 7404');
});

test('the tolerance of the rail counts; one finding stands for all lines of a statement', () => {
  const bus = BUS.replace('6 = SYNC by trace', '6 = D1 by trace');
  const text = line('pull-up D0..D1 1 kohm to +12V after 4', 'receives D0..D1 with 74LS').replace(BUS, bus);
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('the same on 1 more line');
  expectMarked(
    RULE,
    line('pull-up D0 1 kohm to +5V after 4', 'receives D0 with 7404').replace('+5V 5 V', '+5V 5 V 12 %'),
  );
});

test('a pull-up on a board, unless it is taken out; own parts', () => {
  const card = 'pull-up D0 1 kohm to +12V as RN1\n  receives D0 with 74LS';
  const fitted = (block: string): string =>
    rack({ cards: `card CPU {\n  edge on B\n  takes +12V 1 A\n  ${card}\n}`, fitted: `  1 = CPU${block}` });
  expectMarked(RULE, fitted('').replace('as RN1', `as RN1 #! error ${RULE}`));
  expectSilent(RULE, fitted(' {\n    without RN1\n  }'));
  const own = 'part SOFT {\n  like 74LS\n  input low 0.4 mA high 20 uA stands 4 V\n}';
  expectMarked(RULE, `${line('pull-up D0 1 kohm to +5V after 4', 'receives D0 with SOFT')}${own}\n`);
});
