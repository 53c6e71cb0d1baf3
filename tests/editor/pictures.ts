// npm run pictures: takes README's pictures from the real editor. A picture is a function that brings the editor there.
import { expect, it } from 'vitest';
import { UNKEYED } from '../support/unkeyed.ts';
import { drawingPage } from './support/drawing.ts';
import type { Editor } from './support/editor.ts';
import { editorSuite } from './support/suite.ts';

const FOLDER = 'media/pictures';

/** The height of the title bar, which tells that this is a development host: pixels. */
const TITLE = 35;

/** By the file's name. Each starts where the one before it left the editor. */
const pictures: Record<string, (editor: Editor) => Promise<void>> = {
  problems: async (editor) => {
    await editor.open('tide-gauge/as-found.pinout');
    await editor.problem('supply-overload');
    await editor.goTo('supply PSU');
    await editor.squiggles('error');
    // The first finding without its long path, so that others are seen.
    await editor.page.locator('.markers-panel .monaco-list-row', { hasText: 'supply-overload' }).click();
    await editor.press('ArrowLeft');
  },
  hover: async (editor) => {
    // The rest is about the text: panel and explorer away.
    await editor.press('Control+J', 'Control+B');
    await editor.goTo('/ALARM             1 kohm');
    await editor.lenses();
    await editor.press('Control+K', 'Control+I');
    await editor.page.locator('.monaco-resizable-hover .hover-contents').first().waitFor();
  },
  fixes: async (editor) => {
    await editor.press('Escape');
    await editor.goTo('terminate    SYNC');
    await editor.openFixes();
  },
  completion: async (editor) => {
    await editor.press('Escape');
    await editor.host((vscode) =>
      vscode.window.showTextDocument(
        vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, 'tide-gauge/tide-gauge.pinout'),
      ),
    );
    await editor.goTo('pulls        /ALARM');
    await editor.press('Home', 'Home', 'Enter', 'ArrowUp');
    await editor.type('pulls        ');
    await editor.press('Escape', 'Control+Space');
    await editor.page.locator('.suggest-widget.visible .monaco-list-row').first().waitFor();
    await editor.press('Control+Space');
    await editor.page.locator('.suggest-details-container').waitFor();
    await editor.press('ArrowDown', 'ArrowDown');
    await editor.page.locator('.suggest-details-container', { hasText: '/IRQ' }).waitFor();
  },
  hints: async (editor) => {
    await editor.press('Escape');
    await editor.theme('light');
    await editor.host((vscode) =>
      vscode.window.showTextDocument(
        vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, 'tide-gauge/bus.pinout'),
      ),
    );
    await editor.goTo('S             = /AS');
    await editor.lenses();
    await editor.hints();
  },
  bus: async (editor) => {
    const drawing = drawingPage(() => editor);
    await editor.theme('dark');
    await editor.host((vscode) =>
      vscode.window.showTextDocument(
        vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, 'tide-gauge/as-found.pinout'),
      ),
    );
    await editor.goTo('drives       A0..A7');
    await drawing.open();
    await editor.host((vscode) => vscode.commands.executeCommand('workbench.action.focusSecondEditorGroup'));
    await editor.host((vscode) =>
      vscode.commands.executeCommand('workbench.action.toggleMaximizeEditorGroup'),
    );
    await drawing.pointAt('D0', '7');
    await drawing.tells('driven by');
  },
  connector: async (editor) => {
    const drawing = drawingPage(() => editor);
    await drawing.choose('View', 'Connector');
    await drawing.choose('Of', 'CAGE.3');
    await drawing.press('Turn to wiring side');
    await drawing.pointAtText('C');
    await drawing.tells('do not slip here');
  },
  ribbon: async (editor) => {
    const drawing = drawingPage(() => editor);
    await editor.theme('light');
    await drawing.choose('View', 'Ribbon');
    await drawing.choose('Of', 'W4');
    // The build sheet stands beside it.
    await editor.page.setViewportSize({ width: 1450, height: 700 });
    await drawing.pointAtText('PUMP.J1');
    await drawing.tells('16 way');
  },
  whatif: async (editor) => {
    const run = (command: string) =>
      editor.host((vscode, one) => vscode.commands.executeCommand(one), command);
    const drawing = drawingPage(() => editor);
    await editor.theme('dark');
    await editor.page.setViewportSize({ width: 1200, height: 1000 });
    // The text has to be in sight to be asked of.
    await run('workbench.action.toggleMaximizeEditorGroup');
    await run('workbench.action.focusFirstEditorGroup');
    await editor.create('bare.pinout', UNKEYED);
    await editor.goTo('1    = CPU');
    await editor.fix('Show mate-turned in the what-if view');
    await drawing.tells('nothing that the file says prevents it');
    await run('workbench.action.focusSecondEditorGroup');
    await run('workbench.action.toggleMaximizeEditorGroup');
    await drawing.pointAtText('D3');
    await drawing.tells('meets CAGE.1 3');
  },
};

editorSuite(
  'pictures',
  (editor) => {
    it.each(Object.entries(pictures))('%s', async (name, arrange) => {
      await arrange(editor());
      await editor().picture(name, FOLDER, TITLE);
      expect([...editor().outside]).toEqual([]);
    });
  },
  {
    size: { width: 1200, height: 750 },
    scale: 1.5,
    settings: {
      'workbench.colorTheme': 'Default Dark Modern',
      'window.commandCenter': false,
      'editor.minimap.enabled': false,
    },
  },
);
