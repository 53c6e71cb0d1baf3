import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'guess-carries-power';

const SUPPLY = `
pinout 1
supply PSU {
  rail +5V 5 V max 12 A
  rail +12V 12 V max 2 A
  ground GND
}
connector E6 {
  shape edge 1 x 6
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}`;

/** A cage of three slots on a bus with this table. */
const cage = (table: string, fitted: string, feed = '', more = ''): string => `${SUPPLY}
bus B on E6 {
${table}
}
backplane CAGE {
  slots 1..3 on B
  feed GND from PSU at 1
  feed +5V from PSU at 2 ${feed}
}
card RAM {
  edge on B
  takes +5V 1 A
}
fitted CAGE {
${fitted}
}
${more}`;

const TWO_BOARDS = '  1 = RAM as A\n  2 = RAM as B\n  3 = empty';

describe(RULE, () => {
  test('a guess is a warning and an unsaid rail a question, each once however many boards there are', () => {
    expectMarked(
      RULE,
      cage(
        '  1 = GND by silkscreen\n  2, 3 = +5V by guess #! warning guess-carries-power\n  4 = +12V #! question guess-carries-power',
        TWO_BOARDS,
      ),
    );
  });

  test('says which contacts, how known, and which boards', () => {
    const [finding] = findingsOf(cage('  1 = GND by silkscreen\n  2, 3 = +5V by guess', TWO_BOARDS)).filter(
      ({ rule }) => rule === RULE,
    );
    expect(finding?.message).toBe(
      '+5V on contacts 2, 3 of B is known by guess only, and A and 1 more would be fed by it at CAGE.1.2',
    );
    expect(finding?.path.map(({ contact }) => contact)).toEqual(['CAGE.1.2', 'CAGE.1.3']);
    expect(finding?.about).toEqual(['+5V', 'B', 'A', 'B']);
  });

  test('two names on one line are two rails to meter', () => {
    expectMarked(
      RULE,
      cage(
        '  1 = GND by silkscreen\n  2, 3 = +5V, +12V by guess #! guess-carries-power, guess-carries-power',
        TWO_BOARDS,
      ),
    );
  });

  test('of ground only the guess is told', () => {
    expectMarked(
      RULE,
      cage('  1 = GND by guess #! warning guess-carries-power\n  4 = GND\n  2 = +5V by meter', TWO_BOARDS),
    );
  });

  test.each(['silkscreen', 'trace', 'meter 2026-05-02', 'manual "page 3"', '"seen on the fuse label"'])(
    'silent where it is known by %s',
    (by) => expectSilent(RULE, cage(`  1 = GND by ${by}\n  2, 3 = +5V by ${by}`, TWO_BOARDS)),
  );

  test('silent where no board is fitted on that bus', () => {
    expectSilent(RULE, cage('  1 = GND\n  2, 3 = +5V by guess', '  1..3 = empty'));
    expectSilent(RULE, cage('  1 = GND\n  2, 3 = +5V by guess', '', '', 'loose RAM "on the shelf"'));
  });

  test('a slot that carries another bus does not count', () => {
    expectSilent(
      RULE,
      `${SUPPLY}
bus A on E6 {
  1 = GND by trace
  2 = +5V by trace
}
bus B on E6 {
  1 = GND by guess
  2 = +12V by guess
}
backplane CAGE {
  slots 1 on A
  slots 2 on B
}
card RAM {
  edge on A
}
fitted CAGE {
  1 = RAM
  2 = empty
}`,
    );
  });

  test('a feed that says how it is known speaks for its contact only', () => {
    expectSilent(RULE, cage('  1 = GND by meter\n  2 = +5V', TWO_BOARDS, 'by trace'));
    expectSilent(RULE, cage('  1 = GND by meter\n  2 = +5V by guess', TWO_BOARDS, 'by meter'));
    const both = cage(
      '  1 = GND by meter\n  2, 3 = +5V #! question guess-carries-power',
      TWO_BOARDS,
      'by trace',
    );
    expectMarked(RULE, both);
    expect(findingsOf(both).find(({ rule }) => rule === RULE)?.message).toContain('contact 3 of B');
    for (const by of ['', 'by guess', 'by "lugs, bus bar"'])
      expectMarked(RULE, cage('  1 = GND by meter\n  2 = +5V #! guess-carries-power', TWO_BOARDS, by));
  });

  test('the meter with power on speaks for its contact where it shows the rail', () => {
    const readings = (line: string, power = 'on'): string =>
      `readings 2026-05-02 power ${power} {\n  ${line}\n}`;
    const table = '  1 = GND by meter\n  2 = +5V';
    for (const line of [
      'CAGE.1.2 to CAGE.1.1 = 5.02 V',
      'CAGE.3.2 to GND = 4.6 V',
      'GND to CAGE.2.2 = -5.1 V',
    ])
      expectSilent(RULE, cage(table, TWO_BOARDS, '', readings(line)));
    for (const [line, power] of [
      ['CAGE.1.2 to GND = 3.9 V', 'on'],
      ['CAGE.1.2 to GND = -5 V', 'on'],
      ['CAGE.1.2 to GND = 5 V', 'off'],
      ['CAGE.1.2 to CAGE.2.2 = 0.1 ohm', 'off'],
    ] as const)
      expectMarked(
        RULE,
        cage(`${table} #! question guess-carries-power`, TWO_BOARDS, '', readings(line, power)),
      );
  });

  test("a card's own claim counts, what it repeats from its bus does not", () => {
    const text = (own: string, fitted: string): string => `${SUPPLY}
bus B on E6 {
  1 = GND by silkscreen
  2 = +5V by silkscreen
}
backplane CAGE {
  slots 1..2 on B
}
card RAM {
  edge on B {
    ${own}
  }
}
${fitted}`;
    const fitted = 'fitted CAGE {\n  1 = RAM as A\n  2 = RAM as B\n}';
    expectMarked(RULE, text('3 = +12V by guess #! warning guess-carries-power', fitted));
    expectMarked(RULE, text('3 = +12V #! question guess-carries-power', fitted));
    expectSilent(RULE, text('2 = +5V', fitted));
    expectSilent(RULE, text('3 = +12V by guess', 'loose RAM'));
  });

  test('a port counts while something is plugged in', () => {
    const text = (end: string, by = ''): string => `${SUPPLY}
card GAUGE {
  port J1 on IDC10 {
    1..9 step 2 = GND
    2 = +5V ${by}
  }
}
loose GAUGE
ribbon W1 10 way {
  ${end}
}`;
    expectMarked(RULE, text('end GAUGE.J1 stripe 1', '#! question guess-carries-power'));
    expectMarked(RULE, text('end GAUGE.J1 stripe 1', 'by guess #! warning guess-carries-power'));
    expectSilent(RULE, text('end GAUGE.J1 stripe 1', 'by trace'));
    expectSilent(RULE, text('end GAUGE.J1 stripe 1 found unplugged', 'by guess'));
    expectSilent(RULE, text('end unknown "to the rear"', 'by guess'));
  });

  test('a power harness plugged into a supply whose port is unsaid', () => {
    expectMarked(
      RULE,
      `
pinout 1
connector P2 {
  shape row 2
}
supply PSU {
  rail +5V 5 V
  ground GND
  port P1 on P2 {
    1 = +5V #! question guess-carries-power
    2 = GND
  }
}
card DISPLAY {
  port J9 on P2 {
    1 = +5V by silkscreen
    2 = GND by silkscreen
  }
}
loose DISPLAY
cable C1 {
  PSU.P1.1..2 = DISPLAY.J9.1..2
}`,
    );
  });

  test('a rail in certain slots only counts where a board sits in one of them', () => {
    const table = '  1 = GND by trace\n  2 = +5V by trace\n  4 = +12V in 2..3 by guess';
    expectSilent(RULE, cage(table, '  1 = RAM\n  2..3 = empty'));
    expectMarked(RULE, cage(`${table} #! warning guess-carries-power`, '  1 = empty\n  2 = RAM'));
  });

  test('published tables say how they are known', () => {
    expectSilent(
      RULE,
      `
pinout 1
use published "ieee-696"
card RAM {
  edge on S100
}
backplane CAGE {
  slots 1..4 on S100
}
fitted CAGE {
  1 = RAM
}`,
    );
  });

  test('an allow line by rail, bus or board silences it', () => {
    for (const place of ['+5V', 'B', 'CAGE.1.2', 'CAGE'])
      expectSilent(
        [RULE, 'allow-unused'],
        cage(
          '  1 = GND by meter\n  2 = +5V by guess',
          '  1 = RAM',
          '',
          `allow ${RULE} at ${place} "traced later"`,
        ),
      );
  });
});

