import * as vscode from 'vscode';
import { type Lens, lensesIn } from '../editing/code-lens.ts';
import { locationIn, rangeIn } from './positions.ts';
import { affectsUs, isOn, shownFindings } from './settings.ts';
import type { Workspace } from './workspace.ts';

/** How far buses, backplanes, cards and ribbons have come, over their first lines. */
export function registerCodeLens(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  return vscode.Disposable.from(
    changed,
    workspace.onDidChange(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (affectsUs(event)) changed.fire();
    }),
    vscode.languages.registerCodeLensProvider(selector, {
      onDidChangeCodeLenses: changed.event,
      provideCodeLenses(document) {
        const found = isOn('codeLens', document.uri) ? workspace.analysis(document) : undefined;
        if (found === undefined) return undefined;
        const { machine, documents, findings } = found.analysis;
        const parsed = documents.get(found.file)!;
        return lensesIn({ machine, documents, findings: shownFindings(findings) }, found.file).map((lens) => {
          const range = rangeIn(parsed, lens);
          return new vscode.CodeLens(range, command(workspace, document.uri, range.start, lens));
        });
      },
    }),
  );
}

/** A click lists the places that the lens counts; one that counts nothing only tells. */
function command(
  workspace: Workspace,
  uri: vscode.Uri,
  at: vscode.Position,
  { title: said, places }: Lens,
): vscode.Command {
  // A name that looks like an icon is none.
  const title = said.replaceAll('$(', '\\$(');
  if (places.length === 0) return { title, command: '' };
  const locations = places.map((source) => locationIn(workspace.documentOf, source.file, source));
  return {
    title,
    command: 'editor.action.goToLocations',
    arguments: [uri, at, locations, 'peek', 'nothing there any more'],
  };
}
