import { dsvFormat } from 'd3-dsv';

/** Marks that nobody sees, zero-width and of writing direction: with one of them a name is another than it looks. */
const UNSEEN = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;

/**
 * Markup of a wiki inside a cell that says nothing about the contact: emphasis, links, line breaks. Emphasis stands in
 * pairs: the stars of `IRQ**` are its name.
 */
function plain(cell: string): string {
  return cell
    .replace(UNSEEN, '')
    .replace(/<br\s*\/?>/gi, ' ')
    .replace(/\[\[(?:[^[\]|]*\|)?([^[\]]*)\]\]/g, '$1')
    .replace(/('''?|\*\*|`)(.+?)\1/g, '$2')
    .replace(/[\s\u00a0]+/g, ' ')
    .trim();
}

/**
 * A table as other programs copy it → its cells. Spreadsheets give tabs, files commas or semicolons, wikis rows of
 * bars. Undefined where the text is no table: fewer than two rows or columns.
 */
export function rowsOf(text: string): string[][] | undefined {
  const lines = text.split(/\r\n|\n|\r/).map((line) => line.trim());
  const rows = lines.some((line) => line === '|-' || line.startsWith('{|'))
    ? wikiRows(lines)
    : lines.filter((line) => line !== '').every((line) => line.startsWith('|') && line.endsWith('|'))
      ? markdownRows(lines)
      : separatedRows(text);
  const full = rows.map((row) => row.map(plain)).filter((row) => row.some((cell) => cell !== ''));
  const isTable = full.length >= 2 && full.filter((row) => row.length >= 2).length >= full.length / 2;
  return isTable ? full : undefined;
}

/** `{| … |}`: a row begins at `|-`; cells at `|` or `!` at the start of a line, or behind `||` or `!!`. */
function wikiRows(lines: readonly string[]): string[][] {
  const rows: string[][] = [[]];
  for (const line of lines) {
    if (line.startsWith('{|') || line.startsWith('|}') || line.startsWith('|+')) continue;
    if (line.startsWith('|-')) rows.push([]);
    else if (line.startsWith('|') || line.startsWith('!')) {
      const cells = line.slice(1).split(/\|\||!!/);
      // What stands before a lone bar in a cell are its attributes.
      rows
        .at(-1)!
        .push(...cells.map((cell) => cell.slice(/\[\[/.test(cell) ? 0 : cell.lastIndexOf('|') + 1)));
    }
  }
  return rows;
}

function markdownRows(lines: readonly string[]): string[][] {
  return lines
    .filter((line) => line !== '' && !/^\|[\s:|-]+\|$/.test(line))
    .map((line) => line.slice(1, -1).replaceAll('\\|', '\u0000').split('|'))
    .map((row) => row.map((cell) => cell.replaceAll('\u0000', '|')));
}

/** Of the marks that part the cells of a line, the one that gives most of the lines most cells. */
function separatedRows(text: string): string[][] {
  const tables = ['\t', ';', ',', '|'].map((mark) => dsvFormat(mark).parseRows(text.trim()));
  const width = (rows: readonly string[][]): number =>
    [...rows].sort((a, b) => a.length - b.length)[rows.length >> 1]?.length ?? 0;
  return tables.reduce((best, rows) => (width(rows) > width(best) ? rows : best));
}