test('continuity with a rail of the supply, or with a contact that is known, speaks for a contact', () => {
  const reading = (text: string): string =>
    cage(
      '  1 = GND\n  2 = +5V\n  3..6 = spare',
      TWO_BOARDS,
      '',
      `readings 2026-05-02 cards out power off {\n  ${text}\n}`,
    );
  expectSilent(RULE, reading('PSU.+5V to CAGE.1.2 = 0.2 ohm'));
  expectMarked(
    RULE,
    reading('PSU.+5V to CAGE.1.2 = 40 ohm').replace('2 = +5V', '2 = +5V #! question guess-carries-power'),
  );
  expectMarked(
    RULE,
    reading('CAGE.2.2 to CAGE.1.2 = 0.2 ohm').replace('2 = +5V', '2 = +5V #! question guess-carries-power'),
  );
});

test('says which way a cable carries the rail, where that is known', () => {
  const wired = (supply: string): string => `pinout 1
connector H2 {
  shape header 1 x 2
}
${supply}
card CPU {
  takes +5V 1 A at P
  port P on H2 {
    1 = +5V by meter
    2 = GND by meter
  }
  port J1 on H2 {
    1 = +5V
    2 = GND by meter
  }
}
card PANEL {
  takes +5V 100 mA
  port J1 on H2 {
    1 = +5V
    2 = GND by meter
  }
}
loose CPU
loose PANEL
ribbon W1 2 way {
  end CPU.J1 stripe 1
  end PANEL.J1 stripe 1
}
`;
  const told = (text: string): string[] =>
    findingsOf(text).flatMap(({ rule, message }) =>
      rule === RULE ? [message.replace(/.*known, and /, '')] : [],
    );
  const supply = `supply PSU {
  rail +5V 5 V
  ground GND
  port P1 on H2 {
    1 = +5V by meter
    2 = GND by meter
  }
}`;
  expect(told(`${wired(supply)}cable C1 18 AWG 300 mm {\n  PSU.P1.1..2 = CPU.P.1..2\n}\n`)).toEqual([
    'W1 would be fed by it at CPU.J1.1',
    'W1 would bring it to PANEL at PANEL.J1.1',
  ]);
  expect(told(wired(''))).toEqual(['W1 is plugged in at CPU.J1.1', 'W1 is plugged in at PANEL.J1.1']);
});
