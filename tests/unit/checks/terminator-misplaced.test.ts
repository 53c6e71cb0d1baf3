import { describe, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';

const RULE = 'terminator-misplaced';
const LEGS = '220 ohm to +5V, 330 ohm to GND';
const WARNING = '#! warning terminator-misplaced';
const bench = (backplane: string, io = '', fitted = '1 = CPU\n2 = IO\n4 = CPU as C2'): string =>
  benchText({
    bus: '3..10 = D0..D7\n11..12 = M0..M1 in 1..2',
    backplane,
    cards: { CPU: 'transceives D0..D7 with 8T26', IO: `transceives D0..D7 with 8T26\n${io}` },
    fitted,
  });

describe('on a backplane', () => {
  test.each(['after 3', 'after 1', 'before 4', 'before 2'])('%s of 1..4', (place) =>
    expectMarked(RULE, bench(`terminate D0..D7 ${LEGS} ${place} ${WARNING}`)),
  );
  test.each(['after 4', 'before 1', ''])('"%s" is right or unsaid', (place) =>
    expectSilent(RULE, bench(`terminate D0..D7 ${LEGS} ${place}`)),
  );
  test('the ends of a stretch', () => {
    expectSilent(RULE, bench(`cut D0..D7 between 2, 3\nterminate D0..D7 ${LEGS} after 2`));
    expectSilent(RULE, bench(`cut D0..D7 between 2, 3\nterminate D0..D7 ${LEGS} before 3`));
    expectMarked(RULE, bench(`cut D0..D7 between 2, 3\nterminate D0..D7 ${LEGS} after 1 ${WARNING}`));
  });
  test('lines that run through some slots only', () => {
    expectSilent(RULE, bench(`terminate M0..M1 ${LEGS} after 2`));
    expectMarked(RULE, bench(`terminate M0..M1 ${LEGS} after 1 ${WARNING}`));
  });
  test('a pull-up may sit anywhere', () => {
    expectSilent(RULE, bench('pull-up D0..D7 330 ohm to +5V after 2'));
    expectSilent(RULE, bench('terminate D0..D7 1 kohm to +5V after 2'));
  });
});

describe('on a board', () => {
  const io = `terminate D0..D7 ${LEGS} as RN1`;
  test('in a middle slot', () => expectMarked(RULE, bench('', `${io} ${WARNING}`)));
  test('two boards of one statement are one finding', () =>
    expectMarked(RULE, bench('', `${io} ${WARNING}`, '1 = CPU\n2 = IO as A\n3 = IO as B\n4 = CPU as C2')));
  test.each([
    ['in the first slot', '1 = IO\n2 = CPU'],
    ['in the last slot', '1 = CPU\n4 = IO'],
    ['in the last slot that is occupied', '1 = CPU\n3 = IO'],
    ['taken out', '1 = CPU\n2 = IO {\n without RN1\n}\n4 = CPU as C2'],
  ])('%s', (_, fitted) => expectSilent(RULE, bench('', io, fitted)));
  test('loose, with nothing plugged in', () => {
    expectSilent(RULE, `${bench('', io, '1 = CPU')}\nloose IO`);
  });
});

describe('on a ribbon', () => {
  const port = (line: string): string => `${line}\nport J1 on IDC10 {\n 1 = GND\n 2 = SEL\n}`;
  const text = (order: string[], at = '', mark = ''): string =>
    benchText({
      bus: '3 = X',
      cards: {
        HOST: port('drives SEL with 7438'),
        DISK: port('receives SEL with 74LS'),
        LAST: port(`receives SEL with 74LS\nterminate SEL ${LEGS} ${at} ${mark}`),
      },
      fitted: '1 = HOST\n2 = LAST\n3 = DISK',
      more: `ribbon W1 10 way {\n${order.map((name) => `end ${name}.J1 stripe 1`).join('\n')}\n}`,
    });
  test('the drop in the middle', () => {
    expectMarked(RULE, text(['HOST', 'LAST', 'DISK'], '', WARNING));
    expectMarked(RULE, text(['HOST', 'LAST', 'DISK'], 'at J1', WARNING));
  });
  test('either end', () => {
    expectSilent(RULE, text(['HOST', 'DISK', 'LAST']));
    expectSilent(RULE, text(['LAST', 'DISK', 'HOST'], 'at J1'));
  });
});
