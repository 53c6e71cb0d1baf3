import { expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'rail-unfed';
const PLANE_5V = PLANE.replace('\n  feed +12V from PSU at 3', '');
const MARKED = BUS.replace('3 = +12V by meter', `3 = +12V by meter #! error ${RULE}`);
const card = (more = ''): string =>
  `card CLOCK {\n  edge on B\n  takes +5V 1 A\n  takes +12V 40 mA\n${more}}`;
const fitted = '  1 = CLOCK as C1\n  2 = CLOCK as C2';

test('one finding for the rail, however many boards wait for it', () => {
  const text = rack({ bus: MARKED, plane: PLANE_5V, cards: card(), fitted });
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toBe(
    'nothing feeds +12V of CAGE (CAGE.1.3, meter), which 2 boards take',
  );
});

test('a feed at another contact is what is wrong, not a feed that lacks', () => {
  const fixes = (plane: string): (string | undefined)[] =>
    findingsOf(rack({ bus: MARKED, plane, cards: card(), fitted })).flatMap((one) =>
      one.rule === RULE ? [one.fix] : [],
    );
  const says = (how: string): string[] => [
    `find where +12V of PSU enters, and ${how} CAGE: \`feed +12V from PSU at 3\``,
  ];
  expect(fixes(PLANE_5V)).toEqual(says('say it in'));
  expect(fixes(PLANE.replace('+12V from PSU at 3', '+12V from PSU at 4'))).toEqual(
    says('correct its feed in'),
  );
});

test('a chip or a regulator that needs it counts as taking it', () => {
  const maker = 'card CLOCK {\n  edge on B\n  takes +5V 1 A\n  makes -5V from +12V with 7905\n}';
  expectMarked(RULE, rack({ bus: MARKED, plane: PLANE_5V, cards: maker, fitted }));
});

test('a rail neither fed nor taken is a standby rail', () => {
  expectSilent(RULE, rack({ plane: PLANE_5V, cards: card().replace('  takes +12V 40 mA\n', ''), fitted }));
});

test('fed by a regulator on a board, by a wire, or in part', () => {
  const maker = 'card REG {\n  edge on B\n  takes +5V 1 A\n  makes +12V from +5V with DCDC\n}';
  expectSilent(RULE, rack({ plane: PLANE_5V, cards: `${card()}\n${maker}`, fitted: `${fitted}\n  3 = REG` }));
  const aux =
    'connector P2 {\n  shape row 2\n}\nsupply AUX {\n  rail +12V 12 V\n  ground GND\n  port P1 on P2 {\n    1 = +12V\n    2 = GND\n  }\n}';
  const supply = `${SUPPLY.replace('  rail +12V 12 V\n', '')}\n${aux}`;
  const port = `${PLANE_5V}\n  port J9 on P2 {\n    1 = +12V\n    2 = GND\n  }`;
  const rest = 'cable C1 {\n  AUX.P1.1..2 = CAGE.J9.1..2\n}';
  expectSilent(
    [RULE, 'rail-missing', 'ground-missing'],
    rack({ supply, plane: port, cards: card(), fitted, rest }),
  );
  expectSilent(RULE, rack({ plane: `${PLANE}\n  cut +12V between 1, 2`, cards: card(), fitted }));
});

test('two backplanes of one bus are told apart, and no supply is not its matter', () => {
  const second =
    'backplane REAR {\n  slots 1..2 on B\n  feed GND from PSU at 1\n  feed +5V from PSU at 2\n}\nfitted REAR {\n  1 = CLOCK as C9\n}';
  const text = rack({ bus: MARKED, cards: card(), fitted, rest: second });
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('of REAR');
  expectSilent(RULE, rack({ supply: '', plane: '', cards: card(), fitted }));
});
