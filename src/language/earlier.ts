import type { Block, Document, Entry, Line } from './tree.ts';

/** What changes of things while they stay the same: where they stand, and of a heading the block that it opens. */
type Moving<T, K extends keyof T> = { -readonly [P in K]: T[P] };

/** An outermost block of a text's last version, moved to where it stands now. */
interface Taken {
  readonly entry: Entry;
  /** What is known of each of its lines. */
  readonly depths: Document['depths'];
  readonly whole: Document['whole'];
}

/**
 * A text's last version, for its next one to take from. An entry stays the same object while its own statement stays; its
 * block stays the same object while nothing inside it changes. So what was made of them still holds. What is taken moves
 * to its new place, and is gone from the last version.
 */
export class Earlier {
  private readonly before: Document;
  private readonly lines: readonly Line[];
  private readonly more: number;
  /** Outermost entries that are not taken yet, by the line on which they begin. */
  private readonly entries = new Map<number, Entry>();

  /** `lines` are those of the next version. */
  constructor(before: Document, lines: readonly Line[]) {
    this.before = before;
    this.lines = lines;
    this.more = lines.length - before.lines.length;
    for (const entry of before.root.entries) this.entries.set(entry.line, entry);
  }

  /** The block whose lines stand from this line on as they stood before, and had nothing wrong in them. */
  take(index: number): Taken | undefined {
    for (const from of this.counterparts(index)) {
      const entry = this.entries.get(from);
      if (entry?.block === undefined || this.before.sound.get(from) !== entry) continue;
      const count = entry.block.end - from + 1;
      if (!this.isSame(from, index, count)) continue;
      this.entries.delete(from);
      move(entry, index - from, this.lines[index]!.start - this.before.lines[from]!.start);
      const [depths, whole] = [this.before.depths, this.before.whole];
      return { entry, depths: depths.slice(from, from + count), whole: whole.slice(from, from + count) };
    }
    return undefined;
  }

  /** For an outermost entry that was read anew: the one that stood there with the same statement, or itself. */
  renew(fresh: Entry): Entry {
    for (const from of this.counterparts(fresh.line)) {
      const entry = this.entries.get(from);
      if (entry?.statement !== fresh.statement) continue;
      this.entries.delete(from);
      return renewed(entry, fresh);
    }
    return fresh;
  }

  /** Where a line may have stood before: as far from the text's beginning, or from its end. */
  private counterparts(index: number): readonly number[] {
    return this.more === 0 ? [index] : [index, index - this.more];
  }

  /** Lines of equal text share what was read of them; their breaks are to be as long too, for the offsets. */
  private isSame(from: number, index: number, count: number): boolean {
    const { lines } = this.before;
    for (let i = 0; i < count; i++) {
      const [one, other] = [lines[from + i], this.lines[index + i]];
      if (one?.pieces !== other?.pieces || one?.eol.length !== other?.eol.length) return false;
    }
    return true;
  }
}

/** Moves an entry, with all that is inside it, by so many lines and characters. */
function move(entry: Entry, lines: number, characters: number): void {
  if (lines === 0 && characters === 0) return;
  const place: Moving<Entry, 'line' | 'offset'> = entry;
  place.line += lines;
  place.offset += characters;
  if (entry.block === undefined) return;
  const block: Moving<Block, 'end'> = entry.block;
  block.end += lines;
  for (const inner of entry.block.entries) move(inner, lines, characters);
}

/** An entry, at the place and with the block of one that says the same. */
function renewed(entry: Entry, fresh: Entry): Entry {
  const { line, offset, block } = fresh;
  const moving: Moving<Entry, 'line' | 'offset'> = entry;
  moving.line = line;
  moving.offset = offset;
  if (block === undefined && entry.block === undefined) return entry;
  const opened: { block?: Block } = entry;
  if (block === undefined) delete opened.block;
  else opened.block = entry.block === undefined ? block : renewedBlock(entry.block, block);
  return entry;
}

/** The block with the entries of its last version where they still stand; that version itself where nothing changed. */
function renewedBlock(before: Block, fresh: Block): Block {
  const [old, entries] = [before.entries, fresh.entries];
  const isSame = (a: Entry | undefined, b: Entry | undefined): boolean =>
    a !== undefined && a.statement === b?.statement;
  let head = 0;
  while (isSame(old[head], entries[head])) head++;
  const more = entries.length - old.length;
  let tail = entries.length;
  while (tail > head && tail - more > head && isSame(old[tail - 1 - more], entries[tail - 1])) tail--;
  let changed = before.kind !== fresh.kind || tail > head || tail - more > head;
  const list = entries.map((entry, i) => {
    const known = i < head ? old[i]! : i >= tail ? old[i - more]! : undefined;
    if (known === undefined) return entry;
    const { block } = known;
    renewed(known, entry);
    changed ||= known.block !== block;
    return known;
  });
  if (changed) return { ...fresh, entries: list };
  const block: Moving<Block, 'end'> = before;
  block.end = fresh.end;
  return before;
}
