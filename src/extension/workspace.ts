import * as vscode from 'vscode';
import { type Analysis, Project } from '../editing/project.ts';
import type { Document } from '../language/tree.ts';
import { isPublished, isWithin } from '../machine/uses.ts';
import { readText } from './read-text.ts';
import { pathOf, uriOf } from './uris.ts';

const LANGUAGE = 'pinout';
const FILES = '**/*.pinout';
const SKIPPED = '**/node_modules/**';
/** Files that are read at the start; a workspace with more has them read as they are used. */
const MOST_FILES = 2000;

/**
 * The pinout files of the workspace, as they stand on disk or in the editor, and what is known of them. Everything
 * that the extension shows comes from here.
 */
export class Workspace implements vscode.Disposable {
  readonly project: Project;
  private readonly disposables: vscode.Disposable[] = [];
  private readonly changed = new vscode.EventEmitter<void>();
  /** Something is different: a text, a file, a setting. */
  readonly onDidChange = this.changed.event;
  private readonly log: vscode.LogOutputChannel;
  /** Files that are being read, and the latest reading of each. */
  private readonly reading = new Map<string, symbol>();
  private starting = Promise.resolve();

  /** Settles once the published tables are read: before, no machine is whole. */
  readonly ready: Promise<void>;
  private isReady = false;

  /** `tables` brings the text of each table that ships with the product. */
  constructor(log: vscode.LogOutputChannel, tables: Promise<ReadonlyMap<string, string>>) {
    this.log = log;
    const published = new Map<string, string>();
    this.project = new Project(published, workspaceOf);
    this.ready = tables.then(
      (read) => {
        for (const [name, text] of read) published.set(name, text);
      },
      (error) => this.log.error(`the published tables cannot be read: ${error}`),
    );
    const { workspace } = vscode;
    const watcher = workspace.createFileSystemWatcher(FILES);
    this.disposables.push(
      this.changed,
      watcher,
      watcher.onDidCreate((uri) => this.load(uri)),
      watcher.onDidChange((uri) => this.load(uri)),
      watcher.onDidDelete((uri) => this.remove(uri)),
      workspace.onDidOpenTextDocument((document) => this.take(document)),
      workspace.onDidChangeTextDocument(({ document }) => this.take(document)),
      workspace.onDidCloseTextDocument((document) => this.closed(document)),
      workspace.onDidDeleteFiles(({ files }) => {
        for (const uri of files) this.remove(uri);
      }),
      workspace.onDidRenameFiles(({ files }) => {
        for (const { oldUri } of files) this.remove(oldUri);
        return this.loadAll();
      }),
      workspace.onDidChangeWorkspaceFolders(({ removed }) => {
        // What a `use` may lead to depends on the folders.
        this.project.forget();
        for (const { uri } of removed) this.remove(uri);
        return this.loadAll();
      }),
    );
  }

  /** Settles once the files that the workspace held at the start are read. */
  get loaded(): Promise<void> {
    return this.starting;
  }

  /** Takes in what is open and what the workspace holds. */
  start(): void {
    void this.ready.then(() => {
      this.isReady = true;
      this.changed.fire();
    });
    for (const document of vscode.workspace.textDocuments) this.take(document);
    this.starting = Promise.all([this.ready, this.loadAll()]).then(() => undefined);
  }

  dispose(): void {
    for (const one of this.disposables) one.dispose();
  }

  /** Whether the editor's document is one of ours: pinout text that is a file, or will be one. */
  isOurs({ languageId, uri }: vscode.TextDocument): boolean {
    return languageId === LANGUAGE && isFile(uri);
  }

  /** What is known of the machine that an open document belongs to, its latest text included. */
  analysis(document: vscode.TextDocument): { analysis: Analysis; file: string } | undefined {
    const file = this.isReady ? this.take(document) : undefined;
    const analysis = file === undefined ? undefined : this.project.of(file);
    return analysis === undefined || file === undefined ? undefined : { analysis, file };
  }

