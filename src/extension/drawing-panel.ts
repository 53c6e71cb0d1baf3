import * as vscode from 'vscode';
import type { Cell, Spot } from '../drawing/picture.ts';
import { type SentLines, sending } from '../drawing/send.ts';
import { readToHost, type ToHost, type Wanted } from '../drawing/to-host.ts';
import type { Menu, ToPage } from '../drawing/to-page.ts';
import { firstOf, spansAt } from '../editing/drawings/at.ts';
import { cellsIn, type Drawing, drawingOf, menuOf, spotAt } from '../editing/drawings/drawing.ts';
import type { Analysis } from '../editing/project.ts';
import { drawingPage, pageOptions } from './drawing-page.ts';
import { saveDrawing } from './drawing-save.ts';
import { rangeIn } from './positions.ts';
import { nameOf } from './report.ts';
import { shownFindings } from './settings.ts';
import { pathOf, uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

export const VIEW_TYPE = 'cardcage.drawing';

/** One tab with drawings of one machine. It follows the text, and the cursor in it. */
export class DrawingPanel {
  readonly root: string;
  private readonly panel: vscode.WebviewPanel;
  private readonly workspace: Workspace;
  private wanted: Wanted | undefined;
  private menu: Menu = { bus: [], connector: [], ribbon: [] };
  /** Where in the menu what is shown stands. */
  private index = 0;
  /** What the page shows, and by which number it knows it. */
  private drawing: Drawing | undefined;
  private version = 0;
  private sentLines: SentLines | undefined;
  /** The page is loaded and listens. */
  private listening = false;
  /** A cell to show as soon as the page has the picture. */
  private selecting: Cell | undefined;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    panel: vscode.WebviewPanel,
    workspace: Workspace,
    extensionUri: vscode.Uri,
    root: string,
    wanted: Wanted | undefined,
  ) {
    this.panel = panel;
    this.workspace = workspace;
    this.root = root;
    this.wanted = wanted;
    panel.iconPath = {
      light: vscode.Uri.joinPath(extensionUri, 'media/file-light.svg'),
      dark: vscode.Uri.joinPath(extensionUri, 'media/file-dark.svg'),
    };
    panel.webview.options = pageOptions(extensionUri);
    panel.webview.onDidReceiveMessage((message: unknown) => {
      const read = readToHost(message);
      if (read !== undefined) void this.hear(read);
    });
    panel.onDidChangeViewState(() => {
      // A page that is hidden is gone; it says when it is back.
      if (!panel.visible) this.listening = false;
    });
    panel.onDidDispose(() => clearTimeout(this.timer));
    panel.webview.html = drawingPage(panel.webview, extensionUri);
  }

  /** Brings the tab to the front with another drawing, or with a cell of it. */
  show(wanted: Wanted, cell?: Cell): void {
    this.wanted = wanted;
    this.selecting = cell;
    this.panel.reveal(undefined, true);
    this.draw();
  }

  /** Something is different in the workspace: draws as soon as nothing has been different for a moment. */
  changed(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.draw(), MOMENT);
  }

  /** Tells the page where the cursor is, if it is in a file of this machine. */
  cursorMoved(): void {
    const { drawing, version } = this;
    if (drawing === undefined || !this.listening) return;
    const document = this.followed();
    const editor = vscode.window.visibleTextEditors.find((one) => one.document === document);
    const parsed = document && this.workspace.parsed(document);
    if (editor === undefined || parsed === undefined) return;
    const offset = editor.document.offsetAt(editor.selection.active);
    const file = pathOf(editor.document.uri);
    const found = spansAt(parsed, offset).map((span) => cellsIn(drawing, file, span));
    this.tell({ kind: 'cursor', version, cells: found.find((cells) => cells.length > 0) ?? [] });
  }

  /** The text that the drawing follows: the active one, or one that is in sight, of this machine. */
  private followed(): vscode.TextDocument | undefined {
    const files = this.workspace.project.analysis(this.root)?.documents;
    const { activeTextEditor, visibleTextEditors } = vscode.window;
    return [activeTextEditor, ...visibleTextEditors]
      .flatMap((editor) => editor?.document ?? [])
      .find((document) => files?.has(pathOf(document.uri)));
  }

  private tell(message: ToPage): void {
    void this.panel.webview.postMessage(message);
  }

  private draw(): void {
    if (!this.listening) return;
    const analysis = this.workspace.project.analysis(this.root);
    this.menu = analysis ? menuOf(analysis.view) : { bus: [], connector: [], ribbon: [] };
    const { menu, root } = this;
    const wanted = this.wantedNow();
    this.wanted = wanted;
    this.drawing = analysis && wanted && drawingOf(analysis.view, shownFindings(analysis.findings), wanted);
    this.panel.title = wanted?.of ?? 'Drawing';
    if (this.drawing === undefined || wanted === undefined) {
      this.tell({ kind: 'nothing', root, menu, why: whyNothing(root, analysis) });
      return;
    }
    this.version++;
    const { sent, lines } = sending(this.drawing.shown, this.version, this.sentLines);
    this.sentLines = lines;
    const { version } = this;
    this.tell({ kind: 'drawing', version, root, of: wanted.of, menu, at: Date.now(), sent });
    if (this.selecting !== undefined) this.tell({ kind: 'select', version, cell: this.selecting });
    this.selecting = undefined;
    this.cursorMoved();
  }

  /** The drawing that is wanted, or what has taken its place: while a name is typed anew, it is another every moment. */
  private wantedNow(): Wanted | undefined {
    const { wanted, menu } = this;
    if (wanted === undefined) return firstOf(menu);
    const names = menu[wanted.view];
    const index = names.indexOf(wanted.of);
    if (index >= 0) {
      this.index = index;
      return wanted;
    }
    const of = names[this.index] ?? names[0];
    return of === undefined ? firstOf(menu) : { view: wanted.view, of };
  }

  private async hear(message: ToHost): Promise<void> {
    switch (message.kind) {
      case 'ready':
        await this.workspace.ready;
        this.listening = true;
        this.sentLines = undefined;
        this.draw();
        return;
      case 'choose':
        this.wanted = message.wanted;
        this.draw();
        return;
      case 'save':
        await saveDrawing(this.root, message);
        return;
      case 'tell':
        if (message.version === this.version && this.drawing !== undefined)
          this.tell({ ...message, kind: 'told', markdown: this.drawing.tell(message.cell) });
        return;
      case 'go': {
        const spot =
          message.version === this.version && this.drawing ? spotAt(this.drawing, message.cell) : undefined;
        if (spot !== undefined) await this.goTo(spot);
        return;
      }
    }
  }

  /** Opens the statement where its file is in sight already, else beside the drawing. */
  private async goTo({ file, from, to }: Spot): Promise<void> {
    const parsed = this.workspace.documentOf(file);
    if (parsed === undefined) return;
    const uri = uriOf(file);
    const { visibleTextEditors, tabGroups } = vscode.window;
    const same = visibleTextEditors.find(({ document }) => pathOf(document.uri) === pathOf(uri));
    const other = tabGroups.all.find(({ viewColumn }) => viewColumn !== this.panel.viewColumn);
    await vscode.window.showTextDocument(uri, {
      viewColumn: same?.viewColumn ?? other?.viewColumn ?? vscode.ViewColumn.Beside,
      selection: rangeIn(parsed, { from, to }),
    });
  }
}

/** ms without a change after which a drawing follows. */
const MOMENT = 40;

function whyNothing(root: string, analysis: Analysis | undefined): string {
  const name = nameOf(root);
  return analysis === undefined
    ? `${name} cannot be read any more. Open it, or close this drawing.`
    : `${name} describes no backplane with a bus, no connector and no ribbon yet. Write one, and it is drawn here.`;
}

/** The first of some drawings with a cell of which something is said at an offset; a crossing rather than a name. */
export function findCell(
  analysis: Analysis,
  wanted: readonly Wanted[],
  file: string,
  offset: number,
): { wanted: Wanted; cell: Cell } | undefined {
  const document = analysis.documents.get(file);
  for (const span of document === undefined ? [] : spansAt(document, offset)) {
    for (const one of wanted) {
      const drawing = drawingOf(analysis.view, [], one);
      const cells = drawing === undefined ? [] : cellsIn(drawing, file, span);
      const cell = cells.find(({ row, column }) => row >= 0 && column >= 0) ?? cells[0];
      if (cell !== undefined) return { wanted: one, cell };
    }
  }
  return undefined;
}
