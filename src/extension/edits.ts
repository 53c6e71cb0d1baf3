import * as vscode from 'vscode';
import { rangeIn } from './positions.ts';
import { uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** One change of a file's text, by its offsets. */
interface Change {
  readonly file: string;
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** Changes of files as one step that can be undone. */
export function workspaceEdit(workspace: Workspace, changes: readonly Change[]): vscode.WorkspaceEdit {
  const edit = new vscode.WorkspaceEdit();
  for (const { file, from, to, text } of changes) {
    const document = workspace.documentOf(file);
    if (document !== undefined) edit.replace(uriOf(file), rangeIn(document, { from, to }), text);
  }
  return edit;
}
