import type { Block, Document, Entry } from './tree.ts';

/** Where things stand: all that changes of them when text above them comes or goes. */
type Moving<T, K extends keyof T> = { -readonly [P in K]: T[P] };

/**
 * The document with the outermost entries of `before`, its last version, wherever they stand in it unchanged with all
 * that is inside them: what was made of an entry then still holds. Those entries move to their new places, so `before`
 * must not be used any more. Linear in the entries.
 */
export function takeOver(document: Document, before: Document): Document {
  const entries = document.root.entries;
  const old = before.root.entries;
  const more = entries.length - old.length;
  let tail = entries.length;
  while (tail > 0 && tail > more && isAlike(entries[tail - 1]!, old[tail - 1 - more]!)) tail--;
  const head = Math.min(tail, tail - more);
  const taken = entries.map((entry, i) => {
    const known = i < head ? old[i]! : i >= tail ? old[i - more]! : undefined;
    return known !== undefined && (i >= tail || isAlike(entry, known)) ? moved(known, entry) : entry;
  });
  return { ...document, root: { ...document.root, entries: taken } };
}

/** Whether two entries say the same, and so does all that is inside them. Equal statements of two versions are one object. */
function isAlike(a: Entry, b: Entry): boolean {
  if (a.statement !== b.statement) return false;
  if (a.block === undefined || b.block === undefined) return a.block === b.block;
  const [inA, inB] = [a.block.entries, b.block.entries];
  return (
    a.block.kind === b.block.kind &&
    inA.length === inB.length &&
    inA.every((entry, i) => isAlike(entry, inB[i]!))
  );
}

/** The entry, with all that is inside it, moved to where one that says the same stands now. */
function moved(entry: Entry, to: Entry): Entry {
  const place: Moving<Entry, 'line' | 'offset'> = entry;
  place.line = to.line;
  place.offset = to.offset;
  if (entry.block && to.block) {
    const block: Moving<Block, 'end'> = entry.block;
    block.end = to.block.end;
    const inside = to.block.entries;
    entry.block.entries.forEach((one, i) => {
      moved(one, inside[i]!);
    });
  }
  return entry;
}
