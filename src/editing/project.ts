import { merged } from '../checks/merge.ts';
import { check, viewOf } from '../checks/run.ts';
import type { Finding, View } from '../checks/types.ts';
import { parseDocument, parseNext } from '../language/blocks.ts';
import type { Document } from '../language/tree.ts';
import { buildMachine } from '../machine/build.ts';
import type { Machine } from '../machine/types.ts';
import {
  isPublished,
  isWithin,
  type Library,
  PUBLISHED,
  resolvePath,
  rootsByFile,
  usesOf,
} from '../machine/uses.ts';
import { type Symbols, symbolsOf } from './symbols.ts';

/** One machine: a file that no other file uses, with all that it uses. */
export interface Analysis {
  readonly root: string;
  readonly machine: Machine;
  /** Every file that takes part, published tables too (`published:NAME`), by its path. */
  readonly documents: ReadonlyMap<string, Document>;
  /** Looked for when first asked for: what completes a name does not wait for them. */
  readonly findings: readonly Finding[];
  readonly view: View;
  /** Where its files came from. */
  readonly library: Library;
  /** What stands where; gathered when first asked for. */
  readonly symbols: Symbols;
}

/** A file that cannot be used, as its reader says it: `is not text in UTF-8`. */
export interface Unreadable {
  readonly trouble: string;
}

/**
 * The files of a workspace in memory, and what is known of them. Paths are absolute, with `/` between segments.
 * Statements, trees and machines that a change does not touch are kept.
 */
export class Project {
  private readonly files = new Map<string, Document | Unreadable>();
  private readonly tables = new Map<string, Document>();
  private readonly kept = new Map<string, Analysis & { readonly files: number }>();
  /** Grows when a file comes or goes: a `use` may then lead elsewhere. */
  private generation = 0;
  private rootsKept: ReadonlyMap<string, readonly string[]> | undefined;
  private missingKept: readonly string[] | undefined;
  private readonly published: ReadonlyMap<string, string>;
  private readonly workspaceOf: (file: string) => string;

  /** `published` holds the text of each table that ships; `workspaceOf` gives the folder that no `use` of a file may leave. */
  constructor(published: ReadonlyMap<string, string>, workspaceOf: (file: string) => string = folderOf) {
    this.published = published;
    this.workspaceOf = workspaceOf;
  }

  /** Takes a file in, or its next version. Returns whether anything is different now. */
  set(file: string, text: string): boolean {
    const before = this.document(file);
    if (before?.text === text) return false;
    const document = before === undefined ? parseDocument(text) : parseNext(text, before);
    this.files.set(file, document);
    if (before === undefined) this.forget();
    else if (usesOf(before).join('\n') !== usesOf(document).join('\n')) this.forgetUses();
    return true;
  }

  /** Remembers a file that is there and cannot be read: a `use` of it says why. */
  setUnreadable(file: string, trouble: string): void {
    this.files.set(file, { trouble });
    this.forget();
  }

  /** Takes out a file, or all files of a folder. Returns whether there was any. */
  delete(path: string): boolean {
    const before = this.files.size;
    for (const file of this.files.keys()) if (file === path || isWithin(file, path)) this.files.delete(file);
    if (this.files.size === before) return false;
    this.forget();
    return true;
  }

  /** Everything that a `use` leads to is looked up anew: files came or went, or another folder is the workspace. */
  forget(): void {
    this.generation++;
    this.forgetUses();
  }

  private forgetUses(): void {
    this.rootsKept = undefined;
    this.missingKept = undefined;
  }

  document(file: string): Document | undefined {
    const known = this.files.get(file);
    return known !== undefined && 'lines' in known ? known : undefined;
  }

  /** Files that can be read, in the order of their names. */
  names(): string[] {
    return [...this.files.keys()].filter((file) => this.document(file) !== undefined).sort();
  }

