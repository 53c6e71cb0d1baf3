import { harmless } from '../reports/places.ts';

/**
 * Markdown of which names and notes from a file cannot become a part: no tag, link or picture, no table cell. All of
 * it is one line's worth; line breaks do not survive.
 */

/** More of a note or a name than this is for reading in the text itself. */
const MOST = 400;

const shortened = (text: string): string => harmless(text.length > MOST ? `${text.slice(0, MOST)}…` : text);

/** Text as it is written, whatever it holds. */
export const plain = (text: string): string =>
  shortened(text)
    .replace(/[\\`*_[\]<&~$|@]|:(?=\/\/)/g, (one) => `\\${one}`)
    .replace(/^([#>+-]|\d+(?=[.)](?:\s|$)))/, (start) => (/\d/.test(start) ? `${start}\\` : `\\${start}`))
    // What looks like an address of the web would become a link.
    .replace(/www\./gi, (one) => `${one.slice(0, 3)}\\.`);

/** Text in the face of code: names, contacts, places. Nothing at all where it is empty. */
export function code(text: string): string {
  const shown = shortened(text);
  if (shown.trim() === '') return plain(shown);
  // A fence longer than any within; a space keeps a back-tick at an end from joining it.
  const longest = Math.max(0, ...[...shown.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = '`'.repeat(longest + 1);
  const space = longest > 0 ? ' ' : '';
  return `${fence}${space}${shown}${space}${fence}`;
}

/** `` `A`, `B` and 3 more ``: the first of a list in the face of code, the rest counted. */
export function codes(names: readonly string[], most = 8): string {
  const shown = names.length > most ? names.slice(0, most - 1) : names;
  const rest = names.length - shown.length;
  return shown.map(code).join(', ') + (rest > 0 ? ` and ${rest} more` : '');
}

/** A table; cells are Markdown already. Pipes end a cell even within code, so they are escaped here. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replace(/(\\*)\|/g, escapePipe)).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** A pipe behind an even number of strokes would end the cell. */
const escapePipe = (_: string, strokes: string): string =>
  `${strokes}${strokes.length % 2 === 0 ? '\\' : ''}|`;

/** Paragraphs, lists and tables below each other; empty ones are left out. */
export const paragraphs = (parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined && part !== '').join('\n\n');

export const list = (items: readonly (string | undefined)[]): string =>
  items
    .filter((item) => item !== undefined && item !== '')
    .map((item) => `- ${item}`)
    .join('\n');

/** `1 contact`, `3 contacts`. */
export const counted = (count: number, one: string, several = `${one}s`): string =>
  `${count} ${count === 1 ? one : several}`;
