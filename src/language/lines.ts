import type { Line, Piece } from './tree.ts';

/** Characters that names are made of, besides letters and digits of any script. */
const NAME_MARKS = '_+-*/~#$!';
const LETTER_OR_DIGIT = /[\p{L}\p{N}]/u;

/** Whether the character (one UTF-16 unit, or a letter written as two) belongs to a name. */
function isNameCharacter(character: string): boolean {
  const code = character.charCodeAt(0);
  if (code < 128) {
    const alphanumeric =
      (code >= 48 && code <= 57) || (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
    return alphanumeric || NAME_MARKS.includes(character);
  }
  // Half of a letter beyond the first plane: only letters of rare scripts are written so.
  if (code >= 0xd800 && code <= 0xdfff) return true;
  return LETTER_OR_DIGIT.test(character);
}

/** Spaces of any script; plain text is decided by its code alone, as most of a file is that. */
function isSpace(character: string): boolean {
  const code = character.charCodeAt(0);
  return code < 128 ? code <= 32 : character.trim() === '' || character === '\u200b';
}

/** A line as it stands in the file, not read yet. */
type Raw = Pick<Line, 'start' | 'text' | 'eol'>;

/** What a line holds: the same wherever the same text stands. */
type Content = Pick<Line, 'pieces' | 'comment'>;

/**
 * Text → lines. Every character of the text is in exactly one line (its `text` or its `eol`), in order. Cannot fail. A
 * byte order mark counts as a space. Lines that stood in the text's last version are not read again: those before and
 * behind all that is different now, and between them those of the same text.
 */
export function splitLines(text: string, before: readonly Line[] = []): Line[] {
  const lines = breakLines(text);
  const most = Math.min(lines.length, before.length);
  const moved = lines.length - before.length;
  let head = 0;
  while (head < most && lines[head]!.text === before[head]!.text) head++;
  let tail = lines.length;
  while (tail - moved > head && tail > head && lines[tail - 1]!.text === before[tail - 1 - moved]!.text)
    tail--;
  const between = new Map(before.slice(head, tail - moved).map((line) => [line.text, line]));
  return lines.map(({ start, text, eol }, i) => {
    const known = i < head ? before[i] : i >= tail ? before[i - moved] : between.get(text);
    const { pieces, comment } = known ?? readLine(text);
    return { start, text, eol, pieces, comment };
  });
}

function breakLines(text: string): Raw[] {
  const lines: Raw[] = [];
  const next = (character: string, from: number): number => {
    const found = text.indexOf(character, from);
    return found < 0 ? Number.POSITIVE_INFINITY : found;
  };
  let [start, feed, turn] = [0, -1, -1];
  for (;;) {
    if (feed < start) feed = next('\n', start);
    if (turn < start) turn = next('\r', start);
    const end = Math.min(feed, turn, text.length);
    const after = end + (turn + 1 === feed ? 2 : 1);
    lines.push({ start, text: text.slice(start, end), eol: text.slice(end, after) });
    if (end === text.length) return lines;
    start = after;
  }
}

/** One line → its pieces of code and its comment. A quote without a partner quotes nothing. */
function readLine(text: string): Content {
  const quotes = PLAIN.test(text) ? null : text.match(QUOTES);
  const lone = quotes !== null && quotes.length % 2 === 1;
  return scan(text, lone ? quotes.length - 1 : -1);
}

/** A line without any quote: most lines. */
const PLAIN = /^[^"\u201c\u201d]*$/;
const QUOTES = /["\u201c\u201d]/g;

/** Reads one line from left to right. From the quote numbered `upTo` on, quotes are plain characters. */
function scan(text: string, upTo: number): Content {
  const pieces: Piece[] = [];
  let quotesSeen = 0;
  let comment = -1;
  let from = -1; // where the current piece began
  let to = -1; // one past its last character that is not a space
  let quoted = false;

  const finish = (opens: boolean): void => {
    if (from >= 0 || opens) pieces.push({ kind: 'code', from: from < 0 ? to : from, to, opens });
    from = -1;
  };

  for (let i = 0; i < text.length; i++) {
    const character = text[i] as string;
    if (character === '"' || character === '\u201c' || character === '\u201d') {
      if (quotesSeen !== upTo) quoted = !quoted;
      quotesSeen++;
    } else if (!quoted && character === '#' && (i === 0 || !isNameCharacter(text[i - 1] as string))) {
      comment = i;
      break;
    } else if (!quoted && (character === '{' || character === '}')) {
      if (from < 0) to = i;
      finish(character === '{');
      if (character === '}') pieces.push({ kind: 'close', from: i, to: i + 1, opens: false });
      continue;
    }
    if (isSpace(character)) continue;
    if (from < 0) from = i;
    to = i + 1;
  }
  finish(false);
  return { pieces, comment };
}
