import type { BlockKind } from '../language/forms.ts';
import type { Attribute, Block, Document, Entry, Line, Piece, Value } from '../language/tree.ts';

/** What stands at an offset of a text. */
export interface Place {
  readonly offset: number;
  /** Index of the line, and the line. */
  readonly index: number;
  readonly line: Line;
  /** Column in the line, in UTF-16 units. */
  readonly column: number;
  /** Headings of the blocks around it, outermost first. */
  readonly around: readonly Entry[];
  /** The kind of the innermost block. */
  readonly kind: BlockKind;
  /** The piece of code that the offset touches. */
  readonly piece?: Piece;
  /** The statement of this line, where it could be read, and the part of it that the offset touches. */
  readonly entry?: Entry;
  readonly attribute?: Attribute;
  readonly value?: Value;
  /** Whether the offset lies in the line's comment. */
  readonly inComment: boolean;
}

/** Index of the line that holds an offset; offsets beyond the text count as its end. */
export function lineIndexAt({ lines }: Document, offset: number): number {
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lines[middle]!.start <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** What stands at an offset. */
export function placeAt(document: Document, offset: number): Place {
  const index = lineIndexAt(document, offset);
  const line = document.lines[index]!;
  const column = Math.min(offset - line.start, line.text.length);
  const around = blocksAround(document, index);
  const inner = around.at(-1)?.block ?? document.root;
  const piece = line.pieces.find(({ from, to }) => from <= column && column <= to);
  const entry = entryAt([document.root, ...around.map(({ block }) => block!)], index, offset);
  const at = entry === undefined ? {} : partAt(entry, offset - entry.offset);
  return {
    offset,
    index,
    line,
    column,
    around,
    kind: inner.kind as BlockKind,
    ...(piece ? { piece } : {}),
    ...(entry ? { entry } : {}),
    ...at,
    inComment: line.comment >= 0 && column > line.comment,
  };
}

/** Headings of the blocks that a line lies in, outermost first. A heading and a closing brace lie around their block. */
export function blocksAround({ root, lines }: Document, line: number): Entry[] {
  const around: Entry[] = [];
  let block: Block | undefined = root;
  for (;;) {
    const entry: Entry | undefined = block && lastBefore(block.entries, line);
    block = entry?.block;
    if (entry === undefined || block === undefined || entry.line >= line || block.end < line) return around;
    if (block.end === line && lines[line]!.pieces.some(({ kind }) => kind === 'close')) return around;
    around.push(entry);
  }
}

/** The last entry that begins on this line or before. */
function lastBefore(entries: readonly Entry[], line: number): Entry | undefined {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entries[middle]!.line <= line) low = middle + 1;
    else high = middle;
  }
  return entries[low - 1];
}

/** The statement that the offset touches, or the only one of its line. */
function entryAt(blocks: readonly Block[], line: number, offset: number): Entry | undefined {
  const here = blocks.flatMap(({ entries }) => entriesOn(entries, line));
  const touched = here.find((entry) => {
    const from = offset - entry.offset;
    return entry.statement.from <= from && from <= entry.statement.to;
  });
  return touched ?? here[0];
}

function entriesOn(entries: readonly Entry[], line: number): Entry[] {
  const last = lastBefore(entries, line);
  if (last?.line !== line) return [];
  const found: Entry[] = [];
  for (let i = entries.indexOf(last); i >= 0 && entries[i]!.line === line; i--) found.unshift(entries[i]!);
  return found;
}

function partAt({ statement }: Entry, at: number): { attribute?: Attribute; value?: Value } {
  const touches = ({ from, to }: { from: number; to: number }): boolean => from <= at && at <= to;
  const attribute = statement.attributes.find(touches);
  const value = (attribute?.values ?? statement.subject).find(touches);
  return { ...(attribute ? { attribute } : {}), ...(value ? { value } : {}) };
}

/** Every statement of a text, each with the headings around it, in the order of the lines. */
export function* statementsOf(document: Document): Iterable<{ entry: Entry; around: readonly Entry[] }> {
  for (const entry of document.root.entries) {
    yield { entry, around: [] };
    for (const inner of entry.block?.entries ?? []) {
      yield { entry: inner, around: [entry] };
      for (const innermost of inner.block?.entries ?? []) yield { entry: innermost, around: [entry, inner] };
    }
  }
}
