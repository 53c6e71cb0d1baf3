import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'line-unterminated';
const T = '220 ohm to +5V, 330 ohm to GND after 4';
const bench = (backplane: string, more: object = {}): string =>
  benchText({
    bus: '3..10 = D0..D7\n11 = /RD\n12 = /WR strobe\n13..14 = GR0..GR1 wired-or',
    backplane,
    cards: {
      CPU: 'transceives D0..D7 with 8T26\ndrives /RD, /WR with 74LS244\nreceives GR0..GR1 with 74LS',
      RAM: 'transceives D0..D7 with 8T26\nreceives /RD, /WR with 74LS\npulls GR0..GR1 with 7406',
    },
    fitted: '1 = CPU\n4 = RAM',
    ...more,
  });
const PULLS = 'pull-up GR0..GR1 1 kohm to +5V';

describe('a vector with a gap', () => {
  test('one line', () =>
    expectMarked(
      RULE,
      bench(`${PULLS}\nterminate D0..D2, D4..D7, /RD, /WR ${T} #! warning line-unterminated`),
    ));

  test('half of it: one finding that names them', () => {
    const text = bench(`${PULLS}\nterminate D0..D3, /RD, /WR ${T} #! warning line-unterminated`);
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
      'D4..D7 of CAGE are not terminated',
    );
  });

  test('one line that lacks the terminator at one end', () => {
    const near = '220 ohm to +5V, 330 ohm to GND before 1';
    const ends = (names: string, mark = ''): string =>
      bench(`${PULLS}\nterminate D0..D7, /RD, /WR ${T}${mark}\nterminate ${names} ${near}`);
    const text = ends('D0..D2, D4..D7, /RD, /WR', ' #! warning line-unterminated');
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toBe(
      'D3 of CAGE is terminated after slot 4 of CAGE only, its sisters D0..D2 and D4..D7 are at both ends',
    );
    expectMarked(RULE, ends('D0..D7, /RD', ' #! question line-unterminated'));
    // More than half at one end is no gap, and two legs said in two statements are one terminator.
    expectSilent(RULE, ends('D0..D2'));
    expectSilent(
      RULE,
      bench(
        `${PULLS}\nterminate D0..D2, D4..D7, /RD, /WR ${T}\npull-up D3 220 ohm to +5V after 4\npull-down D3 330 ohm to GND after 4`,
      ),
    );
  });

  test('more than half is no gap', () => expectSilent(RULE, bench(`${PULLS}\nterminate D0..D2 ${T}`)));

  test('a pull-up is no terminator', () =>
    expectMarked(
      RULE,
      bench(
        `${PULLS}\npull-up D3 1 kohm to +5V\nterminate D0..D2, D4..D7, /RD, /WR ${T} #! warning line-unterminated`,
      ),
    ));

  test('the stretch behind a cut', () =>
    expectMarked(
      RULE,
      bench(`${PULLS}\ncut D3 between 2, 3\nterminate D0..D7, /RD, /WR ${T} #! warning line-unterminated`),
    ));

  test('terminated by two statements, or on a board', () => {
    expectSilent(
      RULE,
      bench(
        `${PULLS}\nterminate D0..D2, D4..D7, /RD, /WR ${T}\npull-up D3 220 ohm to +5V after 4\npull-down D3 330 ohm to GND after 4`,
      ),
    );
    const text = bench(`${PULLS}\nterminate D0..D2, D4..D7, /RD, /WR ${T}`);
    expectSilent(RULE, text.replace('pulls GR', `terminate D3 220 ohm to +5V, 330 ohm to GND\npulls GR`));
  });
});

describe('the rest of a terminated bus', () => {
  test('a driven line: a question', () =>
    expectMarked(RULE, bench(`${PULLS}\nterminate D0..D7, /RD ${T} #! question line-unterminated`)));

  test('a line nobody drives or hears', () => {
    const text = bench(`${PULLS}\nterminate D0..D7, /RD ${T}`);
    expectSilent(RULE, text.replace('/RD, /WR with 74LS244', '/RD with 74LS244'));
    expectSilent(RULE, text.replace('/RD, /WR with 74LS\n', '/RD with 74LS\n'));
  });

  test('few are terminated', () => expectSilent(RULE, bench(`${PULLS}\nterminate /RD ${T}`)));
});

describe('silent', () => {
  test('all terminated, open collectors pulled up', () =>
    expectSilent(RULE, bench(`${PULLS}\nterminate D0..D7, /RD, /WR ${T}`)));
  test('no terminators at all', () => expectSilent(RULE, bench(PULLS)));
  test('open collectors among terminated ones', () =>
    expectSilent(RULE, bench(`pull-up GR1 1 kohm to +5V\nterminate D0..D7, /RD, /WR, GR0 ${T}`)));
  test('a terminator whose rail nobody knows', () =>
    expectSilent(
      RULE,
      bench(`${PULLS}\nterminate D3 100 ohm to VTT after 4\nterminate D0..D2, D4..D7, /RD, /WR ${T}`),
    ));
});

describe('a clock or strobe on a long line', () => {
  const long = {
    bus: '3 = /WR strobe #! note line-unterminated',
    cards: { CPU: 'drives /WR with 74LS244', RAM: 'receives /WR with 74LS' },
  };
  test('a note with the figures', () => {
    const text = bench('line 100 ohm 50 pF/cm', long);
    expectMarked(RULE, text);
  });
  test('short, or without figures: silent', () => {
    const short = { ...long, bus: '3 = /WR strobe' };
    expectSilent(RULE, bench('line 60 ohm 1.7 pF/cm', short));
    expectSilent(RULE, bench('line 60 ohm', short));
    expectSilent(RULE, bench('', short));
    expectSilent(RULE, bench('line 100 ohm 50 pF/cm', { ...long, bus: '3 = /WR' }));
  });
});
