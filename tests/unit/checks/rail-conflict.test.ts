import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, harness, PLANE, rack, SUPPLY } from './rail-machine.ts';

const RULE = 'rail-conflict';
const CPU = 'card CPU {\n  edge on B\n  takes +5V 1 A\n}';

describe('rail-conflict', () => {
  test('a card whose finger is another rail; two boards of it are one finding', () => {
    const text = rack({
      cards:
        'card CPU {\n  edge on B {\n    3 = +5V by trace #! error rail-conflict\n  }\n  takes +5V 1 A\n}',
      fitted: '  1 = CPU as A\n  2 = CPU as B2',
    });
    expectMarked(RULE, text);
    const [found] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(found?.message).toBe('+5V at A.edge.3 (trace) meets +12V at CAGE.1.3 (meter) on one net');
    expect(found?.path.map(({ contact }) => contact)).toEqual(['A.edge.3', 'CAGE.1.3']);
    expect(found?.about).toContain('CPU');
  });

  test('a rail on ground, and a reversed rail', () => {
    expectMarked(
      RULE,
      rack({
        supply: SUPPLY.replace('}', '  rail -12V -12 V\n}'),
        bus: `${BUS.replace('7 = spare', '7 = -12V')}`,
        plane: `${PLANE}\n  feed -12V from PSU at 7`,
        cards:
          'card ONE {\n  edge on B {\n    1 = +5V #! error rail-conflict\n  }\n  takes +5V 1 A\n}\n' +
          'card TWO {\n  edge on B {\n    7 = +12V #! error rail-conflict\n  }\n  takes +12V 1 A\n}',
        fitted: '  1 = ONE\n  2 = TWO',
      }),
    );
    const reversed = rack({
      supply: SUPPLY.replace('}', '  rail -12V -12 V\n}'),
      plane: PLANE.replace('+12V from', '-12V from'),
    });
    expect(findingsOf(reversed).find(({ rule }) => rule === RULE)?.message).toContain('opposite sign');
  });

  test('a feed that lands on the contact of another rail, or on ground', () => {
    expectMarked(RULE, rack({ plane: `${PLANE}\n  feed +12V from PSU at 2 #! error rail-conflict` }));
    expectMarked(RULE, rack({ plane: `${PLANE}\n  feed +12V from PSU at 1 #! error rail-conflict` }));
    expectMarked(
      RULE,
      rack({ plane: PLANE.replace('GND from PSU at 1', 'GND from PSU at 2 #! error rail-conflict') }),
    );
  });

  test('a regulator that gives its rail to ground or to another rail', () => {
    const card = (wire: string): string =>
      `card REG {\n  edge on B\n  takes +12V 1 A\n  makes +5VR 5 V from +12V with 7805\n  ${wire}\n}`;
    const fitted = '  1 = REG';
    expectMarked(RULE, rack({ cards: card('wire +5VR to edge.1 #! error rail-conflict'), fitted }));
    expectMarked(RULE, rack({ cards: card('wire +5VR to edge.3 #! error rail-conflict'), fitted }));
    expectSilent(RULE, rack({ cards: card('wire +5VR to edge.7'), fitted }));
  });

  test('a wire or a strap of unequal voltages on the backplane', () => {
    expectMarked(RULE, rack({ plane: `${PLANE}\n  wire 1.2 to 4.3 #! error rail-conflict` }));
    expectMarked(RULE, rack({ plane: `${PLANE}\n  strap +5V, +12V #! error rail-conflict` }));
  });

  test('three rails on one net are each told with its cause', () => {
    expectMarked(
      RULE,
      rack({
        plane: `${PLANE}\n  wire 1.2 to 4.3 #! error rail-conflict\n  wire 1.1 to 2.2 #! error rail-conflict`,
      }),
    );
  });

  test('equal voltages under two names: a warning, silent with a strap', () => {
    const cards = (strap: string): string =>
      `card CPU {\n  edge on B {\n    2 = +5VB #! warning rail-conflict\n  }\n  ${strap}\n  takes +5VB 1 A\n}`;
    expectMarked(RULE, rack({ cards: cards(''), fitted: '  1 = CPU' }));
    expectSilent(RULE, rack({ cards: cards('strap +5V, +5VB'), fitted: '  1 = CPU' }));
    expectSilent(
      RULE,
      rack({ bus: BUS.replace('+5V by', '+5V also +5VB by'), cards: cards(''), fitted: '  1 = CPU' }),
    );
  });

  test('grounds: a warning, silent where they are declared one', () => {
    const cards = 'card CPU {\n  edge on B {\n    1 = AGND #! warning rail-conflict\n  }\n  takes +5V 1 A\n}';
    expectMarked(RULE, rack({ cards, fitted: '  1 = CPU' }));
    expectSilent(RULE, rack({ supply: SUPPLY.replace('GND', 'GND, AGND'), cards, fitted: '  1 = CPU' }));
  });

  test('a supply may call its rail otherwise than the bus', () => {
    const supply = SUPPLY.replace('rail +5V 5 V', 'rail VCC 5 V 5 %').replace('ground GND', 'ground 0V');
    const plane = PLANE.replace('feed +5V', 'feed VCC').replace('feed GND', 'feed 0V');
    expectSilent(RULE, rack({ supply, plane, cards: CPU, fitted: '  1 = CPU' }));
  });

  test('rails that are ranges: a supply inside it is silent, one outside fires', () => {
    const bus = `  rail +8V 7..11 V\n${BUS.replace('3 = +12V', '3 = +8V')}`;
    const plane = PLANE.replace('feed +12V', 'feed +8V');
    const supply = (volts: string): string => SUPPLY.replace('rail +12V 12 V', `rail +8V ${volts}`);
    expectSilent(RULE, rack({ bus, plane, supply: supply('8..9 V') }));
    const text = rack({
      bus,
      plane: plane.replace('at 3', 'at 3 #! error rail-conflict'),
      supply: supply('16 V'),
    });
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('(7 V to 11 V)');
  });

  describe('a card made for another bus', () => {
    const other = (uses: string, mark = ''): string =>
      rack({
        cards: `bus C on E10 {\n  1 = GND\n  2 = +5V\n  3 = -5V${mark}\n}\ncard ALIEN {\n  edge on C\n  takes +5V 1 A\n${uses}\n}`,
        fitted: '  1 = ALIEN',
      });
    test('fires where it takes the rail', () =>
      expectMarked(RULE, other('  takes -5V 3 mA', ' #! error rail-conflict')));
    test('asks where nobody says whether it does', () =>
      expectMarked(RULE, other('', ' #! question rail-conflict')));
    test('is silent where its list is closed, or names the rail as untouched', () => {
      expectSilent(RULE, other('  untouched rest'));
      expectSilent(RULE, other('  untouched -5V'));
    });
    test('ground is on every card', () =>
      expectMarked(
        RULE,
        rack({
          cards:
            'bus C on E10 {\n  1 = +5V\n  2 = GND #! error rail-conflict\n}\ncard ALIEN {\n  edge on C\n  untouched rest\n}',
          fitted: '  1 = ALIEN',
        }),
      ));
    test('fingers of one name that it leaves untouched join nothing', () =>
      expectSilent(
        RULE,
        rack({
          cards: 'bus C on E10 {\n  1 = GND\n  2..3 = VEE\n}\ncard ALIEN {\n  edge on C\n  untouched rest\n}',
          fitted: '  1 = ALIEN',
        }),
      ));
  });

  test('two supplies of one rail name: unequal is a conflict, equal is not', () => {
    const two = (volts: string): string => `${SUPPLY}\nsupply AUX {\n  rail +5V ${volts}\n  ground GND\n}`;
    const plane = `${PLANE}\n  feed +5V from AUX at 2`;
    expectSilent(RULE, rack({ supply: two('5 V'), plane }));
    expectMarked(RULE, rack({ supply: two('9 V'), plane: `${plane} #! error rail-conflict` }));
  });

  test('a healthy machine, a loose board, and `allow`', () => {
    expectSilent(RULE, rack({ cards: CPU, fitted: '  1 = CPU', rest: 'loose CPU as SPARE' }));
    const bad = rack({
      plane: `${PLANE}\n  wire 1.2 to 4.3`,
      rest: 'allow rail-conflict at +12V "bench test"',
    });
    expectSilent([RULE, 'allow-unused'], bad);
  });

  test('many cards and slots stay near linear', () => {
    const slots = 1500;
    const cards = 'card CPU {\n  edge on B {\n    3 = +5V\n  }\n  takes +5V 1 A\n}';
    const fitted = Array.from({ length: slots }, (_, i) => `  ${i + 1} = CPU as N${i}`).join('\n');
    const text = rack({ cards, fitted }).replace('slots 1..4', `slots 1..${slots}`);
    const start = performance.now();
    expect(findingsOf(text).filter(({ rule }) => rule === RULE)).toHaveLength(1);
    expect(performance.now() - start).toBeLessThan(5000);
  });
});

