import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { BUS, PLANE, rack } from './rail-machine.ts';

const RULE = 'rail-meets-signal';
/** A card that uses D0 (contact 4), beside one whose own finger 4 is a rail or ground. */
const meets = (use: string, rail = '+12V', severity = 'error', more = ''): string =>
  rack({
    cards:
      `card CPU {\n  edge on B\n  takes +5V 1 A\n  ${use}\n}\n` +
      `card BAD {\n  edge on B {\n    4 = ${rail} by trace${severity ? ` #! ${severity} ${RULE}` : ''}\n  }\n  ${rail === 'GND' ? '' : `takes ${rail} 100 mA`}\n}`,
    fitted: '  1 = CPU\n  2 = BAD',
    rest: more,
  });
const message = (text: string): string | undefined =>
  findingsOf(text).find(({ rule }) => rule === RULE)?.message;

describe('rail-meets-signal', () => {
  test('a rail outside the limits names part, figures and both contacts', () => {
    const text = meets('receives D0 with 74LS');
    expectMarked(RULE, text);
    expect(message(text)).toBe(
      '+12V at BAD.edge.4 (trace) meets D0 at CAGE.2.4 (trace), which 74LS on CPU hears: 12 V is above the 7 V that its pin stands',
    );
  });

  test('a negative rail is below what a pin stands', () => {
    const bus = BUS.replace('7 = spare', '7 = -12V');
    const text = meets('receives D0 with 74LS', '-12V').replace(BUS, bus);
    expectMarked(RULE, text);
    expect(message(text)).toContain('below');
  });

  test('a rail on the finger of a daisy chain meets the board that starts it', () => {
    const text = `pinout 1
supply PSU {
  rail +12V 12 V max 1 A
  ground GND
}
connector E {
  shape edge 2 x 2
  numbers 1..4
}
bus B on E {
  1 = GND by trace
  2 = +12V by trace
  3 > 4 = GRANT by trace
}
backplane CAGE {
  slots 1..2 on B
  feed +12V from PSU at 2
  feed GND from PSU at 1
}
card CPU {
  edge on B
  starts GRANT with 74LS08
}
card BAD {
  edge on B {
    3 = +12V by trace #! error rail-meets-signal
  }
  takes +12V 100 mA
  passes GRANT
}
fitted CAGE {
  1 = CPU
  2 = BAD
}`;
    expectMarked(RULE, text);
    expect(message(text)).toContain('meets GRANT at CAGE.2.3 (trace), which 74LS08 on CPU starts');
  });

  test('an output that pulls against the rail, or against ground', () => {
    expectMarked(RULE, meets('drives D0 with 74LS244', '+5V'));
    expectMarked(RULE, meets('transceives D0 with 74LS245', '+5V'));
    expectMarked(RULE, meets('drives D0 with 74LS00', 'GND'));
    expectMarked(RULE, meets('drives D0 three-state', 'GND'));
    expectMarked(RULE, meets('pulls D0 with 7406', '+5V'));
  });

  test('silent: an input that stands it, ground on an open collector or an input', () => {
    expectSilent(RULE, meets('receives D0 with 74LS', '+5V', ''));
    expectSilent(RULE, meets('receives D0 with 7404', '+5V', ''));
    expectSilent(RULE, meets('pulls D0 with 7406', 'GND', ''));
    expectSilent(RULE, meets('receives D0 with 74LS', 'GND', ''));
    expectSilent(RULE, meets('receives D0', 'GND', ''));
  });

  test('a part nobody names, or that no table has', () => {
    expectMarked(RULE, meets('receives D0', '+5V', 'warning'));
    expectMarked(RULE, meets('receives D0 with XYZ99', '+12V', 'warning'));
    expectMarked(RULE, meets('drives D0', 'GND', 'question'));
    expect(message(meets('receives D0', '+5V'))).toContain("the pin's part is not said");
  });

  test('the worst pin of the line counts', () => {
    const text = meets('receives D0 with 74LS', '+5V').replace(
      'card BAD',
      'card MEM {\n  edge on B\n  takes +5V 1 A\n  drives D0 with 74LS244\n}\ncard BAD',
    );
    expectMarked(RULE, text.replace('  2 = BAD', '  2 = BAD\n  3 = MEM'));
  });

  test('a line of which nobody says what is on it', () => {
    expectMarked(RULE, meets('', '+5V', 'warning'));
    expectMarked(RULE, meets('', 'GND', 'question'));
  });

  test('own tables of parts', () => {
    const strong = 'part STRONG {\n  like 74LS\n  input low 0.4 mA high 20 uA stands 15 V\n}';
    expectSilent(RULE, meets('receives D0 with STRONG', '+12V', '', strong));
    expectMarked(RULE, meets('receives D0 with STRONG', '+12V', 'error', strong.replace('15 V', '9 V')));
  });

  test('a feed or a wire that lands on a line is where the fault is', () => {
    const cards = 'card CPU {\n  edge on B\n  takes +5V 1 A\n  receives SYNC with 74LS\n}';
    const fitted = '  1 = CPU';
    expectMarked(
      RULE,
      rack({ plane: `${PLANE}\n  feed +12V from PSU at 6 #! error ${RULE}`, cards, fitted }),
    );
    expectMarked(RULE, rack({ plane: `${PLANE}\n  wire 1.3 to 3.6 #! error ${RULE}`, cards, fitted }));
  });

  test('declared by a strap: only what harms is told', () => {
    const cards = (use: string): string => `card CPU {\n  edge on B\n  takes +5V 1 A\n  ${use}\n}`;
    const plane = `${PLANE}\n  strap SYNC, +5V`;
    const fitted = '  1 = CPU';
    expectSilent(RULE, rack({ plane, cards: cards('receives SYNC'), fitted }));
    expectSilent(RULE, rack({ plane, cards: cards(''), fitted }));
    expectMarked(
      RULE,
      rack({ plane: `${plane} #! error ${RULE}`, cards: cards('drives SYNC with 74LS244'), fitted }),
    );
  });

  test('a sense wire is at its rail', () => {
    const supply = 'supply PSU {\n  rail +5V 5 V\n  rail +12V 12 V\n  ground GND\n  sense S+ for +5V\n}';
    const bus = BUS.replace('6 = SYNC', '6 = S+');
    expectSilent(RULE, rack({ supply, bus, plane: `${PLANE}\n  wire 1.6 to 1.2` }));
  });

  test('rails that nobody declares are rails where a card takes or makes them', () => {
    const bus = BUS.replace('2 = +5V', '2 = VCC');
    expectSilent(
      RULE,
      rack({ bus, cards: 'card CPU {\n  edge on B\n  takes VCC 1 A\n}', fitted: '  1 = CPU' }),
    );
  });

  describe('a card made for another bus', () => {
    const alien = (uses: string, mark: string): string =>
      rack({
        cards: `bus C on E10 {\n  1 = GND\n  2 = +5V\n  3 = Q0${mark}\n}\ncard ALIEN {\n  edge on C\n  takes +5V 1 A\n${uses}\n}`,
        fitted: '  1 = ALIEN',
      });
    test('fires where it uses the line', () =>
      expectMarked(RULE, alien('  receives Q0 with 74LS', ` #! error ${RULE}`)));
    test('asks where nobody says', () => expectMarked(RULE, alien('', ` #! question ${RULE}`)));
    test('is silent where it leaves it untouched', () => {
      expectSilent(RULE, alien('  untouched rest', ''));
      expectSilent(RULE, alien('  untouched Q0', ''));
    });
  });

  test('two boards of one bad card are one finding; spare and unknown contacts are none', () => {
    const cards = (contact: number, mark = ''): string =>
      `card BAD {\n  edge on B {\n    ${contact} = +12V${mark}\n  }\n  takes +12V 1 A\n}\ncard CPU {\n  edge on B\n  takes +5V 1 A\n  receives D0 with 74LS\n}`;
    const fitted = '  1 = BAD as B1\n  2 = BAD as B2\n  3 = CPU';
    expectMarked(RULE, rack({ cards: cards(4, ` #! error ${RULE}`), fitted }));
    expectSilent(RULE, rack({ cards: cards(7), fitted }));
    expectSilent(RULE, rack({ cards: cards(8), fitted }));
  });
});

test('two rails on a line that nothing is said to be on are a conflict, and nothing else', () => {
  const cards =
    'card ONE {\n  edge on B\n  takes +5V 1 A\n  takes +12V 1 A\n  wire edge.2 to edge.6\n  wire edge.3 to edge.6 #! error rail-conflict\n}';
  expectMarked([RULE, 'rail-conflict'], rack({ cards, fitted: '  1 = ONE' }));
});
