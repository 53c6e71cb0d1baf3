import type * as vscode from 'vscode';
import { at, type HostTest, holds, revert, same } from './tools.ts';

export const rename: HostTest[] = [
  {
    name: 'rename changes every file that means the name',
    async run(tools) {
      const { vscode } = tools;
      const bus = await tools.open('tide-gauge/bus.pinout');
      const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
        'vscode.executeDocumentRenameProvider',
        bus.uri,
        at(bus, '/WAIT', 1),
        '/HOLD',
      );
      same(
        edit
          .entries()
          .map(([{ path }]) => path.split('/').at(-1))
          .sort(),
        ['as-found.pinout', 'bus.pinout', 'tide-gauge.pinout'],
      );
      same(await vscode.workspace.applyEdit(edit), true);
      for (const [uri] of edit.entries()) {
        const document = await vscode.workspace.openTextDocument(uri);
        const text = document.getText();
        holds(text, '/HOLD');
        same(/\/WAIT\b/.test(text), false);
        await revert(tools, document);
      }
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
      holds(await refused('/RESET'), '/RESET');
      holds(await refused('A B'), 'A B');
    },
  },
];
