import type { Source } from '../machine/types.ts';

/** A file's text, with its lines counted once. */
export interface TextFile {
  readonly text: string;
  /** Offset at which each line starts. */
  readonly starts: readonly number[];
}

/** Line and column of a place, both from 1; columns count UTF-16 units. */
export interface Place {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export type Texts = ReadonlyMap<string, TextFile>;

export function textFile(text: string): TextFile {
  const starts = [0];
  for (const found of text.matchAll(/\r\n|\n|\r/g)) starts.push(found.index + found[0].length);
  return { text, starts };
}

export function placeIn(texts: Texts, { file, from, to }: Source): Place {
  const { starts = [0] } = texts.get(file) ?? {};
  const line = lineOf(starts, from);
  const endLine = lineOf(starts, Math.max(from, to));
  return {
    line,
    column: from - starts[line - 1]! + 1,
    endLine,
    endColumn: Math.max(from, to) - starts[endLine - 1]! + 1,
  };
}

/** Binary search: the last line that starts at or before the offset. */
function lineOf(starts: readonly number[], offset: number): number {
  let [low, high] = [0, starts.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle]! <= offset) low = middle;
    else high = middle - 1;
  }
  return low + 1;
}

/** The text of a line, from 1, without its line break. */
export function lineText({ text, starts }: TextFile, line: number): string {
  return text.slice(starts[line - 1], starts[line] ?? text.length).replace(/[\r\n]+$/, '');
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: exactly these must not reach a terminal.
const HARMFUL = /[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g;

/** Text that cannot move a terminal's cursor or turn its writing direction: one `?` for each such character. */
export const harmless = (text: string): string => text.replaceAll('\t', ' ').replace(HARMFUL, '?');
