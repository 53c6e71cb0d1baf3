import * as vscode from 'vscode';
import { registerCommands } from './commands.ts';
import { registerDiagnostics } from './diagnostics.ts';
import { registerFormatting } from './formatting.ts';
import { registerNavigation } from './navigation.ts';
import { registerNets } from './nets.ts';
import { registerPages } from './pages.ts';
import { registerPaste } from './paste.ts';
import { registerPublishedTables } from './published-tables.ts';
import { registerRename } from './rename.ts';
import { registerTasks } from './tasks.ts';
import { Workspace } from './workspace.ts';

const SELECTOR: vscode.DocumentSelector = { language: 'pinout' };

/** Called by VS Code when the first pinout file opens, or one of our commands runs. */
export function activate(context: vscode.ExtensionContext): void {
  const log = vscode.window.createOutputChannel('Cardcage', { log: true });
  const workspace = new Workspace(log);
  context.subscriptions.push(
    log,
    workspace,
    registerDiagnostics(workspace, log),
    registerNavigation(workspace, SELECTOR),
    registerRename(workspace, SELECTOR),
    registerFormatting(workspace, SELECTOR),
    registerPaste(workspace, SELECTOR),
    registerPublishedTables(),
    registerPages(context.extensionUri),
    registerNets(workspace),
    registerTasks(workspace),
    registerCommands(workspace, log, context.extension.id),
  );
  workspace.start();
}
