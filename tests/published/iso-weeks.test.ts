import { describe, expect, test } from 'vitest';
import { mondayOf, readDate, spokenDate, weeksIn } from '../../src/analysis/dates.ts';

const ways = (text: string): string[] => readDate(text).map(spokenDate);

describe('ISO 8601 weeks', () => {
  // OEIS A249404 (number of ISO 8601 weeks of a Gregorian year): 71 years of each 400 have 53 weeks, the others 52.
  test('71 of 400 years have 53 weeks', () => {
    const years = Array.from({ length: 400 }, (_, i) => 1900 + i);
    expect(years.filter((year) => weeksIn(year) === 53)).toHaveLength(71);
    expect(years.filter((year) => weeksIn(year) === 52)).toHaveLength(329);
  });

  // OEIS A249404, the terms it lists, 2000 to 2068.
  test('years from 2000 with 53 weeks', () => {
    const years = Array.from({ length: 69 }, (_, i) => 2000 + i);
    expect(years.filter((year) => weeksIn(year) === 53)).toEqual([
      2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048, 2054, 2060, 2065,
    ]);
  });

  // OEIS A249404: a(n) = a(n - 400), so these are 2364 to 2398 of its table too; the list itself is from memory.
  test('years of boards with 53 weeks', () => {
    const years = Array.from({ length: 40 }, (_, i) => 1960 + i);
    expect(years.filter((year) => weeksIn(year) === 53)).toEqual([1964, 1970, 1976, 1981, 1987, 1992, 1998]);
  });

  // "ISO week date", kampuspedia.com: 53 weeks in all years that begin on a Thursday, and in leap years that begin on a
  // Wednesday.
  test('the years with 53 weeks begin as they should', () => {
    for (let year = 1900; year < 2300; year++) {
      const first = new Date(Date.UTC(year, 0, 1)).getUTCDay();
      const leap = new Date(Date.UTC(year, 1, 29)).getUTCMonth() === 1;
      expect(weeksIn(year) === 53, String(year)).toBe(first === 4 || (leap && first === 3));
    }
  });

  test.each([
    // "ISO 8601 week notation", wikisum.wiki: Monday 30 December 2019 is 2020-W01-1.
    [2020, 1, '2019-12-30'],
    // "ISO week date", kampuspedia.com: Friday 20 December 2024 is 2024-W51-5.
    [2024, 51, '2024-12-16'],
    // OEIS A249404: week 1 of 2015 begins Monday, 29 December 2014.
    [2015, 1, '2014-12-29'],
    // "ISO week date", statemaster.com: Sunday 31 December 2006 is 2006-W52-7.
    [2006, 52, '2006-12-25'],
    // From memory.
    [1978, 1, '1978-01-02'],
    [1981, 1, '1980-12-29'],
    [1981, 53, '1981-12-28'],
  ])('week %i-W%i begins on %s', (year, week, day) => {
    expect(mondayOf(year, week)).toBe(day);
  });

  // ISO 8601: each week belongs to one year, so the Monday after a year's last week is the next year's first.
  test('weeks follow each other without a gap', () => {
    for (let year = 1950; year < 2100; year++)
      expect(mondayOf(year, weeksIn(year) + 1)).toBe(mondayOf(year + 1, 1));
  });

  test('a year without week 53 has no date code of it', () => {
    expect(ways('8353')).toEqual([]);
    expect(ways('5383')).toEqual([]);
    expect(ways('8153')).toEqual(['week 53 of 1981']);
    expect(ways('5381')).toEqual(['week 53 of 1981']);
    expect(ways('8100')).toEqual([]);
    expect(ways('8154')).toEqual([]);
  });
});
