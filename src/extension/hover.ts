import * as vscode from 'vscode';
import { hoverAt } from '../editing/hover.ts';
import { rangeIn } from './positions.ts';
import type { Workspace } from './workspace.ts';

/** What stands under the pointer: a line with its net, a contact, a card, a part, a word. */
export function registerHover(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  return vscode.languages.registerHoverProvider(selector, {
    provideHover(document, position) {
      const found = workspace.analysis(document);
      const hover = found && hoverAt(found.analysis, found.file, document.offsetAt(position));
      if (found === undefined || hover === undefined) return undefined;
      const range = rangeIn(found.analysis.documents.get(found.file)!, hover);
      return new vscode.Hover(new vscode.MarkdownString(hover.markdown), range);
    },
  });
}
