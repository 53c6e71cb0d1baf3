import * as vscode from 'vscode';
import { formatChanges } from '../editing/formatting.ts';
import { rangeIn } from './positions.ts';
import type { Workspace } from './workspace.ts';

/** Formatting of a file or of chosen lines; on save where the editor's setting says so. */
export function registerFormatting(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  return vscode.languages.registerDocumentRangeFormattingEditProvider(selector, {
    provideDocumentRangeFormattingEdits: (document, range) =>
      edits(
        workspace,
        document,
        range.start.line,
        range.end.character === 0 ? range.end.line - 1 : range.end.line,
      ),
  });
}

function edits(
  workspace: Workspace,
  document: vscode.TextDocument,
  first: number,
  last: number,
): vscode.TextEdit[] {
  const parsed = workspace.parsed(document);
  if (parsed === undefined) return [];
  return formatChanges(parsed, first, Math.max(first, last)).map((change) =>
    vscode.TextEdit.replace(rangeIn(parsed, change), change.text),
  );
}
