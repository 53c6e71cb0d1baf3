import { Earlier } from './earlier.ts';
import { type BlockKind, type Form, formIn, formsWith, tableIn, wordsIn } from './forms.ts';
import { splitLines } from './lines.ts';
import { asWritten } from './mend.ts';
import { code, nearest, spoken } from './problems.ts';
import { Reader } from './statement.ts';
import type { Document, Entry, Fix, Line, Parsed, Piece, Problem, Statement } from './tree.ts';

interface Building {
  readonly kind: string;
  readonly entries: Entry[];
  end: number;
}

/** The first word as it was meant, in the place of what was written. */
type Mended = Pick<Fix, 'from' | 'to' | 'text'>;

/** A block under construction. */
interface Open {
  readonly kind: BlockKind;
  readonly block: Building;
  readonly header: { readonly from: number; readonly to: number };
  readonly indent: number;
}

/**
 * Text → tree. Never throws and never stops: a line that says nothing costs that line and is reported. Blocks are
 * kept on a stack, without recursion, and the first word of a line decides which block it belongs to, so that a
 * brace that is missing or too many does not take its neighbours along. Linear in the text. Lines and statements that
 * stood in `before`, the text's last version, are taken from there.
 */
export function parseDocument(text: string, before?: Document): Document {
  return new Assembly(text, splitLines(text, before?.lines)).run();
}

/**
 * The next version of a text → its tree. Entries whose statement stands as it stood in `before`, and blocks in which
 * nothing changed, are the same objects, moved to their new places: `before` must not be used any more.
 */
export function parseNext(text: string, before: Document): Document {
  return new Assembly(text, splitLines(text, before.lines), before).run();
}

/** Blocks nest at most twice; what opens more is broken, and is followed this far. */
const DEEPEST = 12;

