import * as vscode from 'vscode';
import { rename, renameTargetAt } from '../editing/rename.ts';
import { workspaceEdit } from './edits.ts';
import { rangeIn } from './positions.ts';
import { pathOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** Rename of a line, rail, card, board, header or connector in all files that mean it; refusals say why. */
export function registerRename(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  const { project } = workspace;
  return vscode.languages.registerRenameProvider(selector, {
    prepareRename(document, position) {
      const parsed = workspace.parsed(document);
      const target = renameTargetAt(project, pathOf(document.uri), document.offsetAt(position));
      if (parsed === undefined || 'refused' in target) throw new Error(refusal(target));
      return { range: rangeIn(parsed, target), placeholder: target.text };
    },
    provideRenameEdits(document, position, name) {
      workspace.parsed(document);
      const result = rename(project, pathOf(document.uri), document.offsetAt(position), name);
      if ('refused' in result) throw new Error(refusal(result));
      return workspaceEdit(workspace, result);
    },
  });
}

/** As a message stands alone: with a capital. */
function refusal(result: object): string {
  const reason = 'refused' in result ? String(result.refused) : 'nothing to rename here';
  return reason.charAt(0).toUpperCase() + reason.slice(1);
}
