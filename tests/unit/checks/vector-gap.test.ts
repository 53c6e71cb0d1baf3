import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'vector-gap';

const bus = (table: string): string => `pinout 1
connector E40 {
  shape edge 2 x 20
}
bus B on E40 {
${table}
}
`;

describe('vector-gap fires', () => {
  it('where a number is missing, at the entry where the run jumps', () => {
    const text = bus('  1 = A0\n  2 = A1\n  3 = A3 #! warning vector-gap\n  4 = A4');
    expectMarked(RULE, text);
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe('in B, A2 is missing among A0, A1, A3 and A4');
    expect(finding?.path.map(({ contact }) => contact)).toEqual(['B.1', 'B.2', 'B.3', 'B.4']);
  });

  it('wherever the contacts lie', () => {
    expectMarked(RULE, bus('  7 = A4 #! vector-gap\n  1 = A0\n  30 = A1\n  3 = A2'));
  });

  it('in a list, in padded numbers and behind an active-low mark', () => {
    expectMarked(RULE, bus('  1..6 = D0, D1, D2, D4, D5, D6 #! vector-gap'));
    expectMarked(RULE, bus('  1..5 = VI0*..VI4*\n  6 = VI6* #! vector-gap'));
    const text = bus('  1..4 = A01..A04\n  5..7 = A06..A08');
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('A05 is missing');
  });

  it('once for a name that stands twice and the one it took the place of', () => {
    const text = bus('  1..4 = D0..D3\n  5 = D3 #! warning vector-gap\n  6..7 = D5..D6');
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
      'D3 stands twice, at contacts 4 and 5, and D4 is missing',
    );
  });

  it('on a double alone, and on numbers that differ in a zero', () => {
    expectMarked(RULE, bus('  1..4 = D0..D3\n  20 = D3 #! vector-gap'));
    expectMarked(RULE, bus('  1..4 = A1..A4\n  20 = A01 #! vector-gap'));
  });

  it('in the port of a card, of a backplane and of a supply, once however many boards there are', () => {
    expectMarked(
      RULE,
      `${bus('  1 = GND')}
card RAM {
  edge on B
  port J1 on E40 {
    1..5 = Q0, Q1, Q3, Q4, Q5 #! vector-gap
  }
}
supply PSU {
  port P1 on E40 {
    1..5 = S0, S1, S3, S4, S5 #! vector-gap
  }
}
backplane CAGE {
  slots 1..2 on B
  port J9 on E40 {
    1..5 = Q0, Q1, Q3, Q4, Q5 #! vector-gap
  }
}
fitted CAGE {
  1 = RAM as R-A
  2 = RAM as R-B
}
`,
    );
  });
});

describe('vector-gap is silent', () => {
  it('on outer gaps and on short runs', () => {
    expectSilent(RULE, bus('  1..7 = IRQ7*..IRQ1*\n  8..10 = DRQ0, DRQ2, DRQ3'));
  });

  it('on doubled contacts of one name, and on a run that is on both sides', () => {
    expectSilent(RULE, bus('  1, 21 = D0\n  2..8 = D1..D7'));
    expectSilent(RULE, bus('  1..8 = D0..D7\n  21..28 = D0..D7'));
  });

  it('on runs far apart, on every second number, and on numbers that do not count', () => {
    expectSilent(RULE, bus('  1..8 = A0..A7\n  9..16 = A16..A23'));
    expectSilent(RULE, bus('  1 = D0\n  2 = D2\n  3 = D4\n  4 = D6\n  5 = D8'));
    expectSilent(RULE, bus('  1 = F1\n  2 = F3\n  3 = F6\n  4 = F12\n  5 = F24'));
  });

  it('on rails, and on what a bus says of some slots only', () => {
    expectSilent(RULE, bus('  1 = +5V\n  2 = +6V\n  3 = +8V\n  4 = +9V\n  5 = +10V'));
    expectSilent(RULE, bus('  1..2 = M0..M1 in 1..2\n  3..4 = M3..M4 in 3'));
  });

  it.each(['ieee-696', 'vme-j1', 'isa-8'])('on the published bus %s', (name) => {
    expectSilent(RULE, `pinout 1\nuse published "${name}"\n`);
  });
});