const FIRST_WORD = /^[^\s="]*/;

const firstWord = (text: string): string => FIRST_WORD.exec(text)?.[0] ?? '';

/** Whether the text has a `=` outside quotes: a line of a table. */
function hasEquals(text: string): boolean {
  const at = text.indexOf('=');
  if (at < 0) return false;
  const quote = text.indexOf('"');
  return quote < 0 || at < quote || /=/.test(text.replace(/"[^"]*"?/g, ''));
}

/** Whether a line with this first word opens a block somewhere. */
const opensBlock = (word: string): boolean => formsWith(word).some((form) => form.opens ?? form.mayOpen);

const inBlock = (kind: BlockKind): string =>
  kind === 'file' ? 'outside the blocks' : `in ${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind} block`;

/** The kind of block that a line with this first word opens somewhere. */
function openedBy(word: string, otherwise: BlockKind): BlockKind {
  const form = formsWith(word).find((one) => one.opens ?? one.mayOpen);
  return form?.opens ?? form?.mayOpen ?? otherwise;
}

/** The word meant by the beginning of a text, and how much of the text it stands for. */
function meantWord(text: string, words: readonly string[]): { word: string; length: number } | undefined {
  const [first = '', second = ''] = text.split(/\s+/, 2);
  const near = nearest(first, words);
  if (near !== undefined) return { word: near, length: first.length };
  const broken = text.slice(0, text.indexOf(second, first.length) + second.length);
  const whole = second === '' ? undefined : words.find((one) => one === first + second);
  if (whole !== undefined) return { word: whole, length: broken.length };
  // Longest first, so that `slots1..8` is not read as a shorter word.
  const glued = words
    .filter((one) => one.length > 3 && first.startsWith(one))
    .sort((a, b) => b.length - a.length)[0];
  return glued === undefined ? undefined : { word: glued, length: glued.length };
}

/** A problem of a statement, moved to the statement's place in the file. */
function moved(problem: Problem, by: number): Problem {
  const { fix } = problem;
  const shifted = { ...problem, from: problem.from + by, to: problem.to + by };
  return fix ? { ...shifted, fix: { ...fix, from: fix.from + by, to: fix.to + by } } : shifted;
}

/** State of one pass over the lines; lives as long as parseDocument. */
class Assembly {
  private readonly stack: Open[];
  private readonly problems: Problem[] = [];
  private readonly depths: number[] = [];
  private readonly whole: (Statement | undefined)[] = [];
  private readonly sound = new Map<number, Entry>();
  private readonly earlier: Earlier | undefined;
  private readonly root: Building;
  private readonly text: string;
  private readonly lines: readonly Line[];
  private readonly reader = new Reader();

  constructor(text: string, lines: readonly Line[], before?: Document) {
    this.text = text;
    this.lines = lines;
    this.earlier = before && new Earlier(before, lines);
    this.root = { kind: 'file', entries: [], end: lines.length - 1 };
    this.stack = [{ kind: 'file', block: this.root, header: { from: 0, to: 0 }, indent: -1 }];
  }

  private get top(): Open {
    return this.stack[this.stack.length - 1] as Open;
  }

  run(): Document {
    for (let index = 0; index < this.lines.length; ) index = this.outermost(index);
    while (this.stack.length > 1) {
      this.report(this.top.header, 'block-unclosed', 'the file ends, expected `}` to close this block');
      this.stack.pop();
    }
    const { text, lines, depths, whole, root, sound, problems } = this;
    problems.sort((a, b) => a.from - b.from || a.to - b.to);
    return { text, lines, depths, whole, root, sound, problems };
  }

  /** Reads what begins on a line outside the blocks, or takes it from the text's last version; the line behind it. */
  private outermost(first: number): number {
    const taken = this.earlier?.take(first);
    if (taken !== undefined) {
      this.root.entries.push(taken.entry);
      for (const depth of taken.depths) this.depths.push(depth);
      for (const statement of taken.whole) this.whole.push(statement);
      this.sound.set(first, taken.entry);
      return first + taken.whole.length;
    }
    const troubles = this.problems.length;
    const { entries } = this.root;
    const known = entries.length;
    let neat = true;
    let index = first;
    do {
      neat &&= this.lines[index]!.pieces.length <= 1;
      this.line(index++);
    } while (this.stack.length > 1 && index < this.lines.length);
    if (this.earlier)
      for (let i = known; i < entries.length; i++) entries[i] = this.earlier.renew(entries[i]!);
    const entry = entries.at(-1);
    const closed = this.stack.length === 1 && entry?.line === first && entry.block !== undefined;
    if (closed && neat && troubles === this.problems.length) this.sound.set(first, entry);
    return index;
  }

  private line(index: number): void {
    const line = this.lines[index] as Line;
    this.whole.push(undefined);
    const pieces = this.runs(line);
    if (pieces.length === 0) {
      this.depths.push(this.stack.length - 1);
      return;
    }
    const depth = this.stack.length;
    pieces.forEach((piece, n) => {
      if (piece.kind === 'close') this.close(index, piece, n);
      else this.piece(index, piece, n);
    });
    const opened = pieces[0]?.kind === 'code' && this.stack.length > depth ? 1 : 0;
    this.depths.push(Math.max(0, this.stack.length - 1 - (pieces.length === 1 ? opened : 0)));
  }

  /**
   * The runs of code on a line that holds more than one. A brace divides the line where it makes sense there: behind
   * the heading of a block, or as the first or last thing on the line. Any other is a slip and divides nothing.
   */
  private runs(line: Line): readonly Piece[] {
    const { pieces } = line;
    if (pieces.length < 2) return pieces;
    const runs: Piece[] = [];
    let from = -1;
    pieces.forEach((piece, n) => {
      const last = n === pieces.length - 1;
      if (piece.kind === 'close' && (last || (from < 0 && runs.length === n))) {
        if (from >= 0) runs.push({ kind: 'code', from, to: (pieces[n - 1] as Piece).to, opens: false });
        from = -1;
        runs.push(piece);
        return;
      }
      if (from < 0) from = piece.from;
      const heading = piece.opens && opensBlock(firstWord(line.text.slice(from, piece.to)));
      if (!heading && !last) return;
      runs.push({ kind: 'code', from, to: piece.to, opens: piece.opens });
      from = -1;
    });
    const second = runs[1];
    if (second !== undefined) this.brokenLine(line, second);
    return runs;
  }

  /** `{` ends its line and `}` stands alone; what stands otherwise is understood all the same. */
  private brokenLine(line: Line, second: Piece): void {
    const from = line.start + second.from;
    const indent = /^\s*/.exec(line.text)?.[0] ?? '';
    const fix: Fix = { from, to: from, text: `\n${indent}`, title: 'break the line here' };
    const message = 'found more behind a brace, expected end of line: `{` ends its line and `}` stands alone';
    this.report({ from, to: line.start + second.to }, 'brace-misplaced', message, fix);
  }

  private close(index: number, piece: Piece, n: number): void {
    const line = this.lines[index] as Line;
    const at = { from: line.start + piece.from, to: line.start + piece.to };
    if (this.stack.length === 1) {
      const fix: Fix = { ...at, text: '', title: 'remove it' };
      this.report(at, 'brace-misplaced', 'found `}`, but no block is open here; remove it', fix);
      return;
    }
    // Amid a line, a brace closes its block only where what follows agrees: by its indentation, or by its first word.
    if (n > 0 && this.indentAfter(index) > this.top.indent) return;
    if (n === 0 && line.pieces.length > 1 && this.belongsHere(line, line.pieces[1] as Piece)) return;
    this.top.block.end = index;
    this.stack.pop();
  }

  /** Whether a piece reads as a line of the innermost block and of none around it. */
  private belongsHere(line: Line, piece: Piece): boolean {
    const text = line.text.slice(piece.from, piece.to);
    const fits = (kind: BlockKind): boolean =>
      formIn(kind, firstWord(text)) !== undefined || (hasEquals(text) && tableIn(kind) !== undefined);
    const around = this.stack[this.stack.length - 2] as Open;
    return fits(this.top.kind) && !fits(around.kind);
  }

  private indentAfter(index: number): number {
    for (let i = index + 1; i < this.lines.length; i++) {
      const next = this.lines[i] as Line;
      const first = next.pieces[0];
      if (first !== undefined) return first.from;
    }
    return 0;
  }

  private piece(index: number, piece: Piece, n: number): void {
    const line = this.lines[index] as Line;
    const text = line.text.slice(piece.from, piece.to);
    const found = this.formOf(text, index, piece, n);
    if (found === undefined) {
      if (text === '') {
        const from = line.start + piece.from;
        this.report(
          { from, to: from + 1 },
          'brace-misplaced',
          'found `{`, expected the line that opens a block before it',
        );
      } else this.unknownWord(index, piece, n, text);
      return;
    }
    const { form, mended } = found;
    const parsed =
      mended === undefined
        ? this.reader.readPiece(form, text, piece)
        : asWritten(this.reader.read(form, mended.text + text.slice(mended.to)), [mended]);
    if (mended === undefined && parsed.problems.length === 0 && n === 0) {
      this.whole[index] = parsed.statement;
    }
    this.add(index, piece, form, parsed);
    this.rest(index, piece, text, parsed);
  }

  /** The form by the first word, in this block or in one around it; what is mistyped is mended and reported. */
  private formOf(
    text: string,
    index: number,
    piece: Piece,
    n: number,
  ): { form: Form; mended?: Mended } | undefined {
    const word = firstWord(text);
    const table = hasEquals(text);
    for (let depth = this.stack.length - 1; depth >= 0; depth--) {
      const block = this.stack[depth] as Open;
      const form = formIn(block.kind, word) ?? (table ? tableIn(block.kind) : undefined);
      if (form === undefined) continue;
      if (depth < this.stack.length - 1 && !this.leave(depth, form, index, piece)) continue;
      return { form };
    }
    return this.mistyped(text, index, piece, n);
  }

  /** Whether a line that belongs further out closes the blocks between: its indentation, or what it opens, says so. */
  private leave(depth: number, form: Form, index: number, piece: Piece): boolean {
    const inner = this.stack[depth + 1] as Open;
    const header = form.opens !== undefined && piece.opens;
    if (piece.from > inner.indent && !header) return false;
    const line = this.lines[index] as Line;
    while (this.stack.length - 1 > depth) {
      const from = line.start + piece.from;
      const fix: Fix = {
        from: line.start,
        to: line.start,
        text: '}\n',
        title: 'close the block before this line',
      };
      this.report(
        { from, to: line.start + piece.to },
        'block-unclosed',
        `found ${code(form.word)}, expected ${code('}')} before it to close the ${this.top.kind} block`,
        fix,
      );
      this.top.block.end = index - 1;
      this.stack.pop();
    }
    return true;
  }

  /** A first word with one slip in it: the line is read as it was meant, and reported. */
  private mistyped(
    text: string,
    index: number,
    piece: Piece,
    n: number,
  ): { form: Form; mended?: Mended } | undefined {
    const line = this.lines[index] as Line;
    if (n > 0 && piece.opens) return undefined;
    for (let depth = this.stack.length - 1; depth >= 0; depth--) {
      const { kind } = this.stack[depth] as Open;
      const words = wordsIn(kind).filter((one) => !piece.opens || opensBlock(one));
      const meant = meantWord(text, words);
      if (meant === undefined) continue;
      const form = formIn(kind, meant.word) as Form;
      if (depth < this.stack.length - 1 && !this.leave(depth, form, index, piece)) continue;
      const from = line.start + piece.from;
      const to = from + meant.length;
      const write = text.startsWith(meant.word) ? `${meant.word} ` : meant.word;
      const fix: Fix = { from, to, text: write, title: `write ${code(meant.word)}` };
      const found = text.slice(0, meant.length);
      this.report({ from, to }, 'word-unknown', `found ${code(found)}, expected ${code(meant.word)}`, fix);
      return { form, mended: { from: 0, to: meant.length, text: write } };
    }
    return undefined;
  }

  private unknownWord(index: number, piece: Piece, n: number, text: string): void {
    const line = this.lines[index] as Line;
    const word = firstWord(text);
    const from = line.start + piece.from;
    const { kind } = this.top;
    const elsewhere = [...new Set(formsWith(word).flatMap((form) => form.blocks))];
    const table = tableIn(kind);
    const ready = [...wordsIn(kind).map(code), ...(table ? [`a line such as ${code(table.example)}`] : [])];
    const place = inBlock(kind);
    const rule = elsewhere.length > 0 ? 'line-misplaced' : 'word-unknown';
    const message =
      elsewhere.length > 0
        ? `found ${code(word)}, which belongs ${spoken(elsewhere.map(inBlock))}; ${place} expected ${spoken(ready)}`
        : `found ${code(word)}, ${place} expected ${spoken(ready)}`;
    this.report({ from, to: from + word.length }, rule, message);
    // A block that cannot be told keeps its lines together, read as lines of the block around it.
    if (piece.opens && n === 0)
      this.open(elsewhere.length > 0 ? openedBy(word, kind) : kind, piece, line, this.empty(kind));
  }

  private add(index: number, piece: Piece, form: Form, parsed: Parsed): void {
    const line = this.lines[index] as Line;
    const offset = line.start + piece.from;
    for (const problem of parsed.problems) this.problems.push(moved(problem, offset));
    const opens = form.opens ?? (piece.opens ? form.mayOpen : undefined);
    if (piece.opens && opens === undefined) {
      const at = { from: line.start + piece.to, to: line.start + piece.to + 1 };
      this.report(
        at,
        'brace-misplaced',
        `found ${code('{')}, but ${code(form.word)} opens no block; remove it`,
      );
    }
    if (form.opens !== undefined && !piece.opens) {
      const to = line.start + piece.to;
      const fix: Fix = { from: to, to, text: ' {', title: 'write `{`' };
      this.report(
        { from: offset, to },
        'brace-misplaced',
        'the line ends, expected `{`: this line opens a block',
        fix,
      );
    }
    const { statement } = parsed;
    if (opens === undefined) {
      if (statement !== undefined) this.top.block.entries.push({ line: index, offset, statement });
      return;
    }
    const block = this.empty(opens);
    if (statement !== undefined) this.top.block.entries.push({ line: index, offset, statement, block });
    this.open(opens, piece, line, block);
  }

  private empty(kind: BlockKind): Building {
    return { kind, entries: [], end: this.lines.length - 1 };
  }

  private open(kind: BlockKind, piece: Piece, line: Line, block: Building): void {
    const from = line.start + piece.from;
    if (this.stack.length > 2) {
      this.report(
        { from, to: line.start + piece.to },
        'brace-misplaced',
        'blocks nest at most twice: close the block around this one first',
      );
    }
    // Text that only opens blocks must not make every line look through all of them.
    if (this.stack.length > DEEPEST) return;
    this.stack.push({ kind, block, header: { from, to: line.start + piece.to }, indent: piece.from });
  }

  /** A second statement on the line, as where a line break was lost. */
  private rest(index: number, piece: Piece, text: string, parsed: Parsed): void {
    if (parsed.rest === undefined) return;
    const second = text.slice(parsed.rest);
    const { kind } = this.top;
    const form = formIn(kind, firstWord(second)) ?? (hasEquals(second) ? tableIn(kind) : undefined);
    if (form === undefined || (form.opens !== undefined && !piece.opens)) return;
    const again = this.reader.read(form, second);
    if (again.statement === undefined || again.problems.length > 0) return;
    const from = piece.from + parsed.rest;
    this.add(
      index,
      { kind: 'code', from, to: piece.to, opens: piece.opens && form.opens !== undefined },
      form,
      again,
    );
  }

  private report(at: { from: number; to: number }, rule: string, message: string, fix?: Fix): void {
    this.problems.push({ from: at.from, to: at.to, rule, message, ...(fix ? { fix } : {}) });
  }
}
