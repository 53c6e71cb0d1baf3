import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readDate, spokenDate, weeksIn } from '../../../src/analysis/dates.ts';

const ways = (text: string): string[] => readDate(text).map(spokenDate);

describe('date codes', () => {
  test.each([
    ['8327', ['week 27 of 1983']],
    ['2783', ['week 27 of 1983']],
    ['2083', ['week 20 of 1983']],
    ['0184', ['week 1 of 1984']],
    ['9952', ['week 52 of 1999']],
    ['5959', []],
    ['1984', ['week 19 of 1984', '1984']],
    ['2019', ['2019']],
    ['198327', ['week 27 of 1983']],
    ['271983', ['week 27 of 1983']],
    ['1983-W27', ['week 27 of 1983']],
    ['1983W27', ['week 27 of 1983']],
    ['27/83', ['week 27 of 1983']],
    ['83-27', ['week 27 of 1983']],
    ['7/84', ['July 1984', 'week 7 of 1984']],
    ['327', ['week 27 of 1963', 'week 27 of 1973', 'week 27 of 1983', 'week 27 of 1993']],
    ['153', ['week 53 of 1981']],
    ['3/7/84', ['3 July 1984', '7 March 1984']],
    ['3.7.84', ['3 July 1984', '7 March 1984']],
    ['7/7/84', ['7 July 1984']],
    ['23/7/84', ['23 July 1984']],
    ['7/23/84', ['23 July 1984']],
    ['84/7/3', ['3 July 1984']],
    ['30/2/84', []],
    ['29/2/84', ['29 February 1984']],
    ['29/2/83', []],
    ['1984-07-03', ['3 July 1984']],
    ['2024-02-29', ['29 February 2024']],
    ['19840703', ['3 July 1984']],
    ['840723', ['23 July 1984']],
    ['JUL84', ['July 1984']],
    ['3-Jul-84', ['3 July 1984']],
    ['July 1984', ['July 1984']],
    ['JUL 3 84', ['3 July 1984']],
    ['3/7/04', []],
    ['8', []],
    ['83', []],
    ['', []],
    ['A1B2', []],
    ['//', []],
    ['99999999999999999999', []],
  ])('%s', (text, expected) => {
    expect(ways(text)).toEqual(expected);
  });

  test('a year and a week written as four digits read one way, except where they are a year too', () => {
    for (let year = 1960; year <= 1999; year++) {
      for (let week = 1; week <= weeksIn(year); week++) {
        const [yy, ww] = [String(year - 1900), String(week).padStart(2, '0')];
        expect(ways(yy + ww)).toEqual([`week ${week} of ${year}`]);
        expect(ways(ww + yy)[0]).toBe(`week ${week} of ${year}`);
        expect(ways(ww + yy)).toHaveLength(week === 19 ? 2 : 1);
      }
    }
  });

  test('no text makes it throw, and no meaning comes twice', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[0-9A-Za-z/. -]{0,12}$/), (text) => {
        const found = ways(text);
        expect(new Set(found).size).toBe(found.length);
      }),
    );
  });

  test('a long text costs no time', () => {
    const started = performance.now();
    for (const text of [
      '1'.repeat(50_000),
      '1-'.repeat(50_000),
      'A'.repeat(50_000),
      '.'.repeat(50_000),
      `${'A '.repeat(50_000)}!`,
    ])
      readDate(text);
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
