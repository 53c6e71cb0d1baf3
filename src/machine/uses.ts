import type { Document } from '../language/tree.ts';
import { has, said as saidText } from '../language/tree.ts';
import { unknown } from './cards.ts';
import { type Problems, type Said, sourceOf, statementOf } from './scope.ts';

export const PUBLISHED = 'published:';

/** Whether a path is that of a table that ships with the product: it is the same in every machine, and nobody edits it. */
export const isPublished = (file: string): boolean => file.startsWith(PUBLISHED);

/** A file with its parsed text. Published tables are files named `published:NAME`. */
export interface SourceFile {
  readonly file: string;
  readonly document: Document;
}

/** Where files come from. Paths are absolute, with `/` between segments. */
export interface Library {
  /**
   * The parsed file; undefined where there is none, `outside` where a link leads out of the workspace, or what is wrong
   * with a file that cannot be read.
   */
  file(path: string): Document | 'outside' | { readonly trouble: string } | undefined;
  published(name: string): Document | undefined;
  readonly publishedNames: readonly string[];
  /** Folder that no `use` may leave. */
  readonly workspace: string;
}

/** The root file and all that it brings in, each once, root first. */
export function gather(root: SourceFile, library: Library, problems: Problems): SourceFile[] {
  const files: SourceFile[] = [];
  const state = new Map<string, 'open' | 'done'>();
  // A stack of files instead of recursion: a chain of a thousand files is no reason to fail.
  const stack: { file: SourceFile; uses: Said[] }[] = [];
  const enter = (file: SourceFile): void => {
    files.push(file);
    state.set(file.file, 'open');
    const uses = file.document.root.entries
      .filter((entry) => entry.statement.form === 'use')
      .map((entry) => ({ file: file.file, entry }));
    stack.push({ file, uses });
  };
  enter(root);
  while (stack.length > 0) {
    const top = stack[stack.length - 1]!;
    const use = top.uses.shift();
    if (use === undefined) {
      state.set(top.file.file, 'done');
      stack.pop();
      continue;
    }
    const target = resolve(use, top.file.file, library, problems);
    if (target === undefined) continue;
    const seen = state.get(target.file);
    if (seen === 'open') {
      const chain = [...stack.map(({ file }) => file.file), target.file].map(short).join(' → ');
      problems.add(
        'use-cycle',
        sourceOf(use),
        `these files use each other in a circle: ${chain}; take one \`use\` out`,
      );
    } else if (seen === undefined) enter(target);
  }
  return files;
}

const short = (path: string): string => path.slice(path.lastIndexOf('/') + 1);

function resolve(use: Said, from: string, library: Library, problems: Problems): SourceFile | undefined {
  const statement = statementOf(use);
  const value = statement.subject[0];
  const path = value?.kind === 'text' ? value.value : saidText(statement, 'text');
  if (path === undefined) return undefined;
  if (has(statement, 'published')) {
    const document = library.published(path);
    if (document !== undefined) return { file: PUBLISHED + path, document };
    problems.add('use-missing', sourceOf(use), unknown('published table', path, library.publishedNames));
    return undefined;
  }
  const target = resolvePath(from, path);
  const inside = target !== undefined && isWithin(`${target}/`, library.workspace);
  const document = inside ? library.file(target) : 'outside';
  if (target === undefined || document === 'outside') {
    problems.add(
      'use-outside',
      sourceOf(use),
      `\`${path}\` leads out of the workspace; use a file inside it`,
    );
    return undefined;
  }
  if (document !== undefined && 'trouble' in document) {
    problems.add('use-missing', sourceOf(use), `this file cannot be used: ${document.trouble}`);
    return undefined;
  }
  if (document !== undefined) return { file: target, document };
  problems.add(
    'use-missing',
    sourceOf(use),
    `there is no file \`${path}\` beside this one; check the name, or create it`,
  );
  return undefined;
}

/** A path as written in a file, resolved against that file's place. Undefined for absolute paths and beyond the root. */
export function resolvePath(from: string, path: string): string | undefined {
  if (path.startsWith('/') || path.includes('\\') || /^[a-z]:/i.test(path) || path.includes('\0'))
    return undefined;
  const segments = from.split('/').slice(0, -1);
  for (const segment of path.split('/')) {
    if (segment === '' || segment === '.') continue;
    if (segment !== '..') segments.push(segment);
    else if (segments.length <= 1) return undefined;
    else segments.pop();
  }
  return segments.join('/');
}

/** Whether a path lies in a folder. */
export const isWithin = (path: string, folder: string): boolean =>
  path.startsWith(folder.endsWith('/') ? folder : `${folder}/`);

/** Paths of other files that a file uses, as written. */
export function usesOf({ root }: Document): string[] {
  return root.entries.flatMap(({ statement: { form, subject, attributes } }) => {
    const [value] = subject;
    const isFile = form === 'use' && !attributes.some(({ key }) => key === 'published');
    return isFile && value?.kind === 'text' ? [value.value] : [];
  });
}

/**
 * Each file → the roots of the machines that it takes part in: files that reach it by `use` and that no other uses. Where
 * all that reach a file use each other in a circle, the first of them is the root.
 * @param uses what each file uses, as written, in the order of their names
 * @param workspaceOf the folder that no `use` of a root may leave: one that does brings nothing in
 */
export function rootsByFile(
  uses: ReadonlyMap<string, readonly string[]>,
  workspaceOf: (root: string) => string,
): Map<string, readonly string[]> {
  const targets = new Map<string, string[]>();
  const used = new Set<string>();
  for (const [file, paths] of uses) {
    const all = paths.flatMap((path) => resolvePath(file, path) ?? []).filter((target) => target !== file);
    targets.set(file, all);
    for (const target of all) used.add(target);
  }
  const roots = new Map<string, string[]>();
  const reach = (root: string): void => {
    const folder = workspaceOf(root);
    const reached = new Set([root]);
    for (const file of reached) {
      const known = roots.get(file);
      if (known) known.push(root);
      else roots.set(file, [root]);
      for (const target of targets.get(file) ?? []) if (isWithin(target, folder)) reached.add(target);
    }
  };
  for (const file of targets.keys()) if (!used.has(file)) reach(file);
  for (const file of targets.keys()) if (!roots.has(file)) reach(file);
  return roots;
}
