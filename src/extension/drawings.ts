import * as vscode from 'vscode';
import { readKept, type Wanted } from '../drawing/to-host.ts';
import { wantedAt } from '../editing/drawings/at.ts';
import { menuOf } from '../editing/drawings/drawing.ts';
import { findCell } from '../editing/drawings/find.ts';
import { whatIfOf } from '../editing/drawings/what-if-of.ts';
import type { MachineNode } from '../editing/tree-nodes.ts';
import { pageOptions } from './drawing-page.ts';
import { type DrawingPanel, drawInto } from './drawing-panel.ts';
import { affectsUs } from './settings.ts';
import { pathOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

const VIEW_TYPE = 'cardcage.drawing';

/** Draws the case that a finding tells of. Not in the palette: it needs its arguments. */
export const SHOW_IN_WHAT_IF = 'cardcage.showInWhatIf';

/** The drawings of machines beside their texts, one tab a machine. */
export function registerDrawings(workspace: Workspace, extensionUri: vscode.Uri): vscode.Disposable {
  const panels = new Set<DrawingPanel>();

  function keep(panel: vscode.WebviewPanel, root: string, wanted: Wanted | undefined): void {
    const drawing = drawInto(panel, workspace, extensionUri, { root, wanted });
    panels.add(drawing);
    panel.onDidDispose(() => panels.delete(drawing));
  }

  const panelOf = (root: string): DrawingPanel | undefined =>
    [...panels].find((panel) => panel.root() === root);

  function show(root: string, wanted: Wanted, cell?: { row: number; column: number }): void {
    let panel = panelOf(root);
    if (panel === undefined) {
      const column = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
      keep(
        vscode.window.createWebviewPanel(VIEW_TYPE, wanted.of, column, pageOptions(extensionUri)),
        root,
        wanted,
      );
      panel = panelOf(root)!;
    }
    panel.show(wanted, cell);
  }

  /** The active text, the machine that it is read in, and the place of the cursor: a machine that is drawn already first. */
  function atCursor() {
    const editor = vscode.window.activeTextEditor;
    const found = editor && workspace.analysis(editor.document);
    if (editor === undefined || found === undefined) return undefined;
    const { project } = workspace;
    const root = project.rootsOf(found.file).find((one) => panelOf(one)) ?? found.analysis.root;
    const analysis = project.analysis(root)!;
    const offset = editor.document.offsetAt(editor.selection.active);
    return { root, analysis, file: found.file, offset, document: analysis.documents.get(found.file)! };
  }

  function follow(): void {
    for (const panel of panels) panel.cursorMoved();
  }

  return vscode.Disposable.from(
    workspace.onDidChange(() => {
      for (const panel of panels) panel.changed();
    }),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (affectsUs(event)) for (const panel of panels) panel.ranked();
    }),
    vscode.workspace.onDidRenameFiles(({ files }) => {
      for (const { oldUri, newUri } of files)
        for (const panel of panels) if (panel.root() === pathOf(oldUri)) panel.renamed(pathOf(newUri));
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
      if (workspace.isOurs(textEditor.document)) follow();
    }),
    vscode.window.onDidChangeActiveTextEditor(follow),
    vscode.window.registerWebviewPanelSerializer(VIEW_TYPE, {
      async deserializeWebviewPanel(panel, state) {
        const kept = readKept(state);
        if (kept === undefined) panel.dispose();
        else keep(panel, kept.root, kept.wanted);
      },
    }),
    vscode.commands.registerCommand('cardcage.openDrawing', async (node?: Pick<MachineNode, 'drawing'>) => {
      // Before all files are read, a machine may lack its buses, and something else would be drawn.
      await workspace.loaded;
      if (node?.drawing !== undefined) {
        const { root, view, of } = node.drawing;
        show(root, { view, of });
        return;
      }
      const here = atCursor();
      const wanted =
        here && wantedAt(here.analysis.machine, menuOf(here.analysis.view), here.document, here.offset);
      if (here !== undefined && wanted !== undefined) show(here.root, wanted);
      else void vscode.window.showInformationMessage(NOTHING);
    }),
    vscode.commands.registerCommand(SHOW_IN_WHAT_IF, async (root: string, rule: string, message: string) => {
      await workspace.loaded;
      const analysis = workspace.project.analysis(root);
      const finding = analysis?.findings.find((one) => one.rule === rule && one.message === message);
      const wanted = analysis && finding && whatIfOf(analysis.machine, finding);
      if (wanted !== undefined) show(root, wanted);
      else void vscode.window.showInformationMessage(NO_CASE);
    }),
    vscode.commands.registerCommand('cardcage.revealInBus', async () => {
      await workspace.loaded;
      const here = atCursor();
      const buses = here ? menuOf(here.analysis.view).bus : [];
      const found =
        here &&
        findCell(
          here.analysis,
          buses.map((of) => ({ view: 'bus', of })),
          here.file,
          here.offset,
        );
      if (here !== undefined && found !== undefined) show(here.root, found.wanted, found.cell);
      else void vscode.window.showInformationMessage(NOT_ON_A_BUS);
    }),
  );
}

const NOTHING =
  'There is nothing to draw yet: describe a backplane with a bus, a connector or a ribbon in a pinout file.';
const NO_CASE = 'That finding is gone: the text has changed since it was told.';
const NOT_ON_A_BUS =
  'No bus shows what stands at the cursor. Put it on a contact of a bus, on what a card does on a line, or on a line of `fitted`.';
