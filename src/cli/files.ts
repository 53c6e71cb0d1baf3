import {
  closeSync,
  type Dirent,
  fstatSync,
  openSync,
  readdirSync,
  readSync,
  realpathSync,
  statSync,
} from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { published } from '../knowledge/published.ts';
import { parseDocument } from '../language/blocks.ts';
import type { Document } from '../language/tree.ts';
import { buildMachine } from '../machine/build.ts';
import type { Machine } from '../machine/types.ts';
import { isPublished, isWithin, type Library, rootsByFile, usesOf } from '../machine/uses.ts';
import { type TextFile, textFile } from '../reports/places.ts';

/** Input that cannot be used: one line for the person, exit code 2. */
export class Trouble extends Error {}

const ENDING = '.pinout';
/** Bytes. A machine of 100,000 contacts is about 6 MB; anything larger is no pinout file. */
const LARGEST = 16 * 1024 * 1024;

const posix = (path: string): string => (sep === '/' ? path : path.split(sep).join('/'));

/** What the reader calls a file: relative to where the command runs. */
export function nameOf(file: string): string {
  if (isPublished(file)) return file;
  const name = posix(relative(process.cwd(), file));
  return name === '' || name.startsWith('../../..') ? file : name;
}

/** The whole text of a file. Throws Trouble that says what is wrong and what to do. */
export function readText(path: string): string {
  const name = nameOf(path);
  let handle: number;
  try {
    refuseOther(path, name);
    handle = openSync(path, 'r');
  } catch (error) {
    if (error instanceof Trouble) throw error;
    throw new Trouble(`${name}: ${reason(error)}`);
  }
  try {
    const before = fstatSync(handle);
    if (before.size > LARGEST) {
      const size = (before.size / 1024 / 1024).toFixed(0);
      throw new Trouble(
        `${name}: ${size} MB is more than a pinout file can be (16 MB); name the right file, or split it with \`use\``,
      );
    }
    // One byte more than it should have: a file that grows meanwhile is noticed.
    const bytes = Buffer.alloc(before.size + 1);
    let read = 0;
    while (read < bytes.length) {
      const got = readSync(handle, bytes, read, bytes.length - read, read);
      if (got === 0) break;
      read += got;
    }
    const after = fstatSync(handle);
    if (read !== before.size || after.size !== before.size || after.mtimeMs !== before.mtimeMs) {
      throw new Trouble(`${name}: changed while it was read; run the command again`);
    }
    return decode(bytes.subarray(0, read), name);
  } catch (error) {
    if (error instanceof Trouble) throw error;
    throw new Trouble(`${name}: ${reason(error)}`);
  } finally {
    closeSync(handle);
  }
}

/** Pipes and devices may never end: they are refused before they are opened. */
function refuseOther(path: string, name: string): void {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found?.isDirectory()) throw new Trouble(`${name}: is a folder; name a file`);
  if (found && !found.isFile()) throw new Trouble(`${name}: is not a plain file; name a pinout file`);
}

function decode(bytes: Buffer, name: string): string {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Trouble(`${name}: is not text in UTF-8; save it as UTF-8, or name a pinout file`);
  }
  if (text.includes('\0')) throw new Trouble(`${name}: is not a text file; name a pinout file`);
  return text;
}

export function reason(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT') return 'there is no such file or folder; check the name';
  if (code === 'EACCES' || code === 'EPERM') return 'may not be read or written; check its permissions';
  if (code === 'EROFS') return 'is on a read-only file system';
  return error instanceof Error ? error.message : String(error);
}

/** Files that the arguments mean: a file as it is, a folder as the machines in it. */
export function machineFiles(paths: readonly string[], read: (path: string) => Document): string[] {
  const roots: string[] = [];
  for (const path of paths) {
    const full = resolve(path);
    if (!isFolder(full, path)) {
      roots.push(posix(full));
      continue;
    }
    const files = pinoutFiles(full);
    if (files.length === 0) throw new Trouble(`${path}: holds no ${ENDING} file; name the folder that does`);
    const all = rootsByFile(new Map(files.map((file) => [file, usesIn(file, read)])), workspaceOf);
    roots.push(...files.filter((file) => all.get(file)?.includes(file)));
  }
  return [...new Set(roots)];
}

