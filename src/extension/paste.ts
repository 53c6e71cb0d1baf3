import * as vscode from 'vscode';
import { pastedTable } from '../editing/paste.ts';
import type { Workspace } from './workspace.ts';

const KIND = vscode.DocumentDropOrPasteEditKind.Text.append('cardcage', 'contacts');

/** A table from a spreadsheet or wiki becomes contact lines: when it is pasted, and by a command. */
export function registerPaste(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  const lines = (
    document: vscode.TextDocument,
    position: vscode.Position,
    text: string,
  ): string | undefined => {
    const found = workspace.analysis(document);
    return found && pastedTable(found.analysis, found.file, document.offsetAt(position), text);
  };
  return vscode.Disposable.from(
    vscode.languages.registerDocumentPasteEditProvider(
      selector,
      {
        async provideDocumentPasteEdits(document, [range, another], data, _context, token) {
          // One text is inserted at all cursors, and the lines depend on where they stand.
          if (range === undefined || another !== undefined) return undefined;
          const text = await data.get('text/plain')?.asString();
          if (text === undefined || token.isCancellationRequested) return undefined;
          const inserted = lines(document, range.start, text);
          return inserted === undefined
            ? undefined
            : [new vscode.DocumentPasteEdit(inserted, 'Paste as contact lines', KIND)];
        },
      },
      { providedPasteEditKinds: [KIND], pasteMimeTypes: ['text/plain'] },
    ),
    vscode.commands.registerTextEditorCommand('cardcage.pasteTable', async (editor) => {
      const text = await vscode.env.clipboard.readText();
      const inserted = lines(editor.document, editor.selection.start, text);
      if (inserted === undefined) {
        void vscode.window.showInformationMessage(
          'The clipboard holds no table of contacts, or the cursor is in no bus, edge or port block. Copy rows with a contact and its name, and put the cursor into the block.',
        );
      } else await editor.edit((edit) => edit.replace(editor.selection, inserted));
    }),
  );
}
