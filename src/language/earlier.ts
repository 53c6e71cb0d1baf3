import type { Block, Document, Entry, Line } from './tree.ts';

/** Where things stand: all that changes of them when text before them comes or goes. */
type Moving<T, K extends keyof T> = { -readonly [P in K]: T[P] };

/** An outermost block of a text's last version, moved to where it stands now. */
interface Taken {
  readonly entry: Entry;
  /** What is known of each of its lines. */
  readonly depths: Document['depths'];
  readonly whole: Document['whole'];
}

/**
 * The outermost blocks of a text's last version, for its next one to take where they stand in it unchanged. What is
 * taken is the same object, so that what was made of it still holds; it moves to its new place.
 */
export class Earlier {
  private readonly before: Document;
  private readonly blocks: Map<number, Entry>;
  private readonly lines: readonly Line[];

  /** `lines` are those of the next version. */
  constructor(before: Document, lines: readonly Line[]) {
    this.before = before;
    this.blocks = new Map(before.sound);
    this.lines = lines;
  }

  /** The block whose lines stand from this line on, as they stood before: as far from the text's beginning, or end. */
  take(index: number): Taken | undefined {
    const more = this.lines.length - this.before.lines.length;
    for (const from of more === 0 ? [index] : [index, index - more]) {
      const entry = this.blocks.get(from);
      const count = (entry?.block?.end ?? 0) - from + 1;
      if (entry === undefined || !this.isSame(from, index, count)) continue;
      // Of two equal blocks that stand one behind the other now, one is new.
      this.blocks.delete(from);
      const by = this.lines[index]!.start - this.before.lines[from]!.start;
      move(entry, index - from, by);
      const [depths, whole] = [this.before.depths, this.before.whole];
      return { entry, depths: depths.slice(from, from + count), whole: whole.slice(from, from + count) };
    }
    return undefined;
  }

  /** Lines of equal text share what was read of them, and so do their breaks where no offset is to change. */
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
