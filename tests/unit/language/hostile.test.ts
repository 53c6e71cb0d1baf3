import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { format } from '../../../src/language/format.ts';
import { findingsOf } from '../../support/machine.ts';

const time = (work: () => unknown): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

describe('hostile input', () => {
  test('any text at all: no throw, every character kept', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        const { lines } = parseDocument(text);
        expect(lines.map((line) => line.text + line.eol).join('')).toBe(text);
        findingsOf(text);
      }),
      { numRuns: 300 },
    );
  });

  test.each([
    ['braces', '{'.repeat(20_000)],
    ['nested blocks', 'card C {\n'.repeat(20_000)],
    ['nested blocks that nobody knows', 'x {\n'.repeat(20_000)],
    ['closing braces', '}\n'.repeat(20_000)],
    ['quotes', '"'.repeat(20_001)],
    ['commas', `bus B on C {\n1${','.repeat(20_000)} = X\n}`],
    ['a long name', `title "${'x'.repeat(1_000_000)}"`],
    ['a long list', `card C {\nreceives ${Array.from({ length: 20_000 }, (_, i) => `N${i}`).join(', ')}\n}`],
    ['equals signs', '='.repeat(20_000)],
    ['many broken lines', 'x y z "\n'.repeat(20_000)],
    ['a range without end', 'connector C {\nshape edge 2 x 999999999\nnumbers 1..999999999\n}'],
    ['a vector without end', 'card C {\nreceives D0..D999999999\n}'],
    ['numbers past counting', 'active-low nD9007199254740990..nD9007199254740999'],
    [
      'a line heard over and over',
      `card C {\ndrives ${Array.from({ length: 60 }, () => 'D0..D4095').join(', ')}\n}`,
    ],
    [
      'slots and contacts by the million',
      'connector C {\nshape header 1 x 4096\n}\nbus B on C {\n}\nbackplane P {\nslots 1..4096 on B\n}',
    ],
    ['spaces', `card C {\n${' '.repeat(200_000)}takes +5V 1 A\n}`],
    ['dots', `wire ${'.'.repeat(20_000)}`],
    ['hashes', '#'.repeat(200_000)],
  ])('%s: read in time and without a throw', (_, text) => {
    expect(time(() => findingsOf(text))).toBeLessThan(4000);
    expect(time(() => format(text))).toBeLessThan(4000);
  });

  test('twice the text takes about twice the time', () => {
    const lines = (count: number, tag: string): string =>
      `bus B on C {\n${Array.from({ length: count }, (_, i) => `  ${i} = N${tag}${i} by trace`).join('\n')}\n}\n`;
    parseDocument(lines(4000, 'w'));
    const short = Math.min(...[1, 2, 3].map((n) => time(() => parseDocument(lines(5000, `s${n}`)))));
    const long = Math.min(...[1, 2, 3].map((n) => time(() => parseDocument(lines(20_000, `l${n}`)))));
    expect(long / short).toBeLessThan(12);
  });
});
