import { type DateReading, readDate, spokenDate } from '../analysis/dates.ts';
import type { Source } from '../machine/types.ts';
import { edit, saying, withEdits } from './edits.ts';
import type { Edit, Rule } from './types.ts';

/** A date code that says nothing, or more than one thing. */
export const dateOdd: Rule = {
  id: 'date-odd',
  severity: 'note',
  summary: 'a date code cannot be read, or reads more than one way',
  *check({ machine }) {
    // Boards of one delivery share their date.
    const read = new Map<string, DateReading[]>();
    for (const { name, card, date } of machine.boards) {
      if (date === undefined) continue;
      const { text, source } = date;
      const readings = read.get(text) ?? readDate(text);
      read.set(text, readings);
      if (readings.length === 1) continue;
      const ways = readings.map((reading) => `${spokenDate(reading)} (${reading.scheme})`);
      yield {
        rule: 'date-odd',
        severity: 'note',
        message:
          ways.length === 0
            ? `the date ${text} of board ${name} is no week, month or day that can be read`
            : `the date ${text} of board ${name} reads ${ways.length} ways: ${ways.join(', ')}`,
        source,
        path: [{ contact: name, signal: text, evidence: 'not said', source }],
        fix:
          ways.length === 0
            ? 'look at the board again; a code that is none belongs into a note'
            : 'compare it with the codes on the chips, and write the date in full, such as `1984-07-03`',
        ...withEdits(readings.flatMap((reading) => inFull(reading, source))),
        about: [name, card.name],
      };
    }
  },
};

/** The reading as a date that reads one way: a day or a week of a year (ISO 8601). */
function inFull({ year, month, day, week }: DateReading, source: Source): Edit[] {
  const two = (number: number): string => String(number).padStart(2, '0');
  const text =
    week !== undefined
      ? `${year}-W${two(week)}`
      : month !== undefined && day !== undefined
        ? `${year}-${two(month)}-${two(day)}`
        : undefined;
  if (text === undefined || readDate(text).length !== 1) return [];
  return [edit(`write \`${text}\``, saying(source, { date: `date ${text}` }))];
}
