import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'port-unexplained';

const machine = (port: string, more: string): string => `
pinout 1
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
connector E6 {
  shape edge 1 x 6
}
bus B on E6 {
  1 = GND by trace
}
backplane CAGE {
  slots 1..2 on B
}
card CLOCK {
  edge on B
${port}
}
card OTHER {
  port J1 on IDC10 {
    1..10 = A1..A10
  }
}
${more}`;

const J2 = (table: string, mark = '', head = ''): string =>
  `  port J2 on IDC10 { ${mark}\n${head}    ${table}\n  }`;
const FITTED = 'fitted CAGE {\n  1 = CLOCK\n}';
const MARK = '#! question port-unexplained';

describe(RULE, () => {
  test('unknown contacts and no cable, on a board in a slot or loose', () => {
    expectMarked(RULE, machine(J2('1..10 = unknown', MARK), FITTED));
    expectMarked(RULE, machine(J2('1..10 = unknown', MARK), 'loose CLOCK'));
  });

  test('contacts that are not listed are unknown too, and are counted', () => {
    const text = machine(J2('1..4 = GND by trace', MARK), FITTED);
    expectMarked(RULE, text);
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe('6 of 10 contacts of CLOCK.J2 are unknown, and no cable is plugged in');
    expect(finding?.path.map(({ contact }) => contact)).toEqual(['CLOCK.J2.5']);
  });

  test('found unplugged, the ribbon is named', () => {
    const text = machine(
      J2('1..10 = unknown', MARK),
      `${FITTED}\nribbon W2 10 way {\n  end CLOCK.J2 stripe 1 found unplugged\n  end unknown "rear panel"\n}`,
    );
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
      'and W2 was found unplugged',
    );
  });

  test('two boards of one card are one finding', () => {
    const text = machine(J2('1..10 = unknown', MARK), 'fitted CAGE {\n  1 = CLOCK as A\n  2 = CLOCK as B\n}');
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('A.J2 and B.J2');
  });

  test('where one board of two is plugged in, the other is told', () => {
    const text = machine(
      J2('1..10 = unknown', MARK),
      'fitted CAGE {\n  1 = CLOCK as A\n  2 = CLOCK as B\n}\nribbon W1 10 way {\n  end A.J2 stripe 1\n}',
    );
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('contacts of B.J2 are');
  });

  test('a port of the backplane', () => {
    expectMarked(
      RULE,
      machine('', '').replace(
        '  slots 1..2 on B',
        `  slots 1..2 on B\n  port PANEL on IDC10 { ${MARK}\n    1 = GND\n  }`,
      ),
    );
  });

  test('silent where every contact is known: named, spare or private', () => {
    expectSilent(RULE, machine(J2('1..8 = GND\n    9 = spare\n    10 = private'), FITTED));
  });

  test('silent where a ribbon or cable is plugged in', () => {
    const table = J2('1..10 = unknown');
    expectSilent(
      RULE,
      machine(table, `${FITTED}\nribbon W1 10 way {\n  end CLOCK.J2 stripe 1\n  end unknown\n}`),
    );
    expectSilent(RULE, machine(table, `${FITTED}\nloose OTHER\ncable C1 {\n  CLOCK.J2.1 = OTHER.J1.1\n}`));
  });

  test('a pin that is not there is not unknown', () => {
    expectSilent(RULE, machine(J2('1..9 = GND', '', '    pulled 10\n'), FITTED));
    const text = machine(J2('1..8 = GND', MARK, '    pulled 10\n'), FITTED);
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('1 of 9 contacts');
  });

  test('silent on a card of which there is no board', () => {
    expectSilent(RULE, machine(J2('1..10 = unknown'), ''));
  });

  test('an allow line by port, board or ribbon silences it', () => {
    for (const place of ['CLOCK.J2', 'CLOCK'])
      expectSilent(
        [RULE, 'allow-unused'],
        machine(J2('1..10 = unknown'), `${FITTED}\nallow ${RULE} at ${place} "factory test"`),
      );
  });
});
