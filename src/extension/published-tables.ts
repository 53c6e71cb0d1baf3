import * as vscode from 'vscode';
import { PUBLISHED_SCHEME, publishedNameOf } from './uris.ts';

/** The pin tables that ship with the product: one file beside the bundle holds the text of each by its name. */
export async function readPublishedTables(extension: vscode.Uri): Promise<ReadonlyMap<string, string>> {
  const bytes = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(extension, 'dist/tables.json'));
  return new Map(Object.entries<string>(JSON.parse(new TextDecoder().decode(bytes))));
}

/** Shows them, to read and not to change. */
export function registerPublishedTables(published: ReadonlyMap<string, string>): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(PUBLISHED_SCHEME, {
    provideTextDocumentContent: (uri) => published.get(publishedNameOf(uri)) ?? '',
  });
}
