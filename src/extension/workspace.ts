import * as vscode from 'vscode';
import { type Analysis, isPublished, Project } from '../editing/project.ts';
import type { Document } from '../language/tree.ts';
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
  private readonly loading = new Set<string>();
  private starting = Promise.resolve();

  /** `published` holds the text of each table that ships with the product. */
  constructor(log: vscode.LogOutputChannel, published: ReadonlyMap<string, string>) {
    this.log = log;
    this.project = new Project(published, workspaceOf);
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
      workspace.onDidChangeWorkspaceFolders(() => this.loadAll()),
    );
  }

  /** Settles once the files that the workspace held at the start are read. */
  get loaded(): Promise<void> {
    return this.starting;
  }

  /** Takes in what is open and what the workspace holds. */
  start(): void {
    for (const document of vscode.workspace.textDocuments) this.take(document);
    this.starting = this.loadAll();
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
    const file = this.take(document);
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
    if (this.project.set(file, document.getText())) {
      this.loadMissing();
      this.changed.fire();
    }
    return file;
  }

  private closed(document: vscode.TextDocument): void {
    if (!this.isOurs(document)) return;
    // What was typed and not saved is gone: the file is as it is on disk.
    if (document.uri.scheme === 'untitled') this.remove(document.uri);
    else void this.load(document.uri);
  }

  private async loadAll(): Promise<void> {
    try {
      const uris = await vscode.workspace.findFiles(FILES, SKIPPED, MOST_FILES);
      await Promise.all(uris.map((uri) => this.load(uri)));
      this.log.info(`${uris.length} pinout files in the workspace`);
    } catch (error) {
      // Open files and what they use are known all the same.
      this.log.error(`the workspace cannot be searched for pinout files: ${error}`);
    }
  }

  /** Reads a file as it is on disk; what is open in the editor is newer and stays. */
  private async load(uri: vscode.Uri): Promise<void> {
    if (!isFile(uri)) return;
    const file = pathOf(uri);
    const isOpen = (): boolean =>
      vscode.workspace.textDocuments.some((one) => this.isOurs(one) && pathOf(one.uri) === file);
    if (isOpen()) return;
    try {
      const bytes = await vscode.workspace.fs.readFile(uri);
      const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
      if (isOpen() || !this.project.set(file, text)) return;
      this.loadMissing();
    } catch (error) {
      if (error instanceof vscode.FileSystemError) this.project.delete(file);
      else
        this.project.setUnreadable(
          file,
          `${file.slice(file.lastIndexOf('/') + 1)}: is not text in UTF-8; save it as UTF-8`,
        );
    }
    this.changed.fire();
  }

  /** Files that a `use` names and that lie where nobody looked: beside a file opened alone, or with another ending. */
  private loadMissing(): void {
    for (const file of this.project.missing()) {
      if (this.loading.has(file)) continue;
      this.loading.add(file);
      void this.load(uriOf(file)).finally(() => this.loading.delete(file));
    }
  }

  /** A file or a whole folder is gone. */
  private remove(uri: vscode.Uri): void {
    const path = pathOf(uri);
    for (const file of this.project.names()) {
      if (file === path || file.startsWith(`${path}/`)) this.project.delete(file);
    }
    this.changed.fire();
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
