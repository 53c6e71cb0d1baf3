import { describe, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';

const RULE = 'line-over-terminated';
const LEGS = '220 ohm to +5V, 330 ohm to GND';
const BOTH = `terminate D0..D7 ${LEGS} before 1\nterminate D0..D7 ${LEGS} after 4`;
const WARNING = '#! warning line-over-terminated';
const bench = (backplane: string, ram = '', fitted = '1 = CPU\n4 = RAM'): string =>
  benchText({
    bus: '3..10 = D0..D7',
    backplane,
    cards: { CPU: 'transceives D0..D7 with 8T26', RAM: `transceives D0..D7 with 8T26\n${ram}` },
    fitted,
  });

describe('fires', () => {
  test('a third on a board', () =>
    expectMarked(RULE, bench(BOTH, `terminate D0..D7 ${LEGS} as RN1 ${WARNING}`)));
  test('a third on the backplane', () =>
    expectMarked(RULE, bench(`${BOTH}\nterminate D0..D7 ${LEGS} ${WARNING}`)));
  test('three boards that each carry one', () =>
    expectMarked(
      RULE,
      bench('', `terminate D0..D7 ${LEGS} as RN1 ${WARNING}`, '1 = RAM as A\n2 = RAM as B\n4 = RAM as C'),
    ));
});

describe('silent', () => {
  test('one at each end', () => expectSilent(RULE, bench(BOTH)));
  test('the removable one is out', () =>
    expectSilent(
      RULE,
      bench(BOTH, `terminate D0..D7 ${LEGS} as RN1`, '1 = CPU\n4 = RAM {\n without RN1\n}'),
    ));
  test('pull-ups, by word or by value', () => {
    expectSilent(RULE, bench(`${BOTH}\npull-up D0..D7 1 kohm to +5V`, 'pull-up D0..D7 330 ohm to +5V'));
    expectSilent(RULE, bench(BOTH, 'terminate D0..D7 1 kohm to +5V'));
  });
  test('two legs in two statements are one terminator', () =>
    expectSilent(
      RULE,
      bench(
        `terminate D0..D7 ${LEGS} before 1\nterminate D0..D7 220 ohm to +5V after 4\nterminate D0..D7 330 ohm to GND after 4`,
      ),
    ));
  test('a cut makes two lines', () =>
    expectSilent(
      RULE,
      bench(
        `cut D0..D7 between 2, 3\n${BOTH}\nterminate D0..D7 ${LEGS} after 2\nterminate D0..D7 ${LEGS} before 3`,
      ),
    ));
});

describe('ribbons', () => {
  const port = (line: string): string =>
    `${line}\nport J1 on IDC10 {\n 1 = GND\n 2 = SEL\n}\nport J2 on IDC10 {\n 1 = GND\n 2 = SEL\n}`;
  const drives = `receives SEL with 74LS\nterminate SEL 220 ohm to +5V, 330 ohm to GND as RP1 ${WARNING}`;
  const text = (fitted: string, more: string): string =>
    benchText({
      bus: '3 = X',
      cards: { HOST: port('drives SEL with 7438'), DISK: port(drives) },
      fitted,
      more,
    });

  test('three drops, three terminators', () =>
    expectMarked(
      RULE,
      text(
        '1 = HOST\n2 = DISK as A\n3 = DISK as B\n4 = DISK as C',
        'ribbon W1 10 way {\n end HOST.J1 stripe 1\n end A.J1 stripe 1\n end B.J1 stripe 1\n end C.J1 stripe 1\n}',
      ),
    ));
  test('a chain of two ribbons still has two ends', () =>
    expectMarked(
      RULE,
      text(
        '1 = DISK as A\n2 = DISK as B\n3 = DISK as C',
        'ribbon W1 10 way {\n end A.J1 stripe 1\n end B.J1 stripe 1\n}\nribbon W2 10 way {\n end B.J2 stripe 1\n end C.J1 stripe 1\n}',
      ),
    ));
  test('two ends, two terminators; an unplugged one does not count', () => {
    const fitted = '1 = DISK as A\n2 = DISK as B\n3 = DISK as C';
    const ends = (last: string): string =>
      `ribbon W1 10 way {\n end A.J1 stripe 1\n end B.J1 stripe 1\n end C.J1 stripe 1 ${last}\n}`;
    expectSilent(RULE, text(fitted, ends('found unplugged')).replace(/#!.*/, ''));
    expectMarked(RULE, text(fitted, ends('')));
  });
  test('a ribbon from the middle of a backplane is a third end', () => {
    const cage = benchText({
      bus: '3..10 = D0..D7',
      backplane: BOTH,
      cards: {
        CPU: 'transceives D0..D7 with 8T26',
        MID: 'transceives D0..D7 with 8T26\nport J1 on IDC10 {\n 1 = GND\n 2..9 = D0..D7\n}',
        BOX: `transceives D0..D7 with 8T26\nterminate D0..D7 ${LEGS}\nport J1 on IDC10 {\n 1 = GND\n 2..9 = D0..D7\n}`,
      },
      fitted: '1 = CPU\n3 = MID\n4 = CPU as CPU2',
      more: 'loose BOX\nribbon W1 10 way {\n end MID.J1 stripe 1\n end BOX.J1 stripe 1\n}',
    });
    expectSilent(RULE, cage);
  });
});
