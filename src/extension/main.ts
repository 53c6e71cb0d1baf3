import * as vscode from 'vscode';
import { registerCodeActions } from './code-actions.ts';
import { registerCodeLens } from './code-lens.ts';
import { registerCommands } from './commands.ts';
import { registerCompletion } from './completion.ts';
import { registerDiagnostics } from './diagnostics.ts';
import { registerDrawings } from './drawings.ts';
import { registerFolding } from './folding.ts';
import { registerFormatting } from './formatting.ts';
import { registerHover } from './hover.ts';
import { registerInlayHints } from './inlay-hints.ts';
import { registerLinks } from './links.ts';
import { registerMachineTree } from './machine-tree.ts';
import { registerNavigation } from './navigation.ts';
import { registerNets } from './nets.ts';
import { registerPages } from './pages.ts';
import { registerPaste } from './paste.ts';
import { readPublishedTables, registerPublishedTables } from './published-tables.ts';
import { registerRename } from './rename.ts';
import { registerSemanticTokens } from './semantic-tokens.ts';
import { registerStatus } from './status.ts';
import { registerSymbols } from './symbols.ts';
import { registerTasks } from './tasks.ts';
import { Workspace } from './workspace.ts';

const SELECTOR: vscode.DocumentSelector = { language: 'pinout' };

/** What the editor offers on a pinout text; one contribution a file. */
const FEATURES = [
  registerCodeActions,
  registerCodeLens,
  registerCompletion,
  registerFolding,
  registerFormatting,
  registerHover,
  registerInlayHints,
  registerLinks,
  registerNavigation,
  registerPaste,
  registerRename,
  registerSemanticTokens,
  registerSymbols,
];

/** Called by VS Code when the first pinout file opens, or one of our commands runs. */
export function activate(context: vscode.ExtensionContext): void {
  const { subscriptions, extension, extensionUri } = context;
  const log = vscode.window.createOutputChannel('Cardcage', { log: true });
  const workspace = new Workspace(log, readPublishedTables(extensionUri));
  subscriptions.push(
    log,
    workspace,
    ...FEATURES.map((register) => register(workspace, SELECTOR)),
    registerDiagnostics(workspace, log),
    registerPublishedTables(workspace),
    registerPages(extensionUri),
    registerDrawings(workspace, extensionUri),
    registerNets(workspace),
    registerMachineTree(workspace),
    registerTasks(workspace),
    registerStatus(workspace),
    registerCommands(workspace, log, extension.id),
  );
  workspace.start();
}
