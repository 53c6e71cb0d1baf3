import * as vscode from 'vscode';
import { reportOn } from './report.ts';
import type { Workspace } from './workspace.ts';

/** The commands that need nothing but the editor's own. */
export function registerCommands(
  workspace: Workspace,
  log: vscode.LogOutputChannel,
  id: string,
): vscode.Disposable {
  const { registerCommand, executeCommand } = vscode.commands;
  return vscode.Disposable.from(
    registerCommand('cardcage.newMachine', async () => {
      const document = await vscode.workspace.openTextDocument({ language: 'pinout' });
      await vscode.window.showTextDocument(document);
      await executeCommand('editor.action.insertSnippet', { langId: 'pinout', name: 'A first machine' });
    }),
    registerCommand('cardcage.checkWorkspace', async () => {
      await workspace.loaded;
      const { summary } = reportOn(workspace, workspace.project.names());
      const { errors, warnings, questions, notes, files } = summary;
      log.info(
        `checked ${files} files: ${errors} errors, ${warnings} warnings, ${questions} questions, ${notes} notes`,
      );
      await executeCommand('workbench.actions.view.problems');
    }),
    registerCommand('cardcage.showOutput', () => log.show()),
    registerCommand('cardcage.openWalkthrough', () =>
      executeCommand('workbench.action.openWalkthrough', `${id}#firstMachine`, false),
    ),
  );
}