  /** The parsed text of a file, also of a table that ships with the product. */
  documentOf = (file: string): Document | undefined =>
    isPublished(file) ? this.project.publishedTable(file) : this.project.document(file);

  /** The parsed text of an open document. */
  parsed(document: vscode.TextDocument): Document | undefined {
    const file = this.take(document);
    return file === undefined ? undefined : this.project.document(file);
  }

  /** Brings the project up to the document's text. Returns its path; undefined where it is none of ours. */
  private take(document: vscode.TextDocument): string | undefined {
    if (!this.isOurs(document)) return undefined;
    const file = pathOf(document.uri);
    if (this.project.set(file, document.getText())) this.tell();
    return file;
  }

  /** Something is different: what is used now is looked for, and everybody who shows something is told. */
  private tell(): void {
    this.loadMissing();
    this.changed.fire();
  }

  private async closed(document: vscode.TextDocument): Promise<void> {
    if (!this.isOurs(document)) return;
    // A document that is given another language is closed too, and is still ours at that moment.
    await undefined;
    // What was typed and not saved is gone: the file is as it is on disk.
    if (document.uri.scheme === 'untitled') this.remove(document.uri);
    else await this.load(document.uri);
  }

  private async loadAll(): Promise<void> {
    try {
      const uris = await vscode.workspace.findFiles(FILES, SKIPPED, MOST_FILES);
      const changes = await Promise.all(uris.map((uri) => this.read(uri)));
      if (changes.includes(true)) this.tell();
      this.log.info(`${uris.length} pinout files in the workspace`);
    } catch (error) {
      // Open files and what they use are known all the same.
      this.log.error(`the workspace cannot be searched for pinout files: ${error}`);
    }
  }

  private async load(uri: vscode.Uri): Promise<void> {
    if (await this.read(uri)) this.tell();
  }

  /** Reads a file as it is on disk; what is open in the editor is newer and stays. Returns whether anything is different. */
  private async read(uri: vscode.Uri): Promise<boolean> {
    const file = pathOf(uri);
    const isOpen = (): boolean =>
      vscode.workspace.textDocuments.some((one) => this.isOurs(one) && pathOf(one.uri) === file);
    if (!isFile(uri) || isOpen()) return false;
    const mine = Symbol(file);
    this.reading.set(file, mine);
    const text = await readText(uri);
    // Another reading has begun since, or the file has gone: what came late is old.
    if (this.reading.get(file) !== mine) return false;
    this.reading.delete(file);
    if (isOpen()) return false;
    if (text === undefined) return this.project.delete(file);
    if (typeof text === 'string') return this.project.set(file, text);
    this.project.setUnreadable(file, text.trouble);
    return true;
  }

  /** Files that a `use` names and that lie where nobody looked: beside a file opened alone, or with another ending. */
  private loadMissing(): void {
    for (const file of this.project.missing()) if (!this.reading.has(file)) void this.load(uriOf(file));
  }

  /** A file or a whole folder is gone; what is open in the editor is there as long as it is. */
  private remove(uri: vscode.Uri): void {
    const path = pathOf(uri);
    for (const file of this.reading.keys())
      if (file === path || isWithin(file, path)) this.reading.delete(file);
    const isLess = this.project.delete(path);
    for (const document of vscode.workspace.textDocuments) this.take(document);
    if (isLess) this.tell();
  }
}

/** A file that can be saved, in the workspace or beside it; not an old version that a view of git shows. */
function isFile(uri: vscode.Uri): boolean {
  if (uri.scheme === 'file' || uri.scheme === 'untitled') return true;
  return (
    vscode.workspace.getWorkspaceFolder(uri) !== undefined ||
    vscode.workspace.fs.isWritableFileSystem(uri.scheme) === true
  );
}

/** The folder that no `use` of a file may leave: its workspace folder, else the folder it lies in. */
export function workspaceOf(file: string): string {
  const folder = vscode.workspace.getWorkspaceFolder(uriOf(file));
  return folder === undefined ? file.slice(0, file.lastIndexOf('/')) : pathOf(folder.uri).replace(/\/$/, '');
}
