import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { indexNets } from '../../src/analysis/nets.ts';
import { rules } from '../../src/checks/rules.ts';
import { check } from '../../src/checks/run.ts';
import type { Finding } from '../../src/checks/types.ts';
import { published } from '../../src/knowledge/published.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Attribute, Document, Entry, Span, Statement } from '../../src/language/tree.ts';
import { attribute } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import { expandVector } from '../../src/machine/names.ts';
import type { Machine, Source } from '../../src/machine/types.ts';

const EXAMPLES = fileURLToPath(new URL('../../examples/', import.meta.url));

/** One statement of a machine's text in its place: with its file and the statement whose block it stands in. */
export interface Placed {
  readonly file: string;
  readonly entry: Entry;
  readonly parent?: Placed;
}

/** A clean machine with its texts, to put faults into. */
export interface Example {
  /** `s100/s100.pinout` */
  readonly name: string;
  readonly root: string;
  readonly machine: Machine;
  /** Every file that took part, bus tables of the product included. */
  readonly documents: ReadonlyMap<string, Document>;
  readonly statements: readonly Placed[];
  readonly findings: readonly Finding[];
}

/** A change of one file's text. */
export interface Edit extends Source {
  readonly text: string;
}

/** A fault in one place. */
export interface Seed {
  /** Where, in words: `CPU: +5V and +12V`. */
  readonly place: string;
  readonly edits: readonly Edit[];
  /** What the finding must speak of, where that is certain: in its message, on its path, or among its names. */
  readonly names?: readonly string[];
}

/** Root files on disk, one machine each: those that no other file uses. What was left as found is not clean. */
export function cleanExamples(): Example[] {
  const paths = (readdirSync(EXAMPLES, { recursive: true }) as string[])
    .filter((path) => path.endsWith('.pinout'))
    .map((path) => join(EXAMPLES, path))
    .sort();
  const used = new Set<string>();
  for (const path of paths) {
    for (const [, name] of readFileSync(path, 'utf8').matchAll(/^use\s+"([^"]+)"/gm))
      used.add(join(dirname(path), name as string));
  }
  const roots = paths.filter((path) => !used.has(path) && !/as-found/.test(path));
  return roots.map((root) => {
    const built = build(root, new Map());
    return {
      name: relative(EXAMPLES, root),
      root,
      ...built,
      statements: [...built.documents].flatMap(([file, document]) => placed(file, document.root.entries)),
      findings: check(built.machine, built.documents),
    };
  });
}

type Built = Pick<Example, 'machine' | 'documents'>;

/** The machine of a root file. Documents that are given are taken as they are; others come from disk. */
function build(root: string, given: ReadonlyMap<string, Document>): Built {
  const documents = new Map<string, Document>();
  const load = (file: string, textOf: () => string | undefined): Document | undefined => {
    const known = documents.get(file) ?? given.get(file);
    const text = known === undefined ? textOf() : undefined;
    const document = known ?? (text === undefined ? undefined : parseDocument(text));
    if (document) documents.set(file, document);
    return document;
  };
  const fromDisk = (path: string) => load(path, () => readFileSync(path, 'utf8'));
  const machine = buildMachine(
    { file: root, document: fromDisk(root) as Document },
    {
      file: fromDisk,
      published: (name) => load(`published:${name}`, () => published.get(name)),
      publishedNames: [...published.keys()],
      workspace: dirname(root),
    },
  );
  return { machine, documents };
}

/**
 * What the checker says of the machine once its text is changed. All that it says where `only` is not given; else what
 * that rule says, by itself: the others cost most of the time and are not asked.
 */
export function findingsWith({ root, documents }: Example, edits: readonly Edit[], only?: string): Finding[] {
  const changed = new Map(documents);
  for (const [file, before] of documents) {
    const its = edits.filter((edit) => edit.file === file);
    if (its.length > 0) changed.set(file, parseDocument(edited(before.text, its), before));
  }
  const built = build(root, changed);
  const { machine } = built;
  const rule = machine.allowances.length === 0 ? rules.find(({ id }) => id === only) : undefined;
  if (rule === undefined) return check(machine, built.documents);
  return [...rule.check({ machine, nets: indexNets(machine) })];
}

/** The text with all edits made. Of two that overlap the outer one counts. */
export function edited(text: string, edits: readonly Edit[]): string {
  const ordered = [...edits].sort((a, b) => a.from - b.from || b.to - a.to);
  let result = '';
  let done = 0;
  for (const { from, to, text: put } of ordered) {
    if (from < done) continue;
    result += text.slice(done, from) + put;
    done = to;
  }
  return result + text.slice(done);
}

function placed(file: string, entries: readonly Entry[], parent?: Placed): Placed[] {
  return entries.flatMap((entry) => {
    const one: Placed = { file, entry, ...(parent ? { parent } : {}) };
    return [one, ...placed(file, entry.block?.entries ?? [], one)];
  });
}

