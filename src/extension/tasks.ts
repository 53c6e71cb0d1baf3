import * as vscode from 'vscode';
import { reportOn } from './report.ts';
import { pathOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

const TYPE = 'cardcage';

/** What a task of this type says in tasks.json. */
interface Definition extends vscode.TaskDefinition {
  /** A file or folder, relative to its workspace folder. */
  readonly path: string;
  /** The level at which the task fails; errors where it is not said. */
  readonly failOn?: 'error' | 'warning' | 'never';
}

/**
 * Tasks that check a file or folder and print what the command line prints, and the command that runs one for what the
 * explorer's menu was opened on. They run here, so also in a browser.
 */
export function registerTasks(workspace: Workspace): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.tasks.registerTaskProvider(TYPE, {
      provideTasks: () =>
        (vscode.workspace.workspaceFolders ?? []).map((folder) =>
          task(workspace, folder, { type: TYPE, path: '.' }),
        ),
      resolveTask: ({ scope, definition }) =>
        task(
          workspace,
          typeof scope === 'object' ? scope : vscode.workspace.workspaceFolders?.[0],
          definition as Definition,
        ),
    }),
    vscode.commands.registerCommand('cardcage.checkHere', (clicked: vscode.Uri) => {
      const folder = vscode.workspace.getWorkspaceFolder(clicked);
      if (folder === undefined) return undefined;
      const path = pathOf(clicked).slice(folderPath(folder.uri).length + 1) || '.';
      return vscode.tasks.executeTask(task(workspace, folder, { type: TYPE, path }));
    }),
  );
}

const folderPath = (uri: vscode.Uri): string => pathOf(uri).replace(/\/$/, '');

function task(
  workspace: Workspace,
  folder: vscode.WorkspaceFolder | undefined,
  definition: Definition,
): vscode.Task {
  const run = new vscode.CustomExecution(async () =>
    terminal(async (print) => {
      // A task may be what wakes the extension.
      await workspace.loaded;
      return checked(workspace, folder, definition, print);
    }),
  );
  const name = `check ${definition.path === '.' ? 'all machines' : definition.path}`;
  // No problem matcher: what it would match is among the problems already, from the texts themselves.
  const made = new vscode.Task(definition, folder ?? vscode.TaskScope.Workspace, name, 'Cardcage', run, []);
  made.group = vscode.TaskGroup.Build;
  made.presentationOptions = { clear: true };
  return made;
}

/** Checks what the task names and prints the report. Returns the exit code. */
function checked(
  workspace: Workspace,
  folder: vscode.WorkspaceFolder | undefined,
  { path, failOn = 'error' }: Definition,
  print: (text: string) => void,
): number {
  const wanted = folder && folderPath(vscode.Uri.joinPath(folder.uri, path));
  const files = workspace.project
    .names()
    .filter((file) => wanted === undefined || file === wanted || file.startsWith(`${wanted}/`));
  if (files.length === 0) {
    print(`${path}: holds no .pinout file; name the file or folder that does\n`);
    return 2;
  }
  const { text, summary } = reportOn(workspace, files);
  print(text);
  const { errors, warnings } = summary;
  if (failOn === 'never') return 0;
  return errors > 0 || (failOn === 'warning' && warnings > 0) ? 1 : 0;
}

/** ms within which VS Code takes an exit code above 0 for a terminal that could not be started. */
const STARTING = 500;

/** A terminal that shows what a piece of work prints, and ends with its exit code; with 2 where the work fails. */
function terminal(work: (print: (text: string) => void) => Promise<number>): vscode.Pseudoterminal {
  const written = new vscode.EventEmitter<string>();
  const closed = new vscode.EventEmitter<number>();
  const print = (text: string): void => written.fire(text.replaceAll('\n', '\r\n'));
  return {
    onDidWrite: written.event,
    onDidClose: closed.event,
    open: async () => {
      const code = await work(print).catch((error) => {
        print(`${error}\n`);
        return 2;
      });
      setTimeout(() => closed.fire(code), code === 0 ? 0 : STARTING + 100);
    },
    close: () => {
      written.dispose();
      closed.dispose();
    },
  };
}
