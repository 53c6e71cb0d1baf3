import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent, replacement } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'name-unknown';
const bench = ({ backplane = '', card = '', fitted = '', more = '' }): string =>
  benchText({
    bus: '3..6 = D0..D3\n7 > 8 = GRANT also BUSAK\n9 = /IRQ wired-or',
    backplane,
    cards: { CPU: `transceives D0..D3 with 74LS245\nreceives /IRQ with 74LS\n${card}` },
    fitted: `1 = CPU${fitted}`,
    more,
  });

describe('names that nothing has', () => {
  test('a bridge of a chain that the slot does not have, once a statement', () => {
    const text = bench({ fitted: '\n2..3 = empty bridge GRNAT #! error name-unknown' });
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('`GRANT`');
    expectSilent(RULE, bench({ fitted: '\n2 = empty bridge BUSAK' }));
  });

  test('a bridge that says the beginning of the only such chain is mended', () => {
    const [finding] = findingsOf(bench({ fitted: '\n2..3 = empty bridge GR' })).filter(
      ({ rule }) => rule === RULE,
    );
    expect(replacement(finding!).text).toBe('GRANT');
  });

  test('the figures of a line that the backplane does not have', () => {
    expectMarked(RULE, bench({ backplane: 'line DX 60 ohm #! error name-unknown' }));
    expectSilent(RULE, bench({ backplane: 'line D0..D3, GRANT 60 ohm\nline 80 ohm' }));
  });

  test('a resistor to a rail of which nobody says the voltage', () => {
    expectMarked(RULE, bench({ backplane: 'pull-up /IRQ 1 kohm to VX #! error name-unknown' }));
    expectMarked(RULE, bench({ card: 'pull-up /IRQ 1 kohm to VX #! error name-unknown' }));
    expectSilent(RULE, bench({ backplane: 'pull-up /IRQ 110 ohm to +2.85V' }));
    expectSilent(RULE, bench({ card: 'makes VT from +5V 3 V\npull-up /IRQ 1 kohm to VT' }));
  });

  test('a board without a part that its card does not describe is asked about', () => {
    const without = ' {\n  without RN7 #! question name-unknown\n}';
    expectMarked(RULE, bench({ fitted: without }));
    const card = 'pull-up /IRQ 1 kohm to +5V as RN7';
    expectSilent(RULE, bench({ card, fitted: without.replace(/#!.*/, '') }));
    expectSilent(RULE, bench({ card: 'part U1..U4 with 74LS189', fitted: ' {\n  without U3..U4\n}' }));
  });
});

describe('two buses in one backplane', () => {
  const text = `pinout 1
supply PSU {
  rail +5V 5 V
  ground GND
}
connector E12 {
  shape edge 1 x 12
  ends closed
}
bus A on E12 {
  1 = GND by meter
  2 = +5V by meter
  3 = /IRQ wired-or
}
bus B on E12 {
  1 = GND by meter
  2 = +5V by meter
  3 = /IRQ wired-or
}
backplane CAGE {
  slots 1..2 on A guides
  slots 3..4 on B guides
  feed GND from PSU at 1
  feed +5V from PSU at 2
  pull-up /IRQ 1 kohm to +5V after 2
  pull-up /IRQ 1 kohm to +5V after 4
}
card A1 {
  edge on A
  takes +5V 100 mA
  pulls /IRQ with 7406
  receives /IRQ with 74LS
  untouched rest
}
card B1 {
  edge on B
  takes +5V 100 mA
  pulls /IRQ with 7406 #mark
  receives /IRQ with 74LS
  untouched rest
}
fitted CAGE {
  1 = A1
  2 = empty
  3 = B1
  4 = empty
}
`;
  test('a feed reaches both, a pull-up the one whose slot it names', () => {
    const wrong = findingsOf(text).filter(({ severity }) => severity !== 'note');
    expect(wrong.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
    const bare = text.replace(/.*after 4\n/, '').replace('#mark', '#! warning line-no-pull-up');
    expectMarked('line-no-pull-up', bare);
  });
});

describe('a ribbon narrower than its connector', () => {
  const ribbon = (end: string): string =>
    bench({
      card: 'port J1 on IDC10 {\n  1..10 = spare\n}',
      more: `ribbon W1 9 way {\n  end CPU.J1 stripe 1${end}\n  end unknown\n}`,
    });
  test('leaves the last contacts empty where its conductors are listed', () => {
    expectMarked('range-mismatch', ribbon(' #! error range-mismatch'));
    expectSilent('range-mismatch', ribbon(' conductors 1..9'));
  });
});

test('a printed code of a resistor counts as what it means', () => {
  const text = bench({ backplane: 'pull-up /IRQ 1k0 to +5V' });
  expect(findingsOf(text).some(({ rule }) => rule === 'unit-wrong')).toBe(true);
  expectSilent(['pull-up-out-of-range', 'line-over-terminated'], text);
});
