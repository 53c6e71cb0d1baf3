import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, harness, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'rail-missing';
const ALL = ['rail-missing', 'rail-unfed', 'rail-unused', 'rail-conflict'];
const NO_12V = BUS.replace('3 = +12V by meter', '3 = spare');
const PLANE_5V = PLANE.replace('\n  feed +12V from PSU at 3', '');
const card = (body: string): string => `card RAM {\n  edge on B\n  takes +5V 1 A\n${body}\n}`;
const message = (text: string): string | undefined =>
  findingsOf(text).find(({ rule }) => rule === RULE)?.message;

describe('rail-missing', () => {
  test('a rail that no contact of the board carries; two boards are one finding', () => {
    const text = rack({
      bus: NO_12V,
      plane: PLANE_5V,
      cards: card('  takes +12V 40 mA #! error rail-missing'),
      fitted: '  1 = RAM as R1\n  2 = RAM as R2',
    });
    expectMarked(ALL, text);
    expect(message(text)).toBe('R1 takes +12V, but no contact of R1 carries it; the same on 1 more board');
    const [found] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(found?.about).toEqual(['+12V', 'R1', 'R2', 'RAM']);
    expectSilent(RULE, `${text}\nallow rail-missing at R2 "the second has no tape drive"\n`);
  });

  test('a rail of the same name elsewhere does not count', () => {
    const text = rack({
      cards: `card A {\n  port J1 on H4 {\n    1 = +12V\n    2 = GND\n  }\n  takes +12V 1 A at J1 #! error rail-missing\n}\ncard X {\n  edge on B\n  takes +5V 1 A\n  takes +12V 1 A\n  port J1 on H4 {\n    1 = spare\n    2 = GND\n  }\n}`,
      fitted: '  1 = X',
      rest: 'loose A\nribbon W1 4 way {\n  end X.J1 stripe 1\n  end A.J1 stripe 1\n}',
    });
    expectMarked(RULE, text);
    expect(message(text)).toContain('the path ends at X.J1.1, said to be spare');
  });

  test('beyond a cut of its line a rail is missing, told once', () => {
    const text = rack({
      plane: `${PLANE}\n  cut +12V between 2, 3`,
      cards: card('  takes +12V 40 mA #! error rail-missing'),
      fitted: '  1 = RAM as R1\n  3 = RAM as R3\n  4 = RAM as R4',
    });
    expectMarked(ALL, text);
    expect(message(text)).toContain('R3 takes +12V');
    expect(message(text)).toContain('1 more board');
  });

  test('what chips need: as said, and as their part is known', () => {
    const fitted = '  1 = RAM';
    const make = '  takes +12V 100 mA\n  makes -5V from +12V with 7905';
    expectMarked(
      RULE,
      rack({ cards: card('  takes +12V 40 mA\n  part U1..U8 with 4116 #! error rail-missing'), fitted }),
    );
    expectMarked(RULE, rack({ cards: card('  part U1 with XYZ -9V 3 mA #! error rail-missing'), fitted }));
    expectSilent(RULE, rack({ cards: card(`${make}\n  part U1..U8 with 4116 -5V 3 mA`), fitted }));
    expectSilent(RULE, rack({ cards: card('  part U1 with Z80'), fitted }));
    const without = '  1 = RAM {\n    without U1..U8\n  }';
    expectSilent(RULE, rack({ cards: card('  takes +12V 40 mA\n  part U1..U8 with 4116'), fitted: without }));
    expect(message(rack({ cards: card('  part U1..U8 with 4116'), fitted }))).toContain(
      '4116 (U1 …) on RAM need -5 V',
    );
    expect(message(rack({ cards: card('  part U1 with 4116'), fitted }))).toContain('(U1) on RAM needs -5 V');
  });

  test('own parts', () => {
    const rest = 'part ODD {\n  needs -9V 2 mA\n}';
    expectMarked(
      RULE,
      rack({ cards: card('  part U1 with ODD #! error rail-missing'), fitted: '  1 = RAM', rest }),
    );
  });

  test('what a regulator is fed with', () => {
    const cards = card('  makes -5V from -12V with 7905 #! error rail-missing\n  part U1 with XYZ -5V 3 mA');
    expectMarked(RULE, rack({ cards, fitted: '  1 = RAM' }));
  });

  test('where the path ends at what nobody knows, it is a question', () => {
    const cards = `card RAM {\n  edge on B {\n    8 = -5V #! warning never\n  }\n  takes -5V 3 mA #! question rail-missing\n}`;
    expectMarked(RULE, rack({ cards: cards.replace(' #! warning never', ''), fitted: '  1 = RAM' }));
    const ribbon = rack({
      cards:
        'card RAM {\n  edge on B\n  takes -5V 3 mA #! question rail-missing\n  port J1 on H4 {\n    1 = -5V\n    2 = GND\n  }\n}',
      fitted: '  1 = RAM',
      rest: 'ribbon W1 4 way {\n  end RAM.J1 stripe 1\n  end unknown "to the rear"\n}',
    });
    expectMarked(RULE, ribbon);
  });

  test('another voltage than the board wants, with no claim to say so', () => {
    const cards = 'card RAM {\n  edge on B\n  takes -5V 3 mA #! error rail-missing\n  wire -5V to edge.3\n}';
    const text = rack({ cards, fitted: '  1 = RAM' });
    expectMarked(RULE, text);
    expect(message(text)).toContain('gets 12 V from PSU');
  });

  test('where another rule tells it, it is silent', () => {
    const conflict = 'card RAM {\n  edge on B {\n    3 = -5V #! error rail-conflict\n  }\n  takes -5V 1 A\n}';
    expectMarked(
      ['rail-missing', 'rail-conflict', 'rail-unfed'],
      rack({ cards: conflict, fitted: '  1 = RAM' }),
    );
    const unfed = rack({
      bus: BUS.replace('3 = +12V by meter', '3 = +12V by meter #! error rail-unfed'),
      plane: PLANE_5V,
      cards: card('  takes +12V 1 A'),
      fitted: '  1 = RAM as R1\n  2 = RAM as R2',
    });
    expectMarked(ALL, unfed);
  });

  test('no supply at all: one question a backplane', () => {
    const text = rack({
      supply: '',
      plane: '',
      cards: card('  takes +12V 1 A'),
      fitted: '  1 = RAM as R1\n  2 = RAM as R2',
    }).replace('backplane CAGE {', 'backplane CAGE { #! question rail-missing');
    expectMarked(ALL, text);
    expectSilent(ALL, rack({ supply: '', plane: '' }));
  });

  test('loose boards: on the shelf silent, plugged in checked', () => {
    const cards = `${card('  port J1 on H4 {\n    1 = +5V\n    2 = GND\n  }')}\ncard DISPLAY {\n  port J1 on H4 {\n    1 = +5V\n    2 = GND\n  }\n  takes +5V 400 mA at J1\n}`;
    const shelf = rack({ cards, fitted: '  1 = RAM', rest: 'loose DISPLAY' });
    expectSilent(RULE, shelf);
    expectSilent(RULE, `${shelf}ribbon W1 4 way {\n  end RAM.J1 stripe 1\n  end DISPLAY.J1 stripe 1\n}\n`);
    expectSilent(
      RULE,
      `${shelf}ribbon W1 4 way {\n  end RAM.J1 stripe 1\n  end DISPLAY.J1 stripe 1 found unplugged\n}\n`,
    );
    expectSilent(
      RULE,
      `${shelf}ribbon W1 4 way {\n  end DISPLAY.J1 stripe 1\n  end unknown "to the cage"\n}\n`,
    );
  });

  test('a board fed by another one, and names nobody declares', () => {
    expectSilent(
      ALL,
      rack({
        supply: SUPPLY.replace('+12V 12 V', 'VBB 12 V'),
        bus: BUS.replace('3 = +12V', '3 = VBB'),
        plane: PLANE.replace('+12V', 'VBB'),
        cards: card('  takes VBB 1 A'),
        fitted: '  1..4 = RAM'.replace('1..4', '1'),
      }),
    );
    const maker =
      'card MAKER {\n  edge on B\n  takes +12V 1 A\n  makes -5V from +12V with 7905\n  port J1 on H4 {\n    1 = -5V\n    2 = GND\n  }\n}';
    const user = 'card USER {\n  port J1 on H4 {\n    1 = -5V\n    2 = GND\n  }\n  takes -5V 3 mA\n}';
    const rest = 'loose USER\nribbon W1 4 way {\n  end MAKER.J1 stripe 1\n  end USER.J1 stripe 1\n}';
    expectSilent(
      [...ALL, 'ground-missing'],
      rack({ cards: `${maker}\n${user}\n${card('')}`, fitted: '  1 = MAKER\n  2 = RAM', rest }),
    );
  });
});

test('a rail whose pin is pulled, or its hole plugged, does not arrive', () => {
  for (const word of ['pulled', 'plugged']) {
    const far = (pins: string): string => `  1..2 = +5V\n  3..4 = GND\n  5..8 = spare\n  ${word} ${pins}`;
    expectSilent(RULE, harness({ far: far('2, 8') }));
    expectMarked(RULE, harness({ far: far('1..2'), takes: `+5V 1 A at J9 #! error ${RULE}` }));
  }
});

test('two boards of one card whose regulator is made from a rail that is nowhere are told once', () => {
  const text = rack({
    cards:
      'card RAM {\n  edge on B\n  takes -12V 20 mA #! error rail-missing\n  makes -5V from -12V with 7905\n}',
    fitted: '  1 = RAM as RAM-1\n  2 = RAM as RAM-2',
  });
  expectMarked('rail-missing', text);
  const [found] = findingsOf(text).filter(({ rule }) => rule === 'rail-missing');
  expect(found?.message).toContain('RAM-1 takes -12V, but no contact of RAM-1 carries it');
  expect(found?.message).toContain('1 more board');
});
