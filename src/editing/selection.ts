import type { Document, Entry, Span } from '../language/tree.ts';
import { placeAt } from './place.ts';

/**
 * What a selection at an offset grows through, innermost first: value, attribute, statement, line, the inside of each
 * block around it, the block, the file. Each span holds the one before and is larger.
 */
export function selectionsAt(document: Document, offset: number): Span[] {
  const place = placeAt(document, offset);
  const { entry, attribute, value, line, around, inComment } = place;
  const spans: Span[] = [];
  const add = (from: number, to: number): void => {
    const last = spans.at(-1);
    const grows =
      last === undefined || (from <= last.from && to >= last.to && to - from > last.to - last.from);
    if (grows && from <= offset && offset <= to && from < to) spans.push({ from, to });
  };
  const { start, text } = line;
  if (inComment) add(start + line.comment, start + text.trimEnd().length);
  else if (entry !== undefined) {
    const moved = (span: Span | undefined): void => {
      if (span) add(entry.offset + span.from, entry.offset + span.to);
    };
    if (value?.kind === 'text' || (value?.kind === 'item' && value.quoted))
      add(entry.offset + value.from + 1, entry.offset + value.to - 1);
    moved(value);
    moved(attribute);
    moved(entry.statement);
  }
  add(start + (text.length - text.trimStart().length), start + text.trimEnd().length);
  if (entry?.block !== undefined) addBlock(document, entry, add);
  for (const heading of [...around].reverse()) if (heading !== entry) addBlock(document, heading, add);
  add(0, document.text.length);
  return spans;
}

/** The lines within a block, then the block with its heading and its closing brace. */
function addBlock(
  { lines }: Document,
  { line, offset, block }: Entry,
  add: (from: number, to: number) => void,
): void {
  const end = lines[block!.end]!;
  const closes = end.pieces[0]?.kind === 'close';
  const heading = lines[line]!;
  const inside = heading.start + heading.text.length + heading.eol.length;
  add(inside, closes ? end.start : end.start + end.text.length);
  const brace = end.pieces.find(({ kind }) => kind === 'close');
  add(offset, end.start + (brace ? brace.to : end.text.length));
}