// ---- finding statements ----

export const formOf = ({ entry }: Placed): string => entry.statement.form;

/** Statements of the machine's own files, in these forms; those of the bus tables that ship are not a person's. */
export const ofForm = ({ statements }: Example, ...forms: string[]): Placed[] =>
  statements.filter((one) => !one.file.startsWith('published:') && forms.includes(formOf(one)));

/** The statement that a source of the machine lies in. */
export function statementAt({ statements }: Example, { file, from }: Source): Placed {
  const found = statements.find(
    ({ file: its, entry: { offset, statement } }) =>
      its === file && offset + statement.from <= from && from < offset + statement.to,
  );
  if (found === undefined) throw new Error(`no statement at ${file}:${from}`);
  return found;
}

/** The statements in the block that a statement opens. */
export const within = (example: Example, block: Placed): Placed[] =>
  example.statements.filter(({ parent }) => parent?.entry === block.entry);

export function textOf(
  { documents }: Example,
  { file, entry }: Placed,
  span: Span = entry.statement,
): string {
  return (documents.get(file) as Document).text.slice(entry.offset + span.from, entry.offset + span.to);
}

/** The names of a statement's subject, ranges written out. */
export function subjectNames({ entry }: Placed): string[] {
  return namesIn(entry.statement.subject);
}

export function namesIn(values: Statement['subject']): string[] {
  return values.flatMap((value) => {
    if (value.kind !== 'item') return [];
    if (value.last === undefined) return [value.first];
    const names = expandVector(value.first, value.last);
    return Array.isArray(names) ? names : [value.first];
  });
}

export const attributeOf = ({ entry }: Placed, key: string): Attribute | undefined =>
  attribute(entry.statement, key);

// ---- changing statements ----

export const sourceOf = ({ file, entry }: Placed, span: Span = entry.statement): Source => ({
  file,
  from: entry.offset + span.from,
  to: entry.offset + span.to,
});

/** Puts another text in place of a part of a statement, or of all of it. */
export const replaced = (one: Placed, text: string, span?: Span): Edit => ({ ...sourceOf(one, span), text });

/** The statement without one attribute, as `with 74LS04` or `by trace`. */
export const without = (one: Placed, key: string): Edit[] => {
  const found = attributeOf(one, key);
  return found ? [replaced(one, '', found)] : [];
};

/** The statement with an attribute changed, or given where it has none. */
export function withAttribute(one: Placed, key: string, text: string): Edit {
  const found = attributeOf(one, key);
  if (found) return replaced(one, text, found);
  const { to } = one.entry.statement;
  return replaced(one, ` ${text}`, { from: to, to });
}

/** Takes a statement out, with its block where it opens one. */
export function removed({ documents }: Example, { file, entry }: Placed): Edit {
  const { lines } = documents.get(file) as Document;
  const first = lines[entry.line] as Document['lines'][number];
  let last = first;
  if (entry.block) {
    let depth = 0;
    for (let i = entry.line; i < lines.length; i++) {
      last = lines[i] as typeof first;
      for (const piece of last.pieces) depth += piece.kind === 'close' ? -1 : piece.opens ? 1 : 0;
      if (depth <= 0) break;
    }
  }
  return { file, from: first.start, to: last.start + last.text.length + last.eol.length, text: '' };
}

/** Takes names out of a statement's list; the statement too where none is left. */
export function withoutNames(example: Example, one: Placed, names: readonly string[]): Edit {
  const all = subjectNames(one);
  const left = all.filter((name) => !names.includes(name));
  if (left.length === 0) return removed(example, one);
  return withSubject(one, left.join(', '));
}

/** Puts other names or contacts in place of a statement's list. */
export function withSubject(one: Placed, text: string): Edit {
  const { subject } = one.entry.statement;
  return replaced(one, text, { from: subject[0]!.from, to: subject.at(-1)!.to });
}

/** Puts lines into the block of a statement; opens the block where it has none. */
export function inserted({ documents }: Example, { file, entry }: Placed, lines: readonly string[]): Edit[] {
  const line = (documents.get(file) as Document).lines[entry.line]!;
  const end = line.start + line.text.length;
  const text = lines.map((one) => `\n${one}`).join('');
  if (entry.block) return [{ file, from: end, to: end, text }];
  const at = entry.offset + entry.statement.to;
  return [
    { file, from: at, to: at, text: ' {' },
    { file, from: end, to: end, text: `${text}\n}` },
  ];
}

/** Puts lines behind all others of the root file. */
export function appended({ root, documents }: Example, lines: readonly string[]): Edit {
  const { length } = (documents.get(root) as Document).text;
  return { file: root, from: length, to: length, text: `\n${lines.join('\n')}\n` };
}