describe('rail-conflict at sense leads', () => {
  const card = (wire: string, mark = ''): string =>
    harness({
      wires: `PSU.P1.1..8 = DISPLAY.J9.1..8${mark}`,
      far: '  1..2 = +5V\n  3..4 = GND\n  5..7 = unknown\n  8 = +12V',
      near: '  1..2 = +5V\n  3..4 = GND\n  5 = S+\n  6..7 = spare\n  8 = +12V',
    }).replace('  port J9', `  ${wire}\n  port J9`);

  test('a sense lead that a wire takes to another rail or to ground', () => {
    expectSilent(RULE, card('wire J9.5 to J9.1'));
    expectMarked(RULE, card('wire J9.5 to J9.8', ' #! error rail-conflict'));
    expectMarked(RULE, card('wire J9.5 to J9.3', ' #! error rail-conflict'));
  });

  test('a sense lead that meets another rail strapped to the one it watches', () => {
    const supply = '  rail +5VB 5 V\n  strap +5V, +5VB';
    const near = '  1 = +5V\n  2 = +5VB\n  3..4 = GND\n  5 = S+\n  6 = S-\n  7..8 = spare';
    const far = '  1 = +5V\n  2, 5 = +5VB\n  3..4, 6 = GND\n  7..8 = spare';
    expectSilent([RULE, 'ribbon-crossed'], harness({ supply, near, far }));
  });
});

test('alternating current on a rail of the same volts', () => {
  const supply = SUPPLY.replace('}', '  rail AC5 5 V ac\n}');
  const text = rack({
    supply,
    plane: PLANE.replace('feed +5V from PSU at 2', 'feed AC5 from PSU at 2 #! error rail-conflict'),
    cards: CPU,
    fitted: '  1 = CPU',
  });
  expectMarked(RULE, text);
  expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('AC5 (5 V a.c.)');
});
