import * as vscode from 'vscode';
import type { Cell, Spot } from '../drawing/picture.ts';
import { type SentLines, sending } from '../drawing/send.ts';
import { isSameDrawing, readToHost, type ToHost, type Wanted } from '../drawing/to-host.ts';
import { type Menu, NOTHING_TO_DRAW, type ToPage } from '../drawing/to-page.ts';
import { textChanges } from '../editing/changes.ts';
import { firstOf, spansAt } from '../editing/drawings/at.ts';
import { cellsIn, type Drawing, drawingOf, menuOf, spotAt } from '../editing/drawings/drawing.ts';
import type { Analysis } from '../editing/project.ts';
import { drawingPage, pageOptions } from './drawing-page.ts';
import { saveDrawing } from './drawing-save.ts';
import { workspaceEdit } from './edits.ts';
import { rangeIn } from './positions.ts';
import { nameOf } from './report.ts';
import { shownFindings } from './settings.ts';
import { pathOf, uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** One tab with drawings of one machine. It follows the text, and the cursor in it. */
export interface DrawingPanel {
  /** The machine's root file. */
  root(): string;
  /** Brings the tab to the front with another drawing, or with a cell of it. */
  show(wanted: Wanted, cell?: Cell): void;
  /** Something is different in the workspace: draws as soon as nothing has been different for a moment. */
  changed(): void;
  /** The findings may be other ones, though the machine is the same. */
  ranked(): void;
  /** The root file is called otherwise now. */
  renamed(root: string): void;
  /** Tells the page where the cursor is, if it is in a file of this machine. */
  cursorMoved(): void;
}

/** ms without a change after which a drawing follows. */
const MOMENT = 40;

/** Fills a tab, new or come back, with drawings of the machine with this root. */
export function drawInto(
  panel: vscode.WebviewPanel,
  workspace: Workspace,
  extensionUri: vscode.Uri,
  of: { root: string; wanted: Wanted | undefined },
): DrawingPanel {
  let { root, wanted } = of;
  let menu: Menu = NOTHING_TO_DRAW;
  /** Where in the menu what is wanted stood last: what stands there is drawn while its name is typed anew. */
  let index = 0;
  /** What the page shows, of which analysis, and by which number it knows it. */
  let drawing: Drawing | undefined;
  let drawn: { readonly analysis: Analysis | undefined; readonly wanted: Wanted | undefined } | undefined;
  let version = 0;
  let sentLines: SentLines | undefined;
  /** The page is loaded and listens. */
  let listening = false;
  let disposed = false;
  /** A cell to show as soon as the page has the picture. */
  let selecting: Cell | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const tell = (message: ToPage): void => void panel.webview.postMessage(message);

  function draw(): void {
    if (!listening) return;
    const analysis = analysisNow();
    menu = analysis ? menuOf(analysis.view) : NOTHING_TO_DRAW;
    const shown = shownNow();
    if (drawn !== undefined && drawn.analysis === analysis && isSame(drawn.wanted, shown)) {
      select();
      return;
    }
    drawing = analysis && shown && drawingOf(analysis.view, shownFindings(analysis.findings), shown);
    pinCase();
    drawn = { analysis, wanted: shownNow() };
    panel.title = shown === undefined ? 'Drawing' : titleOf(shown);
    if (drawing === undefined || shown === undefined) {
      sentLines = undefined;
      tell({ kind: 'nothing', root, menu, why: whyNothing(root, analysis) });
      return;
    }
    version++;
    const { sent, lines } = sending(drawing.shown, version, sentLines);
    sentLines = lines;
    tell({ kind: 'drawing', version, root, of: shown.of, menu, at: Date.now(), sent });
    select();
    cursorMoved();
  }

  /** What is known of the machine; where its root has come to be used by another file, of that one's. */
  function analysisNow(): Analysis | undefined {
    const { project } = workspace;
    const roots = project.rootsOf(root);
    if (roots[0] !== undefined && !roots.includes(root)) root = roots[0];
    return project.analysis(root);
  }

  /** The drawing that is wanted, or what stands in its place. */
  function shownNow(): Wanted | undefined {
    if (wanted === undefined) return firstOf(menu);
    const names = menu[wanted.view];
    const at = names.indexOf(wanted.of);
    if (at >= 0) index = at;
    const name = names[index] ?? names[0];
    if (name === wanted.of) return wanted;
    return name === undefined ? firstOf(menu) : { view: wanted.view, of: name };
  }

  /** The case that is shown stays shown, also once it is not the worst any more. */
  function pinCase(): void {
    if (drawing?.shown.view !== 'what-if') return;
    const { of, cases, shown } = drawing.shown.picture;
    wanted = { view: 'what-if', of, cases, ...(shown ? { case: shown.id } : {}) };
  }

  /** Writes the keys that the shown case offers, as one step that can be undone, and brings them into sight. */
  async function addKeys(): Promise<void> {
    const documents = drawn?.analysis?.documents;
    if (drawing?.edit === undefined || documents === undefined) return;
    const changes = textChanges(drawing.edit, documents);
    const [first] = changes;
    const isMade =
      first !== undefined && (await vscode.workspace.applyEdit(workspaceEdit(workspace, changes)));
    if (!isMade) throw new Error('the keys cannot be written into the text');
    await goTo(first, true);
  }

  function select(): void {
    if (selecting !== undefined && drawing !== undefined) tell({ kind: 'select', version, cell: selecting });
    selecting = undefined;
  }

  function cursorMoved(): void {
    if (drawing === undefined || !listening) return;
    const files = workspace.project.analysis(root)?.documents;
    const { activeTextEditor, visibleTextEditors } = vscode.window;
    // The active text, or where the drawing itself is active, one that is in sight.
    const editor = [activeTextEditor, ...visibleTextEditors].find(
      (one) => one !== undefined && files?.has(pathOf(one.document.uri)),
    );
    const parsed = editor && workspace.parsed(editor.document);
    if (editor === undefined || parsed === undefined) return;
    const file = pathOf(editor.document.uri);
    const here = drawing;
    const found = spansAt(parsed, editor.document.offsetAt(editor.selection.active)).map((span) =>
      cellsIn(here, file, span),
    );
    tell({ kind: 'cursor', version, cells: found.find((cells) => cells.length > 0) ?? [] });
  }

  async function hear(message: ToHost): Promise<void> {
    switch (message.kind) {
      case 'ready':
        // What the page kept is of the whole machine: of half of it another drawing would come, and undo that.
        await workspace.loaded;
        listening = !disposed && panel.visible;
        [sentLines, drawn] = [undefined, undefined];
        draw();
        return;
      case 'choose':
        wanted = message.wanted;
        draw();
        return;
      case 'save':
        await saveDrawing(root, message);
        return;
      case 'tell':
        if (message.version === version && drawing !== undefined)
          tell({ ...message, kind: 'told', markdown: drawing.tell(message.cell) });
        return;
      case 'key':
        if (message.version === version) await addKeys();
        return;
      case 'go': {
        const spot = message.version === version && drawing ? spotAt(drawing, message.cell) : undefined;
        if (spot !== undefined) await goTo(spot);
      }
    }
  }

  /** Opens the statement where its file is in sight already, else beside the drawing. */
  async function goTo({ file, from }: Pick<Spot, 'file' | 'from'>, preserveFocus = false): Promise<void> {
    const parsed = workspace.documentOf(file);
    if (parsed === undefined) return;
    const uri = uriOf(file);
    const { visibleTextEditors, tabGroups } = vscode.window;
    const same = visibleTextEditors.find(({ document }) => pathOf(document.uri) === pathOf(uri));
    const other = tabGroups.all.find(({ viewColumn }) => viewColumn !== panel.viewColumn);
    // The cursor alone: what is selected would be gone at the next key.
    await vscode.window.showTextDocument(uri, {
      viewColumn: same?.viewColumn ?? other?.viewColumn ?? vscode.ViewColumn.Beside,
      selection: rangeIn(parsed, { from, to: from }),
      preserveFocus,
    });
  }

  panel.iconPath = {
    light: vscode.Uri.joinPath(extensionUri, 'media/file-light.svg'),
    dark: vscode.Uri.joinPath(extensionUri, 'media/file-dark.svg'),
  };
  panel.webview.options = pageOptions(extensionUri);
  panel.webview.onDidReceiveMessage((message: unknown) => {
    const read = readToHost(message);
    if (read === undefined) return;
    hear(read).catch((error: unknown) => {
      const why = error instanceof Error ? error.message : String(error);
      if (!disposed) void vscode.window.showErrorMessage(`The drawing cannot do that: ${why}`);
    });
  });
  panel.onDidChangeViewState(() => {
    // A page that is hidden is gone; it says when it is back.
    if (!panel.visible) listening = false;
  });
  panel.onDidDispose(() => {
    clearTimeout(timer);
    [disposed, listening] = [true, false];
  });
  panel.webview.html = drawingPage(panel.webview, extensionUri);

  return {
    root: () => root,
    show(next, cell) {
      [wanted, selecting] = [next, cell];
      panel.reveal(undefined, true);
      draw();
    },
    changed() {
      clearTimeout(timer);
      timer = setTimeout(draw, MOMENT);
    },
    ranked() {
      drawn = undefined;
      draw();
    },
    renamed(to) {
      root = to;
    },
    cursorMoved,
  };
}

const titleOf = ({ view, of }: Wanted): string => (view === 'what-if' ? `What if: ${of}` : of);

const isSame = (a: Wanted | undefined, b: Wanted | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && isSameDrawing(a, b));

function whyNothing(root: string, analysis: Analysis | undefined): string {
  const name = nameOf(root);
  return analysis === undefined
    ? `${name} cannot be read any more: it has been closed, moved or deleted. Open the drawing anew from where the machine is described now.`
    : `${name} describes no backplane with a bus, no connector and no ribbon yet. Write one, and it is drawn here.`;
}
