import type * as vscode from 'vscode';
import { at, type HostTest, holds, same, type Tools } from './tools.ts';

/** Asks for the change of a name in a document, and does it. */
async function renamed(
  { vscode }: Tools,
  document: vscode.TextDocument,
  from: string,
  to: string,
): Promise<vscode.Uri[]> {
  const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
    'vscode.executeDocumentRenameProvider',
    document.uri,
    at(document, from, 1),
    to,
  );
  same(await vscode.workspace.applyEdit(edit), true);
  return edit.entries().map(([uri]) => uri);
}

export const rename: HostTest[] = [
  {
    name: 'rename changes every file that means the name, and back',
    async run(tools) {
      const { vscode } = tools;
      // Opened, since a host without VS Code's search program finds no files by itself.
      await tools.open('tide-gauge/as-found.pinout');
      await tools.open('tide-gauge/tide-gauge.pinout');
      const bus = await tools.open('tide-gauge/bus.pinout');
      const before = bus.getText();
      const uris = await renamed(tools, bus, '/WAIT', '/HOLD');
      same(uris.map(({ path }) => path.split('/').at(-1)).sort(), [
        'as-found.pinout',
        'bus.pinout',
        'tide-gauge.pinout',
      ]);
      for (const uri of uris) {
        const text = (await vscode.workspace.openTextDocument(uri)).getText();
        holds(text, '/HOLD');
        same(/\/WAIT\b/.test(text), false);
      }
      same((await renamed(tools, bus, '/HOLD', '/WAIT')).length, 3);
      same(bus.getText(), before);
    },
  },
  {
    name: 'rename is refused with the reason',
    async run(tools) {
      const { vscode } = tools;
      const bus = await tools.open('tide-gauge/bus.pinout');
      const refused = async (name: string): Promise<string> => {
        try {
          await vscode.commands.executeCommand(
            'vscode.executeDocumentRenameProvider',
            bus.uri,
            at(bus, '/WAIT', 1),
            name,
          );
        } catch (error) {
          return String((error as Error).message);
        }
        throw new Error(`${name} was not refused`);
      };
      holds(await refused('/RESET'), 'There is a line or rail `/RESET` already');
      holds(await refused('A B'), 'A B');
    },
  },
];
