import * as vscode from 'vscode';
import { statusOf } from '../editing/status.ts';
import { affectsUs, shownFindings } from './settings.ts';
import type { Workspace } from './workspace.ts';

/** The state of the machine in the active editor; a click shows the problems. */
export function registerStatus(workspace: Workspace): vscode.Disposable {
  const item = vscode.window.createStatusBarItem('cardcage.machine', vscode.StatusBarAlignment.Left, 50);
  item.name = 'Cardcage';
  item.command = 'workbench.actions.view.problems';
  const icons = { error: '$(error)', warning: '$(warning)', question: '$(question)', note: '$(info)' };
  let timer: ReturnType<typeof setTimeout> | undefined;

  function show(): void {
    const document = vscode.window.activeTextEditor?.document;
    const found = document && workspace.analysis(document);
    if (found === undefined) {
      item.hide();
      return;
    }
    const { machine, root, findings } = found.analysis;
    const { text, tooltip, worst } = statusOf({ machine, root, findings: shownFindings(findings) });
    item.text = `${worst === undefined ? '$(pass)' : icons[worst]} ${text}`;
    item.tooltip = new vscode.MarkdownString(tooltip);
    item.accessibilityInformation = { label: `Cardcage: ${text}` };
    item.show();
  }

  return vscode.Disposable.from(
    item,
    vscode.window.onDidChangeActiveTextEditor(show),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (affectsUs(event)) show();
    }),
    workspace.onDidChange(() => {
      clearTimeout(timer);
      timer = setTimeout(show, 150);
    }),
    { dispose: () => clearTimeout(timer) },
  );
}