function isFolder(full: string, path: string): boolean {
  try {
    return statSync(full).isDirectory();
  } catch (error) {
    throw new Trouble(`${path}: ${reason(error)}`);
  }
}

function pinoutFiles(folder: string): string[] {
  const files: string[] = [];
  const pending = [folder];
  for (const at of pending) {
    for (const entry of entriesOf(at)) {
      const path = join(at, entry.name);
      if (entry.isDirectory()) {
        if (entry.name !== 'node_modules' && !entry.name.startsWith('.')) pending.push(path);
      } else if (entry.isFile() && entry.name.endsWith(ENDING)) files.push(posix(path));
    }
  }
  return files.sort();
}

function entriesOf(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    throw new Trouble(`${nameOf(folder)}: ${reason(error)}`);
  }
}

/** A file that cannot be read is told when its own turn comes. */
function usesIn(file: string, read: (path: string) => Document): string[] {
  try {
    return usesOf(read(file));
  } catch (error) {
    if (error instanceof Trouble) return [];
    throw error;
  }
}

/** The folder that no `use` of a file may leave. */
function workspaceOf(file: string): string {
  const here = posix(process.cwd());
  return isWithin(file, here) ? here : dirname(file);
}

/** Reads files once each, and keeps their text for reports. */
export class Files {
  readonly documents = new Map<string, Document>();
  readonly texts = new Map<string, TextFile>();

  read(path: string): Document {
    return this.keep(path, () => readText(path));
  }

  private keep(file: string, text: () => string): Document {
    const kept = this.documents.get(file);
    if (kept) return kept;
    const document = parseDocument(text());
    this.documents.set(file, document);
    this.texts.set(file, textFile(document.text));
    return document;
  }

  /** A file that another uses: what is wrong with it is told at the `use`. */
  private readable(path: string): Document | { readonly trouble: string } {
    try {
      return this.read(path);
    } catch (error) {
      if (error instanceof Trouble) return { trouble: error.message };
      throw error;
    }
  }

  /** The file of the one machine that a path means. */
  only(path: string): string {
    const [file, ...more] = machineFiles([path], (one) => this.read(one));
    if (file === undefined || more.length > 0)
      throw new Trouble(`${path}: holds more than one machine; name the file of one`);
    return file;
  }

  machine(file: string): Machine {
    const workspace = workspaceOf(file);
    const library: Library = {
      file: (path) => {
        const real = realFile(path);
        if (real === undefined) return undefined;
        if (!real.startsWith(`${realFile(workspace)}/`)) return 'outside';
        return this.readable(path);
      },
      published: (name) => {
        const text = published.get(name);
        return text === undefined ? undefined : this.keep(`published:${name}`, () => text);
      },
      publishedNames: [...published.keys()],
      workspace,
    };
    return buildMachine({ file, document: this.read(file) }, library);
  }

  /** Says on standard error that a text with errors may not tell all. */
  warn(machine: Machine, missing: string): void {
    const wrong = [...this.documents.values()].reduce(
      (sum, { problems }) => sum + problems.length,
      machine.problems.length,
    );
    if (wrong > 0)
      process.stderr.write(
        `cardcage: the text has ${wrong} error${wrong === 1 ? '' : 's'}, so ${missing} may be missing; \`cardcage check\` names them\n`,
      );
  }

  /** The documents that a machine was built from. */
  of(machine: Machine): Map<string, Document> {
    return new Map(machine.files.map((file) => [file, this.documents.get(file)!]));
  }
}

/** Where a path leads once links are followed; undefined where there is nothing. */
function realFile(path: string): string | undefined {
  try {
    return posix(realpathSync(path));
  } catch {
    return undefined;
  }
}
