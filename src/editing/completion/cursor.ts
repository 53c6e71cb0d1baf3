import { type BlockKind, type Form, formIn, tableIn } from '../../language/forms.ts';
import type { Document, Entry } from '../../language/tree.ts';
import type { Source } from '../../machine/types.ts';
import { placeAt } from '../place.ts';
import type { Analysis } from '../project.ts';
import { type Scope, scopeAt } from './scope.ts';

/** What only the host knows. */
export interface CompletionOptions {
  /** The day, as `2026-05-02`. */
  readonly today?: string;
  /** Paths of the workspace's pinout files. */
  readonly files?: readonly string[];
  /** Paths of its pictures. */
  readonly photos?: readonly string[];
}

/** Where something is to be written: offsets count from the start of the file. */
export interface Cursor {
  readonly analysis: Analysis;
  readonly file: string;
  readonly document: Document;
  readonly options: CompletionOptions;
  readonly offset: number;
  readonly around: readonly Entry[];
  readonly kind: BlockKind;
  readonly scope: Scope;
  /** The form that the line has so far; undefined while its first word is not complete. */
  readonly form?: Form;
  /** The statement's text before the token that the cursor is in. */
  readonly head: string;
  /** The token's text before its last name: `CAGE.3.`, `D0..`. */
  readonly stem: string;
  /** The name before the cursor; what is offered replaces it, and what follows of it. */
  readonly word: string;
  readonly from: number;
  readonly to: number;
  readonly tokenFrom: number;
  /** Text between the word and the line's comment or end. */
  readonly rest: string;
  /** The quote that the cursor is in: what stands before it, and whether it is closed. */
  readonly quote?: { readonly before: string; readonly isClosed: boolean };
  /** Whether the line already opens its block. */
  readonly opens: boolean;
  /** Whether something is said elsewhere than on the cursor's line. */
  readonly elsewhere: (source: Source) => boolean;
}

const WORD = /(?:(?<![\p{L}\p{N}_+*/~#$!-])[+-]\d+\.(?!\.)\d*)?[\p{L}\p{N}_+*/~#$!-]*$/u;
const WORD_REST = /^[\p{L}\p{N}_+*/~#$!-]*/u;
const TOKEN = /[^\s,=>]*$/;

/** What stands around an offset; undefined in and right before comments and behind a brace, where nothing is offered. */
export function cursorAt(
  analysis: Analysis,
  file: string,
  offset: number,
  options: CompletionOptions,
): Cursor | undefined {
  const document = analysis.documents.get(file);
  if (document === undefined) return undefined;
  const { line, column, around, kind, inComment } = placeAt(document, offset);
  // Right before its mark a comment would be run into.
  if (inComment || column === line.comment) return undefined;
  const piece = line.pieces.findLast(({ from }) => from <= column);
  if (piece?.kind === 'close') return undefined;
  const start = piece?.from ?? column;
  if (piece?.opens && column > line.text.indexOf('{', piece.to)) return undefined;
  const before = line.text.slice(start, column).replace(/^\s+/, '');
  const word = WORD.exec(before)![0];
  const token = TOKEN.exec(before)![0];
  const length = Math.max(token.length, word.length);
  const at = line.start + column;
  const after = line.text.slice(column);
  const quotes = before.split('"');
  const quote = quotes.length % 2 === 0 ? quotes.at(-1) : undefined;
  const closing = quote === undefined ? -1 : after.indexOf('"');
  const to = at + (closing >= 0 ? closing : WORD_REST.exec(after)![0].length);
  const end = line.start + (line.comment < 0 ? line.text.length : line.comment);
  const head = before.slice(0, before.length - length);
  const form = formOf(head, kind, around);
  return {
    analysis,
    file,
    document,
    options,
    offset: at,
    around,
    kind,
    scope: scopeAt(analysis.machine, around),
    ...(form ? { form } : {}),
    head,
    stem: before.slice(before.length - length, before.length - word.length),
    word,
    from: at - word.length,
    to,
    tokenFrom: at - (quote === undefined ? length : quote.length),
    rest: line.text.slice(to - line.start, Math.max(end, to) - line.start),
    ...(quote === undefined
      ? {}
      : { quote: { before: before.slice(0, -quote.length - 1), isClosed: closing >= 0 } }),
    opens: piece?.opens ?? false,
    elsewhere: (source) =>
      source.file !== file || source.from < line.start || source.from > line.start + line.text.length,
  };
}

/** The form of a line by its first word, in the innermost block that has it. */
function formOf(head: string, kind: BlockKind, around: readonly Entry[]): Form | undefined {
  const word = /^[^\s="]+/.exec(head)?.[0];
  if (word === undefined) return undefined;
  const outer = around.map(({ block }) => block!.kind as BlockKind).reverse();
  for (const one of [kind, ...outer, 'file' as const]) {
    const form = formIn(one, word);
    if (form !== undefined) return form;
    if (one === kind && tableIn(kind)) return tableIn(kind);
  }
  return undefined;
}
