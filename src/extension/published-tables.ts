import * as vscode from 'vscode';
import { PUBLISHED_SCHEME, publishedNameOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** The pin tables that ship with the product: one file beside the bundle holds the text of each by its name. */
export async function readPublishedTables(extension: vscode.Uri): Promise<ReadonlyMap<string, string>> {
  const bytes = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(extension, 'dist/tables.json'));
  return new Map(Object.entries<string>(JSON.parse(new TextDecoder().decode(bytes))));
}

/** Shows them, to read and not to change. */
export function registerPublishedTables(workspace: Workspace): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(PUBLISHED_SCHEME, {
    async provideTextDocumentContent(uri) {
      await workspace.ready;
      return workspace.documentOf(`published:${publishedNameOf(uri)}`)?.text ?? '';
    },
  });
}
