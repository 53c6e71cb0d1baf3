import * as vscode from 'vscode';
import { linksIn } from '../editing/links.ts';
import { rangeIn } from './positions.ts';
import { uriOf } from './uris.ts';
import { type Workspace, workspaceOf } from './workspace.ts';

/** Links to used files, published tables and photos. */
export function registerLinks(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  return vscode.languages.registerDocumentLinkProvider(selector, {
    provideDocumentLinks(document) {
      const found = workspace.analysis(document);
      const parsed = found?.analysis.documents.get(found.file);
      if (found === undefined || parsed === undefined) return undefined;
      return linksIn(parsed, found.file, workspaceOf(found.file)).map(({ from, to, target, title }) => {
        const path = target.kind === 'file' ? target.path : `published:${target.name}`;
        const link = new vscode.DocumentLink(rangeIn(parsed, { from, to }), uriOf(path));
        link.tooltip = title;
        return link;
      });
    },
  });
}