  /**
   * Files that a `use` names and that nobody has brought in yet: the host may look for them. None outside the
   * workspace: what a text names must not make the host read there, or ask another machine for it.
   */
  missing(): readonly string[] {
    this.missingKept ??= this.findMissing();
    return this.missingKept;
  }

  private findMissing(): string[] {
    const wanted = new Set<string>();
    for (const file of this.names()) {
      for (const use of usesOf(this.document(file)!)) {
        const target = resolvePath(file, use);
        if (target === undefined || this.files.has(target)) continue;
        if (this.rootsOf(file).some((root) => isWithin(target, this.workspaceOf(root)))) wanted.add(target);
      }
    }
    return [...wanted];
  }

  /** Root files of the machines that a file takes part in. */
  rootsOf(file: string): readonly string[] {
    this.rootsKept ??= this.findRoots();
    return this.rootsKept.get(file) ?? [];
  }

  private findRoots(): ReadonlyMap<string, readonly string[]> {
    const uses = new Map(this.names().map((file) => [file, usesOf(this.document(file)!)]));
    const roots = rootsByFile(uses, this.workspaceOf);
    for (const root of this.kept.keys()) if (!roots.get(root)?.includes(root)) this.kept.delete(root);
    return roots;
  }

  /** What is known of the machine with this root. Undefined where there is no such file. */
  analysis(root: string): Analysis | undefined {
    const document = this.document(root);
    if (document === undefined) return undefined;
    const kept = this.kept.get(root);
    if (kept !== undefined && kept.files === this.generation && this.isCurrent(kept)) return kept;
    const fresh = this.analyse(root, document, kept?.machine);
    this.kept.set(root, fresh);
    return fresh;
  }

  private isCurrent({ documents }: Analysis): boolean {
    for (const [file, document] of documents)
      if (!isPublished(file) && this.files.get(file) !== document) return false;
    return true;
  }

  private analyse(
    root: string,
    document: Document,
    before: Machine | undefined,
  ): Analysis & { files: number } {
    const library = this.library(root);
    const machine = buildMachine({ file: root, document }, library, before);
    const documents = new Map(machine.files.map((file) => [file, this.taken(file)]));
    const view = viewOf(machine);
    let symbols: Symbols | undefined;
    let findings: readonly Finding[] | undefined;
    return {
      root,
      machine,
      documents,
      view,
      library,
      files: this.generation,
      get findings() {
        findings ??= check(machine, documents, view);
        return findings;
      },
      get symbols() {
        symbols ??= symbolsOf(machine, documents);
        return symbols;
      },
    };
  }

  private taken(file: string): Document {
    return isPublished(file) ? this.publishedTable(file)! : this.document(file)!;
  }

  private library(root: string): Library {
    return {
      file: (path) => this.files.get(path),
      published: (name) => this.table(name),
      publishedNames: [...this.published.keys()],
      workspace: this.workspaceOf(root),
    };
  }

  /** A table that ships with the product, by its path `published:NAME`. */
  publishedTable(file: string): Document | undefined {
    return this.table(file.slice(PUBLISHED.length));
  }

  private table(name: string): Document | undefined {
    const text = this.published.get(name);
    if (text === undefined) return undefined;
    const document = this.tables.get(name) ?? parseDocument(text);
    this.tables.set(name, document);
    return document;
  }

  /** The machine that answers for a file: the first of those it takes part in. */
  of(file: string): Analysis | undefined {
    const [root] = this.rootsOf(file);
    return root === undefined ? undefined : this.analysis(root);
  }

  /** All machines that a file takes part in. */
  machinesOf(file: string): Analysis[] {
    return this.rootsOf(file).flatMap((root) => this.analysis(root) ?? []);
  }

  /** Findings that lie in a file, each once, whatever machines it takes part in. */
  findingsIn(file: string): Finding[] {
    const all = this.machinesOf(file).map(({ findings }) => findings);
    return merged(all.map((list) => list.filter(({ source }) => source.file === file)));
  }
}

const folderOf = (file: string): string => file.slice(0, file.lastIndexOf('/'));
