import type * as vscode from 'vscode';

/** One test within the extension host. It runs in the browser's host, the desktop's and the server's. */
export interface HostTest {
  name: string;
  run: (tools: Tools) => Promise<void>;
}

export interface Tools {
  vscode: typeof vscode;
  /** Opens an example by its path, as `tide-gauge/bus.pinout`, in the editor. */
  open: (path: string) => Promise<vscode.TextDocument>;
  /** Writes a file into the opened folder and opens it in the editor. Every test takes a name of its own. */
  create: (name: string, text: string) => Promise<vscode.TextDocument>;
}

/** How long the host may take for one thing, in milliseconds. */
const PATIENCE = 20_000;

/** Asks until the answer is neither undefined nor false. Throws with `what` when it does not come. */
export async function until<T>(
  what: string,
  ask: () => T | undefined | false | PromiseLike<T | undefined | false>,
): Promise<T> {
  const end = Date.now() + PATIENCE;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined && answer !== false) return answer;
    if (Date.now() > end) throw new Error(`waited ${PATIENCE / 1000} s for ${what}`);
    await new Promise((done) => setTimeout(done, 20));
  }
}

/** Throws unless both are the same when written as JSON. */
export function same(found: unknown, expected: unknown): void {
  const [left, right] = [JSON.stringify(found), JSON.stringify(expected)];
  if (left !== right) throw new Error(`found ${left}, expected ${right}`);
}

/** Throws unless the text or list holds all of these. */
export function holds(found: string | readonly string[], ...parts: string[]): void {
  const missing = parts.filter((part) => !found.includes(part));
  if (missing.length > 0) throw new Error(`${JSON.stringify(found)} lacks ${JSON.stringify(missing)}`);
}

/** The place in a document where the first `text` begins; `into` characters further. */
export function at(document: vscode.TextDocument, text: string, into = 0): vscode.Position {
  const offset = document.getText().indexOf(text);
  if (offset < 0) throw new Error(`no "${text}" in ${document.uri.path}`);
  return document.positionAt(offset + into);
}

/** Writes over the first `old` of a document, as typing does: in the editor, not on disk. */
export async function replace(
  { vscode }: Tools,
  document: vscode.TextDocument,
  old: string,
  text: string,
): Promise<void> {
  // Refused while the editor takes the file in anew, as it may right after it was written.
  await until('the edit', () => {
    const edit = new vscode.WorkspaceEdit();
    edit.replace(document.uri, new vscode.Range(at(document, old), at(document, old, old.length)), text);
    return vscode.workspace.applyEdit(edit);
  });
}

/** The rules of a file's findings, in the order of the text. */
export function rulesIn({ vscode }: Tools, uri: vscode.Uri): string[] {
  return vscode.languages
    .getDiagnostics(uri)
    .toSorted((a, b) => a.range.start.compareTo(b.range.start))
    .map(ruleOf);
}

/** Waits until a file's findings have this rule, or no longer have it. */
export async function rule(tools: Tools, uri: vscode.Uri, name: string, present = true): Promise<void> {
  await until(
    `${name} ${present ? 'in' : 'to leave'} ${uri.path}`,
    () => rulesIn(tools, uri).includes(name) === present,
  );
}

export function ruleOf({ code }: vscode.Diagnostic): string {
  return typeof code === 'object' ? String(code.value) : String(code);
}
