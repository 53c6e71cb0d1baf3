/**
 * What a date on a board may mean. Weeks are those of ISO 8601: week 1 holds the year's first Thursday, and a year has
 * 52 or 53. Two digits of a year are 1960 to 1999, the years in which such boards were made (common practice, no
 * source); one digit is any decade of these.
 */

export interface DateReading {
  /** How the code was read: `YYWW`, `D/M/YY`. */
  readonly scheme: string;
  readonly year: number;
  readonly week?: number;
  readonly month?: number;
  readonly day?: number;
}

const FIRST_YEAR = 1960;
const LAST_YEAR = 1999;

/** Years written in full may be later, for a board made anew; not so late that `2083` could be one as well as a week. */
const LAST_FULL_YEAR = 2059;

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

const DAY = 86_400_000;

const weekday = (year: number, month: number, day: number): number =>
  new Date(Date.UTC(year, month - 1, day)).getUTCDay();

/**
 * 52 or 53: a year that begins on a Thursday, or a leap year that begins on a Wednesday, has 53 weeks (ISO 8601: a week
 * belongs to the year that holds its Thursday).
 */
export function weeksIn(year: number): number {
  return weekday(year, 1, 1) === 4 || weekday(year, 12, 31) === 4 ? 53 : 52;
}

/** The Monday on which an ISO week begins, as `YYYY-MM-DD`. */
export function mondayOf(year: number, week: number): string {
  // 4 January is always in week 1 (ISO 8601).
  const fourth = Date.UTC(year, 0, 4);
  const monday = fourth - ((weekday(year, 1, 4) + 6) % 7) * DAY;
  return new Date(monday + (week - 1) * 7 * DAY).toISOString().slice(0, 10);
}

/** Every way to read a date code, each meaning once; none where it cannot be read. */
export function readDate(text: string): DateReading[] {
  const code = text.trim().toUpperCase();
  const found = /^\d+$/.test(code) ? fromDigits(code) : fromParts(code);
  const meanings = new Map<string, DateReading>();
  for (const reading of found) {
    const key = spokenDate(reading);
    if (!meanings.has(key)) meanings.set(key, reading);
  }
  return [...meanings.values()];
}

/** `week 27 of 1983`, `3 July 1984`, `July 1984`, `1984`. */
export function spokenDate({ year, week, month, day }: DateReading): string {
  if (week !== undefined) return `week ${week} of ${year}`;
  if (month === undefined) return String(year);
  return `${day === undefined ? '' : `${day} `}${MONTHS[month - 1]} ${year}`;
}

// ---- one number ----

/** Schemes by length of the number: a letter a digit, in their order. */
const DIGITS: readonly string[] = [
  'YWW',
  'YYWW',
  'WWYY',
  'YYYY',
  'YYYYWW',
  'WWYYYY',
  'YYMMDD',
  'DDMMYY',
  'MMDDYY',
  'YYYYMMDD',
];

function fromDigits(code: string): DateReading[] {
  return DIGITS.filter((scheme) => scheme.length === code.length).flatMap((scheme) => {
    const field = (letter: string): string => [...code].filter((_, i) => scheme[i] === letter).join('');
    return fields(scheme, field('Y'), { week: field('W'), month: field('M'), day: field('D') });
  });
}

// ---- parts with something between them ----

/** Schemes of two and three parts; a letter a part. Two parts are a year with a month or a week. */
const PARTS: readonly string[] = ['DMY', 'MDY', 'YMD', 'MY', 'YM', 'WY', 'YW'];

const SPOKEN_PARTS: Readonly<Record<string, string>> = { D: 'D', M: 'M', W: 'W', Y: 'YY' };

/** `3/7/84`, `3-JUL-84`, `JUL84`, `1984-07-03`, `1983-W27`: numbers, and months by their first three letters. */
function fromParts(code: string): DateReading[] {
  if (!/^[A-Z\d]+(?:[/.\- ]*[A-Z\d]+)*$/.test(code)) return [];
  const parts = code.match(/\d+|[A-Z]+/g) ?? [];
  const isWeek = parts.length === 3 && parts[1] === 'W';
  const values = isWeek ? [parts[0]!, parts[2]!] : parts;
  return PARTS.filter((scheme) => scheme.length === values.length && (!isWeek || scheme === 'YW')).flatMap(
    (scheme) => {
      const part = (letter: string): string => values[scheme.indexOf(letter)] ?? '';
      const spoken = [...scheme].map((letter) => SPOKEN_PARTS[letter]).join('/');
      return fields(spoken, part('Y'), { week: part('W'), month: part('M'), day: part('D') });
    },
  );
}

// ---- what the fields may be ----

interface Fields {
  readonly week: string;
  readonly month: string;
  readonly day: string;
}

function fields(scheme: string, year: string, { week, month, day }: Fields): DateReading[] {
  return yearsOf(year, scheme).flatMap((full): DateReading[] => {
    if (week !== '') {
      const number = small(week);
      return number >= 1 && number <= weeksIn(full) ? [{ scheme, year: full, week: number }] : [];
    }
    if (month === '') return [{ scheme, year: full }];
    const number = monthOf(month);
    if (!(number >= 1 && number <= 12)) return [];
    if (day === '') return [{ scheme, year: full, month: number }];
    const inMonth = new Date(Date.UTC(full, number, 0)).getUTCDate();
    const dayNumber = small(day);
    if (!(dayNumber >= 1 && dayNumber <= inMonth)) return [];
    return [{ scheme, year: full, month: number, day: dayNumber }];
  });
}

/** One or two digits; anything else is no week, month or day. */
const small = (text: string): number => (/^\d{1,2}$/.test(text) ? Number(text) : Number.NaN);

function monthOf(text: string): number {
  const named = MONTHS.findIndex((month) => text.length >= 3 && month.toUpperCase().startsWith(text));
  return named >= 0 ? named + 1 : small(text);
}

function yearsOf(text: string, scheme: string): number[] {
  if (!/^\d+$/.test(text)) return [];
  const number = Number(text);
  if (text.length === 4) return number >= FIRST_YEAR && number <= LAST_FULL_YEAR ? [number] : [];
  if (text.length === 2) return 1900 + number >= FIRST_YEAR ? [1900 + number] : [];
  // Only a code of three digits leaves the decade out.
  if (text.length !== 1 || scheme !== 'YWW') return [];
  const years: number[] = [];
  for (let decade = FIRST_YEAR; decade <= LAST_YEAR; decade += 10) years.push(decade + number);
  return years;
}
