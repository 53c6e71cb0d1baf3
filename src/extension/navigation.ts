import * as vscode from 'vscode';
import { definitionAt, highlightsAt, type Location, referencesAt } from '../editing/navigation.ts';
import { locationIn, rangeIn } from './positions.ts';
import { pathOf, uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** Go to definition, find references, and the same name lit up in its file. */
export function registerNavigation(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const { project, documentOf } = workspace;
  const at = (document: vscode.TextDocument, position: vscode.Position): [string, number] | undefined =>
    workspace.parsed(document) && [pathOf(document.uri), document.offsetAt(position)];
  const range = (location: Location): vscode.Range => rangeIn(documentOf(location.file)!, location);
  return vscode.Disposable.from(
    vscode.languages.registerDefinitionProvider(selector, {
      provideDefinition(document, position) {
        const place = at(document, position);
        const found = place && definitionAt(project, ...place);
        return found?.targets.map((target) => ({
          originSelectionRange: range(found.origin),
          targetUri: uriOf(target.file),
          targetRange: range(target.statement),
          targetSelectionRange: range(target),
        }));
      },
    }),
    vscode.languages.registerReferenceProvider(selector, {
      provideReferences(document, position, { includeDeclaration }) {
        const place = at(document, position);
        const found = place && referencesAt(project, ...place, includeDeclaration);
        return found?.map((one) => locationIn(documentOf, one.file, one));
      },
    }),
    vscode.languages.registerDocumentHighlightProvider(selector, {
      provideDocumentHighlights(document, position) {
        const place = at(document, position);
        const found = place && highlightsAt(project, ...place);
        const { Read, Write } = vscode.DocumentHighlightKind;
        return found?.map((one) => new vscode.DocumentHighlight(range(one), one.declares ? Write : Read));
      },
    }),
  );
}
