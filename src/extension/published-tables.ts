import * as vscode from 'vscode';
import { published } from '../knowledge/published.ts';
import { PUBLISHED_SCHEME, publishedNameOf } from './uris.ts';

/** The pin tables that ship with the product, to read and not to change. */
export function registerPublishedTables(): vscode.Disposable {
  return vscode.workspace.registerTextDocumentContentProvider(PUBLISHED_SCHEME, {
    provideTextDocumentContent: (uri) => published.get(publishedNameOf(uri)) ?? '',
  });
}
