import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'date-odd';

const machine = (fitted: string, more = ''): string => `
pinout 1
connector E6 {
  shape edge 1 x 6
}
bus B on E6 {
  1 = GND
}
backplane CAGE {
  slots 1..8 on B
}
card RAM {
  edge on B
}
fitted CAGE {
${fitted}
}
${more}`;

describe(RULE, () => {
  test('codes that read more than one way, or none', () => {
    expectMarked(
      RULE,
      machine(
        '  1 = RAM as A date 3/7/84 #! note date-odd\n  2 = RAM as B date 327 #! note date-odd\n' +
          '  3 = RAM as C date 5959 #! note date-odd\n  4 = RAM as D date "rev 2" #! note date-odd\n' +
          '  5 = RAM as E date 8353 #! note date-odd\n  6 = RAM as F date 1984 #! note date-odd',
      ),
    );
  });

  test('lists each reading', () => {
    const message = (date: string): string | undefined =>
      findingsOf(machine(`  1 = RAM date ${date}`)).find(({ rule }) => rule === RULE)?.message;
    expect(message('3/7/84')).toBe(
      'the date 3/7/84 of board RAM reads 2 ways: 3 July 1984 (D/M/YY), 7 March 1984 (M/D/YY)',
    );
    expect(message('8380')).toBe('the date 8380 of board RAM is no week, month or day that can be read');
  });

  test('a loose board has a date too', () => {
    expectMarked(RULE, machine('', 'loose RAM date 3/7/84 #! note date-odd'));
  });

  test('silent on a date that reads one way, and on boards without one', () => {
    expectSilent(
      RULE,
      machine(
        '  1 = RAM as A date 8327\n  2 = RAM as B date 2783\n  3 = RAM as C date 1984-07-03\n  4 = RAM as D date 23/7/84\n' +
          '  5 = RAM as E date 8153\n  6 = RAM as F\n  7 = RAM as G date "July 1984"\n  8 = RAM as H date 7/7/84',
      ),
    );
  });

  test('an allow line by board or card silences it', () => {
    for (const place of ['A', 'RAM'])
      expectSilent(
        [RULE, 'allow-unused'],
        machine('  1 = RAM as A date 3/7/84', `allow ${RULE} at ${place} "stamped by hand"`),
      );
  });
});
