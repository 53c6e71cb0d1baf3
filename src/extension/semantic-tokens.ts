import * as vscode from 'vscode';
import { semanticTokens, tokenModifiers, tokenTypes } from '../editing/semantic-tokens.ts';
import { rangeIn, type Span, spanOf } from './positions.ts';
import type { Workspace } from './workspace.ts';

const LEGEND = new vscode.SemanticTokensLegend([...tokenTypes], [...tokenModifiers]);

/** Colours by what a name means: a rail, a signal, a contact that nobody knows. */
export function registerSemanticTokens(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const tokens = (document: vscode.TextDocument, span?: Span): vscode.SemanticTokens | undefined => {
    const found = workspace.analysis(document);
    if (found === undefined) return undefined;
    const parsed = found.analysis.documents.get(found.file)!;
    const builder = new vscode.SemanticTokensBuilder(LEGEND);
    for (const { from, to, type, modifiers } of semanticTokens(found.analysis, found.file, span))
      builder.push(rangeIn(parsed, { from, to }), type, [...modifiers]);
    return builder.build();
  };
  return vscode.Disposable.from(
    vscode.languages.registerDocumentSemanticTokensProvider(
      selector,
      {
        onDidChangeSemanticTokens: workspace.onDidChange,
        provideDocumentSemanticTokens: (document) => tokens(document),
      },
      LEGEND,
    ),
    vscode.languages.registerDocumentRangeSemanticTokensProvider(
      selector,
      { provideDocumentRangeSemanticTokens: (document, range) => tokens(document, spanOf(document, range)) },
      LEGEND,
    ),
  );
}
