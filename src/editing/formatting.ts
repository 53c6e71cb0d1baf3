import { formattedLines } from '../language/format.ts';
import type { Document } from '../language/tree.ts';

/** One line's text that formatting changes. Offsets of the text that was formatted. */
export interface LineChange {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The lines that formatting changes, from the first to the last line given (from 0), all where none is. */
export function formatChanges(document: Document, first = 0, last = document.lines.length - 1): LineChange[] {
  const formatted = formattedLines(document, first, last);
  return document.lines.slice(first, last + 1).flatMap(({ start, text }, i) => {
    const after = formatted[i]!;
    return after === text ? [] : [{ from: start, to: start + text.length, text: after }];
  });
}
