import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'back-power';

interface Two {
  /** What the first board does on the ribbon, and the second. */
  readonly host?: string;
  readonly unit?: string;
  /** The supply that feeds the second board. */
  readonly from?: string;
  readonly more?: string;
  readonly takes?: string;
}

/** Two boards in two cases, each on a supply of its own, and a ribbon between them. */
const two = ({
  host = 'drives Q0 with 74LS244 at J1',
  unit = 'receives Q0 with 74HC at J1',
  from = 'AUX',
  more = '',
  takes = '  takes +5V 500 mA at J9\n',
}: Two): string => {
  const supply = (name: string): string => `supply ${name} {
  rail +5V 5 V max 5 A
  ground GND
  port P1 on ROW2 {
    1 = +5V by meter
    2 = GND by meter
  }
  port P2 on ROW2 {
    1 = +5V by meter
    2 = GND by meter
  }
}`;
  const card = (name: string, does: string, its: string): string => `card ${name} {
${its}  ${does}
  untouched rest
  port J1 on H4 {
    1, 3 = GND by trace
    2 = Q0 by trace
    4 = spare by trace
  }
  port J9 on ROW2 {
    1 = +5V by trace
    2 = GND by trace
  }
}
loose ${name}`;
  return `pinout 1
connector ROW2 {
  shape row 2
  shroud notch
  bump
}
connector H4 {
  shape header 2 x 2
  numbers zigzag
  shroud notch
}
${supply('PSU')}
${supply('AUX')}
${card('HOST', host, '  takes +5V 500 mA at J9\n')}
${card('UNIT', unit, takes)}
ribbon W1 4 way {
  end HOST.J1 stripe 1 bump
  end UNIT.J1 stripe 1 bump
}
cable C1 18 AWG 300 mm {
  PSU.P1.1..2 = HOST.J9.1..2
}
cable C2 18 AWG 300 mm {
  ${from}.P2.1..2 = UNIT.J9.1..2
}
${more}
`;
};

describe(RULE, () => {
  test('an output into a board of another supply', () => {
    expectMarked(RULE, two({ unit: `receives Q0 with 74HC at J1 #! question ${RULE}` }));
    const [finding] = findingsOf(two({})).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'while AUX is off, 74LS244 on HOST feeds UNIT through the input of Q0: are both supplies always switched together?',
    );
    expect(finding?.fix).toContain('allow back-power at UNIT');
  });

  test('it is one finding for two boards, and the other way round another', () => {
    const host = 'transceives Q0 with 74LS245 at J1';
    const unit = 'transceives Q0 with 74LS245 at J1';
    const found = findingsOf(two({ host, unit })).filter(({ rule }) => rule === RULE);
    expect(found.map(({ message }) => message.slice(0, 16))).toEqual([
      'while PSU is off',
      'while AUX is off',
    ]);
  });

  test('silent where one supply feeds both boards', () => {
    expectSilent(RULE, two({ from: 'PSU' }));
  });

  test('silent from open collectors, and into line receivers', () => {
    expectSilent(RULE, two({ host: 'pulls Q0 with 7438 at J1' }));
    expectSilent(RULE, two({ unit: 'receives Q0 with 1489 at J1' }));
  });

  test('silent where nobody says what feeds one of the boards', () => {
    expectSilent(RULE, two({ takes: '' }));
    expectSilent(RULE, two({}).replace(/cable C2[^}]*\}/, ''));
  });

  test('silent with a single supply', () => {
    const text = two({ from: 'PSU' }).replace(/supply AUX \{(?:[^{}]|\{[^}]*\})*\}/, '');
    expect(text).not.toContain('AUX');
    expectSilent(RULE, text);
  });

  test('an allow line with the reason silences it', () => {
    for (const place of ['UNIT', 'HOST', 'AUX'])
      expectSilent([RULE, 'allow-unused'], two({ more: `allow ${RULE} at ${place} "one switch for both"` }));
  });
});
