import { format } from '../language/format.ts';
import type { Document } from '../language/tree.ts';

/** One line's text that formatting changes. Offsets of the text that was formatted. */
export interface LineChange {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The lines that formatting changes, from the first to the last line given (from 0), all where none is. */
export function formatChanges(document: Document, first = 0, last = document.lines.length - 1): LineChange[] {
  // Formatting works line by line: the lines of both texts pair off.
  const formatted = format(document.text).split(/\r\n|\n|\r/);
  return document.lines.flatMap(({ start, text }, index) => {
    const after = formatted[index]!;
    if (index < first || index > last || after === text) return [];
    return [{ from: start, to: start + text.length, text: after }];
  });
}
