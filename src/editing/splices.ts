import { writtenNames } from '../checks/edits.ts';
import type { Change } from '../checks/types.ts';
import { formNamed } from '../language/forms.ts';
import type { Document, Entry, Statement } from '../language/tree.ts';
import { expandVector } from '../machine/names.ts';
import type { Splice } from './changes.ts';
import { placeAt } from './place.ts';
import { type Said, saidOfPlaces } from './tables.ts';

/** Changes of one file as splices of its text, unformatted; undefined where one cannot be made. */
export function splicesOf(document: Document, changes: readonly Change[]): Splice[] | undefined {
  const splices: Splice[] = [];
  // What several changes do to one statement is put together.
  const added = new Map<Entry, string[]>();
  const said = new Map<Entry, Said[]>();
  for (const change of changes) {
    if (change.kind === 'replace') {
      const { from, to } = change.source;
      splices.push({ from, to, text: change.text });
      continue;
    }
    if (change.kind === 'block') {
      splices.push(blockBehind(document, change.after.from, change.lines));
      continue;
    }
    const entry = change.kind === 'add' ? home(document, change) : entryAt(document, change.source.from);
    if (entry === undefined) return undefined;
    if (change.kind === 'add') gather(added, entry, change.line);
    else if (change.kind === 'say') gather(said, entry, change);
    else {
      const made = change.kind === 'remove' ? removed(document, entry) : listed(document, entry, change);
      if (made === undefined) return undefined;
      splices.push(made);
    }
  }
  for (const [entry, lines] of added) {
    const made = addedTo(document, entry, lines);
    if (made === undefined) return undefined;
    splices.push(...made);
  }
  for (const [entry, list] of said) {
    const made = list.some(({ at }) => at) ? saidOfPlaces(document, entry, list) : saidBy(entry, list);
    if (made === undefined) return undefined;
    splices.push(...made);
  }
  return splices;
}

function gather<T>(into: Map<Entry, T[]>, entry: Entry, one: T): void {
  const list = into.get(entry);
  if (list) list.push(one);
  else into.set(entry, [one]);
}

const entryAt = (document: Document, offset: number): Entry | undefined => placeAt(document, offset).entry;

/** The statement whose block a line is added to. */
function home(document: Document, change: Change & { readonly kind: 'add' }): Entry | undefined {
  if ('into' in change) return entryAt(document, change.into.from);
  return placeAt(document, change.beside.from).around.at(-1);
}

const indentOf = (text: string): string => /^\s*/.exec(text)![0];

/** Lines before the brace that closes a statement's block; where the block is open to the end, behind its last line. */
function addedTo(document: Document, entry: Entry, added: readonly string[]): Splice[] | undefined {
  const line = document.lines[entry.line]!;
  const indent = indentOf(line.text);
  const text = added.map((one) => `${indent}  ${one}`);
  const { block } = entry;
  if (line.pieces.length > 1) return undefined;
  if (block === undefined) {
    if (formNamed(entry.statement.form).mayOpen === undefined) return undefined;
    const [at, end] = [entry.offset + entry.statement.to, line.start + line.text.length];
    const lines = `\n${text.join('\n')}\n${indent}}`;
    return [
      { from: at, to: at, text: ' {' },
      { from: end, to: end, text: lines },
    ];
  }
  const closing = document.lines[block.end]!;
  if (closing.pieces.some(({ kind }) => kind === 'close')) {
    if (closing.pieces.length > 1) return undefined;
    return [{ from: closing.start, to: closing.start, text: text.map((one) => `${one}\n`).join('') }];
  }
  const last = document.lines[lastLine(entry)]!;
  const end = last.start + last.text.length;
  return [{ from: end, to: end, text: text.map((one) => `\n${one}`).join('') }];
}

/** Index of the last line with a statement of an entry's block, or of the entry itself. */
function lastLine(entry: Entry): number {
  const last = entry.block?.entries.at(-1);
  return last === undefined ? entry.line : lastLine(last);
}

/** Lines behind the outermost block around an offset, or at the end of the text, with a blank line before. */
function blockBehind(document: Document, offset: number, lines: readonly string[]): Splice {
  const { around, entry } = placeAt(document, offset);
  const outer = around[0] ?? entry;
  const index = outer === undefined ? document.lines.length - 1 : (outer.block?.end ?? outer.line);
  const last = document.lines[index]!;
  const next = document.lines[index + 1];
  const at = last.start + last.text.length;
  const gap = last.text.trim() === '' ? '' : '\n\n';
  return {
    from: at,
    to: at,
    text: `${gap}${lines.join('\n')}${next && next.text.trim() !== '' ? '\n' : ''}`,
  };
}

/** The lines of a statement, with its block and the line break behind them. */
function removed({ lines }: Document, entry: Entry): Splice | undefined {
  const first = lines[entry.line]!;
  const last = lines[entry.block?.end ?? entry.line]!;
  if (first.pieces.length > 1 || last.pieces.length > 1) return undefined;
  return { from: first.start, to: last.start + last.text.length + last.eol.length, text: '' };
}

/** Attributes said anew, put in before how the line is known, or taken out with the space before them. */
function saidBy({ offset, statement }: Entry, list: readonly Said[]): Splice[] {
  const say = Object.assign({}, ...list.map((one) => one.say)) as Record<string, string>;
  const by = statement.attributes.find(({ key }) => key === 'by');
  return Object.entries(say).flatMap(([key, text]) => {
    const [found, ...more] = statement.attributes.filter((one) => one.key === key);
    if (found) {
      // What may be said more than once is said anew as a whole.
      return [found, ...more].map(({ from, to }, i) => ({
        from: offset + from,
        to: offset + to,
        text: i === 0 ? text : '',
      }));
    }
    if (text === '') return [];
    const at = offset + (by?.from ?? statement.to);
    return { from: at, to: at, text: by ? `${text} ` : ` ${text}` };
  });
}

/** The names of a statement's list, vectors written out; undefined where something else stands there. */
function namesIn({ subject }: Statement): string[] | undefined {
  const names: string[] = [];
  for (const value of subject) {
    if (value.kind !== 'item' || value.quoted) return undefined;
    const all = value.last === undefined ? [value.first] : expandVector(value.first, value.last);
    if ('problem' in all) return undefined;
    names.push(...all.filter((_, i) => i % (value.step ?? 1) === 0));
  }
  return names;
}

function listed(
  document: Document,
  entry: Entry,
  change: Change & { readonly kind: 'list' },
): Splice | undefined {
  const { from, to } = change;
  const names = namesIn(entry.statement);
  if (names === undefined || from.some((name) => !names.includes(name))) return undefined;
  const kept = names.flatMap((name) => {
    const at = from.indexOf(name);
    return at < 0 ? [name] : to.slice(at, at + 1);
  });
  const all = [...kept, ...to.slice(from.length)];
  if (all.length === 0) return removed(document, entry);
  const { subject } = entry.statement;
  const [first, last] = [subject[0]!, subject.at(-1)!];
  return { from: entry.offset + first.from, to: entry.offset + last.to, text: writtenNames(all) };
}
