import { expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, harness, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'ground-missing';
const CPU = 'card CPU {\n  edge on B\n  takes +5V 1 A\n}';
const fitted = '  1 = CPU';
const J1 = '  port J1 on H4 {\n    1 = +5V\n    2 = GND\n  }\n';
const main = `card CPU {\n  edge on B\n  takes +5V 1 A\n${J1}}`;
const display = (second: string, mark = ''): string =>
  `card DISPLAY {\n  port J1 on H4 {\n    1 = +5V\n    2 = ${second}\n  }\n  takes +5V 400 mA${mark}\n}`;
const rest = 'loose DISPLAY\nribbon W1 4 way {\n  end CPU.J1 stripe 1\n  end DISPLAY.J1 stripe 1\n}';

test('a backplane whose ground goes nowhere is one finding', () => {
  const text = rack({
    plane: PLANE.replace('  feed GND from PSU at 1\n', ''),
    cards: CPU,
    fitted: '  1 = CPU as A\n  2 = CPU as B2',
  }).replace('backplane CAGE {', `backplane CAGE { #! error ${RULE}`);
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
    'no ground of it goes back to PSU',
  );
  // The cause is not a board: nobody can allow it for one.
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.about).toEqual(['CAGE', 'PSU', 'GND']);
});

test('boards of one card without return are one finding that names each', () => {
  const text = rack({
    cards: `${main}\n${display('spare', ` #! error ${RULE}`)}`,
    fitted: '  1 = CPU as A\n  2 = CPU as B2',
    rest: `loose DISPLAY as LEFT
loose DISPLAY as RIGHT
ribbon W1 4 way {
  end A.J1 stripe 1
  end LEFT.J1 stripe 1
}
ribbon W2 4 way {
  end B2.J1 stripe 1
  end RIGHT.J1 stripe 1
}`,
  });
  expectMarked(RULE, text);
  const [found] = findingsOf(text).filter(({ rule }) => rule === RULE);
  expect(found?.message).toContain('; the same on 1 more board');
  expect(found?.about).toEqual(expect.arrayContaining(['LEFT', 'RIGHT']));
});

test('a board that gets a rail by ribbon and no return', () => {
  expectMarked(RULE, rack({ cards: `${main}\n${display('spare', ` #! error ${RULE}`)}`, fitted, rest }));
  expectSilent(RULE, rack({ cards: `${main}\n${display('GND')}`, fitted, rest }));
  expectSilent(RULE, rack({ cards: `${main}\n${display('spare')}`, fitted, rest: 'loose DISPLAY' }));
});

test('a return that nobody knows to be one is a question', () => {
  expectMarked(RULE, rack({ cards: `${main}\n${display('unknown', ` #! question ${RULE}`)}`, fitted, rest }));
});

test('a supply that does not say its ground is a question', () => {
  const supply = SUPPLY.replace('supply PSU {', `supply PSU { #! question ${RULE}`).replace(
    '  ground GND\n',
    '',
  );
  expectMarked(
    RULE,
    rack({ supply, plane: PLANE.replace('  feed GND from PSU at 1\n', ''), cards: CPU, fitted }),
  );
});

test('each supply needs its own return, unless grounds are one', () => {
  const two = `${SUPPLY.replace('  rail +12V 12 V\n', '')}\nsupply AUX {\n  rail +12V 12 V\n  ground RTN\n}`;
  const plane = PLANE.replace('+12V from PSU', '+12V from AUX');
  const cards = 'card CPU {\n  edge on B\n  takes +5V 1 A\n  takes +12V 1 A\n}';
  const text = rack({ supply: two, plane, cards, fitted });
  expectMarked(RULE, text.replace('backplane CAGE {', `backplane CAGE { #! error ${RULE}`));
  expectSilent(RULE, rack({ supply: two, plane: `${plane}\n  feed RTN from AUX at 1`, cards, fitted }));
});

test('the return of a regulator on another board', () => {
  const maker = (second: string): string =>
    `card CPU {\n  edge on B\n  takes +12V 1 A\n  makes -5V from +12V with 7905\n  port J1 on H4 {\n    1 = -5V\n    2 = ${second}\n  }\n}`;
  const user = (mark = ''): string =>
    `card DISPLAY {\n  port J1 on H4 {\n    1 = -5V\n    2 = GND\n  }\n  takes -5V 3 mA${mark}\n}`;
  expectSilent(RULE, rack({ cards: `${maker('GND')}\n${user()}`, fitted, rest }));
  expectMarked(RULE, rack({ cards: `${maker('spare')}\n${user(` #! error ${RULE}`)}`, fitted, rest }));
});

test('a.c. lines are their own return, and a healthy machine is silent', () => {
  const supply = 'supply PSU {\n  rail +5V 5 V\n  rail +12V 12 V\n  rail AC1 9 V ac\n  ground GND\n}';
  const cards = 'card CPU {\n  edge on B {\n    1 = AC2\n  }\n  takes AC1 1 A\n}';
  expectSilent(
    RULE,
    rack({
      supply,
      bus: BUS.replace('7 = spare', '7 = AC1'),
      plane: `${PLANE}\n  feed AC1 from PSU at 7`,
      cards,
      fitted,
    }),
  );
  expectSilent(RULE, rack({ cards: CPU, fitted }));
});

test('a sense lead is no return', () => {
  const wires = 'PSU.P1.1..2, PSU.P1.5..6 = DISPLAY.J9.1..2, DISPLAY.J9.5..6';
  expectSilent(RULE, harness({}));
  expectMarked(RULE, harness({ wires, takes: `+5V 1 A at J9 #! error ${RULE}` }));
});

test('a return whose pin is pulled', () => {
  const far = '  1..2 = +5V\n  4 = GND\n  3, 5..8 = spare\n  pulled 4';
  expectMarked(RULE, harness({ far, takes: `+5V 1 A at J9 #! error ${RULE}` }));
});
