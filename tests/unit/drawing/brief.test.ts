import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { briefAmount } from '../../../src/drawing/brief.ts';

const POWERS: Readonly<Record<string, number>> = { M: 6, k: 3, m: -3, u: -6, n: -9 };

/** The amount that is written, and what one more in its last digit would be. */
function read(text: string): { value: number; step: number } {
  const [, number, prefix] = /^(-?\d+(?:\.\d+)?)([Mkmun]?)[AV]?$/.exec(text)!;
  const scale = 10 ** (POWERS[prefix!] ?? 0);
  return { value: Number(number) * scale, step: scale };
}

describe('a brief amount', () => {
  test.each([
    [1.25, 'A', '1.25A'],
    [0.04, 'A', '40mA'],
    [-12.06, 'V', '-12.1V'],
    [4700, '', '4.7k'],
    [0.9999, 'A', '1A'],
    [999.6, '', '1k'],
    [-0.0016, 'A', '-1.6mA'],
    [-0.0004, 'A', '-400uA'],
    [0, 'A', '0A'],
    [-0, 'V', '0V'],
  ])('%d %s is %s', (value, unit, text) => expect(briefAmount(value, unit)).toBe(text));

  it('takes five characters and a sign, and is right to half of what its first three digits can say', () => {
    const amount = fc
      .tuple(fc.double({ min: 1, max: 9.99, noNaN: true }), fc.integer({ min: -9, max: 8 }))
      .map(([digits, power]) => digits * 10 ** power);
    fc.assert(
      fc.property(amount, fc.boolean(), fc.constantFrom('A', 'V', ''), (size, below, unit) => {
        const value = below ? -size : size;
        const text = briefAmount(value, unit);
        expect(text.replace('-', '').length).toBeLessThanOrEqual(5);
        expect(text.startsWith('-')).toBe(below);
        expect(text.endsWith(unit)).toBe(true);
        const { value: written, step } = read(text);
        expect(Math.abs(written - value)).toBeLessThanOrEqual(Math.min(step, size * 0.1) / 2 + size * 1e-9);
      }),
      { numRuns: 2000 },
    );
  });
});
