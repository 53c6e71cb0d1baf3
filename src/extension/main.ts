import * as vscode from 'vscode';

/** Called by VS Code when the first pinout file opens. */
export function activate(context: vscode.ExtensionContext): void {
  context.subscriptions.push(vscode.window.createOutputChannel('Cardcage', { log: true }));
}
