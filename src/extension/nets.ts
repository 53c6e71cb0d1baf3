import * as vscode from 'vscode';
import type { Analysis } from '../editing/project.ts';
import { netReports, netsText } from '../reports/nets.ts';
import { nameOf, textsOf } from './report.ts';
import { pathOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

const SCHEME = 'cardcage-net';

/** "Show the net": every contact that is joined with the name or contact at the cursor, in a tab beside the text. */
export function registerNets(workspace: Workspace): vscode.Disposable {
  const texts = new Map<string, string>();
  const changed = new vscode.EventEmitter<vscode.Uri>();
  return vscode.Disposable.from(
    changed,
    vscode.workspace.registerTextDocumentContentProvider(SCHEME, {
      onDidChange: changed.event,
      provideTextDocumentContent: ({ path }) => texts.get(path) ?? '',
    }),
    vscode.workspace.onDidCloseTextDocument(({ uri: { scheme, path } }) => {
      if (scheme === SCHEME) texts.delete(path);
    }),
    vscode.commands.registerCommand('cardcage.showNet', async (named?: unknown) => {
      const editor = vscode.window.activeTextEditor;
      const found = editor && workspace.analysis(editor.document);
      if (editor === undefined || found === undefined) return;
      const { analysis, file } = found;
      const offset = editor.document.offsetAt(editor.selection.active);
      const of = typeof named === 'string' ? named : nameAt(analysis, file, offset);
      const reports =
        of === undefined
          ? []
          : netReports(analysis.view, textsOf(workspace, analysis.documents.keys()), nameOf, of);
      if (of === undefined || reports.length === 0) {
        void vscode.window.showInformationMessage(
          'No line, rail or contact at the cursor. Put the cursor on a name such as D0 or on a contact such as CAGE.3.14.',
        );
        return;
      }
      const path = `/${of.replaceAll('/', '∕')} in ${fileName(pathOf(editor.document.uri))}.txt`;
      texts.set(path, netsText(reports, true));
      const uri = vscode.Uri.from({ scheme: SCHEME, path });
      changed.fire(uri);
      await vscode.window.showTextDocument(uri, {
        viewColumn: vscode.ViewColumn.Beside,
        preserveFocus: true,
        preview: true,
      });
    }),
  );
}

const fileName = (path: string): string => path.slice(path.lastIndexOf('/') + 1);

/** The line or contact that an offset means, as the report of nets calls it. */
function nameAt({ symbols }: Analysis, file: string, offset: number): string | undefined {
  const occurrence = symbols.at(file, offset);
  if (occurrence === undefined) return undefined;
  if (occurrence.kind === 'contact') return occurrence.path;
  return occurrence.kind === 'name' ? occurrence.names[0] : undefined;
}
