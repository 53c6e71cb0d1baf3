import { expect, test } from 'vitest';
import { expectMarked } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const text = (ribbon: string, shape = '  shape header 2 x 5\n  numbers zigzag\n'): string => `pinout 1
connector IDC10 {
${shape}}
card C {
  port J1 on IDC10
}
loose C
${ribbon}
  end C.J1 stripe 1
}
`;
const mismatches = (source: string): string[] =>
  findingsOf(source).flatMap(({ rule, message }) => (rule === 'range-mismatch' ? [message] : []));

test('a ribbon whose heading cannot be read is told so once, not at its ends', () => {
  expectMarked('range-mismatch', text('ribbon W1 20 wires {'));
  expectMarked('attribute-missing', text('ribbon W1 20 wires { #! attribute-missing'));
});

test('the conductors to write are a range that there is', () => {
  expect(mismatches(text('ribbon W1 8 way {'))).toEqual([
    'C.J1 has 10 contacts, but 8 conductors of W1 end there; say which with `conductors 1..8`',
  ]);
  expect(mismatches(text('ribbon W1 1 way {'))[0]).toContain('say which with `conductors 1`');
  expect(mismatches(text('ribbon W1 8 way {', ''))).toEqual([]);
});
