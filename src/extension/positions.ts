import { Location, Range, type TextDocument } from 'vscode';
import { lineIndexAt } from '../editing/place.ts';
import type { Document } from '../language/tree.ts';
import { uriOf } from './uris.ts';

/** Offsets of a text, from … to, exclusive. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Where offsets of a parsed text stand, as VS Code counts: lines and columns from 0, columns in UTF-16 units. */
export function rangeIn(document: Document, { from, to }: Span): Range {
  const [start, end] = [from, to].map((offset) => {
    const line = lineIndexAt(document, offset);
    return { line, character: Math.min(offset, document.text.length) - document.lines[line]!.start };
  });
  return new Range(start!.line, start!.character, end!.line, end!.character);
}

export function locationIn(documents: DocumentsOf, file: string, span: Span): Location {
  const document = documents(file);
  return new Location(uriOf(file), document === undefined ? new Range(0, 0, 0, 0) : rangeIn(document, span));
}

/** Looks up the parsed text of a file. */
export type DocumentsOf = (file: string) => Document | undefined;

/** The part of a text that a range of the editor means. */
export const spanOf = (document: TextDocument, range: Range): Span => ({
  from: document.offsetAt(range.start),
  to: document.offsetAt(range.end),
});
