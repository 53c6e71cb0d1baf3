import type { Change, Edit } from '../checks/types.ts';
import { parseDocument } from '../language/blocks.ts';
import { formattedLines } from '../language/format.ts';
import type { Document } from '../language/tree.ts';
import type { Source } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { lineIndexAt } from './place.ts';
import { splicesOf } from './splices.ts';

/** One change of a file's text, by offsets of UTF-16 units. */
export interface TextChange {
  readonly file: string;
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** A change of one text that is not formatted yet; its line breaks are `\n`. */
export interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/**
 * An edit as changes of texts, each line that it touches in canonical form and with the file's own line breaks. None
 * where it cannot be made: it touches a table that ships with the product, or a statement that is not as it expects.
 */
export function textChanges(edit: Edit, documents: ReadonlyMap<string, Document>): TextChange[] {
  const byFile = new Map<string, Change[]>();
  for (const change of edit.changes) {
    const { file } = placeOf(change);
    const list = byFile.get(file);
    if (list) list.push(change);
    else byFile.set(file, [change]);
  }
  const all: TextChange[] = [];
  for (const [file, changes] of byFile) {
    const document = isPublished(file) ? undefined : documents.get(file);
    const splices = document && splicesOf(document, changes);
    const settled = document && splices && settle(document, splices);
    if (settled === undefined) return [];
    for (const one of settled) all.push({ file, ...one });
  }
  return all;
}

function placeOf(change: Change): Source {
  if (change.kind === 'block') return change.after;
  if (change.kind === 'add') return 'into' in change ? change.into : change.beside;
  return change.source;
}

/** The text with changes of one file made; they do not overlap. */
export function applied(text: string, changes: readonly Splice[]): string {
  let result = '';
  let done = 0;
  for (const { from, to, text: put } of inOrder(changes)) {
    result += text.slice(done, from) + put;
    done = to;
  }
  return result + text.slice(done);
}

const inOrder = <T extends Splice>(splices: readonly T[]): T[] =>
  [...splices].sort((a, b) => a.from - b.from || a.to - b.to);

/** Splices with the lines that they touch in canonical form; undefined where two overlap. */
export function settle(document: Document, splices: readonly Splice[]): Splice[] | undefined {
  const eol = document.lines.find((line) => line.eol !== '')?.eol ?? '\n';
  const ordered = inOrder(splices).map((one) => ({ ...one, text: one.text.replaceAll('\n', eol) }));
  if (ordered.some(({ from }, i) => i > 0 && from < ordered[i - 1]!.to)) return undefined;
  const after = parseDocument(applied(document.text, ordered), document);
  let moved = 0;
  return inLines(document, ordered).flatMap(({ from, to, grown }) => {
    const old = document.text.slice(from, to);
    const start = from + moved;
    moved += grown;
    return trimmed(from, old, canonical(after, start, to + moved, old));
  });
}

/** Whole lines that splices touch; those on neighbouring lines are one piece. */
function inLines(
  document: Document,
  ordered: readonly Splice[],
): { readonly from: number; readonly to: number; readonly grown: number }[] {
  const pieces: { first: number; last: number; grown: number }[] = [];
  for (const { from, to, text } of ordered) {
    const [first, last] = [lineIndexAt(document, from), lineIndexAt(document, to)];
    const grown = text.length - (to - from);
    const before = pieces.at(-1);
    if (before === undefined || first > before.last) pieces.push({ first, last, grown });
    else {
      before.last = Math.max(before.last, last);
      before.grown += grown;
    }
  }
  const { lines } = document;
  return pieces.map(({ first, last, grown }) => ({
    from: lines[first]!.start,
    to: lines[last]!.start + lines[last]!.text.length,
    grown,
  }));
}

/** A stretch of lines of the new text in canonical form, but for those that stood in the old text. */
function canonical(after: Document, from: number, to: number, old: string): string {
  const [first, last] = [lineIndexAt(after, from), lineIndexAt(after, to)];
  const kept = new Set(old.split(/\r\n|\n|\r/));
  const formatted = formattedLines(after, first, last);
  return after.lines
    .slice(first, last + 1)
    .map(({ text, eol }, i) => {
      const end = first + i < last ? eol : '';
      return (kept.has(text) ? text : formatted[i]!) + end;
    })
    .join('');
}

/** The change without what stays at its beginning and end; nothing where all stays. */
function trimmed(from: number, old: string, text: string): Splice[] {
  if (old === text) return [];
  const most = Math.min(old.length, text.length);
  let head = 0;
  while (head < most && old[head] === text[head]) head++;
  if (isWithinOne(old, head) || isWithinOne(text, head)) head--;
  let tail = 0;
  while (tail < most - head && old.at(-1 - tail) === text.at(-1 - tail)) tail++;
  if (isWithinOne(old, old.length - tail) || isWithinOne(text, text.length - tail)) tail--;
  return [{ from: from + head, to: from + old.length - tail, text: text.slice(head, text.length - tail) }];
}

/** Whether an offset lies within a line break or a letter of two units: an editor cannot change half of one. */
const isWithinOne = (text: string, at: number): boolean =>
  at > 0 && /^(?:\r\n|[\ud800-\udbff][\udc00-\udfff])$/.test(text.slice(at - 1, at + 1));
