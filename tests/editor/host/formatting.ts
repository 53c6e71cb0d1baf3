import { RACK } from './rack.ts';
import { at, type HostTest, holds, replace, same } from './tools.ts';

const UGLY = RACK.replaceAll(/ {2,}/g, ' ').replace('card CPU', '\n\n\ncard   CPU');

export const formatting: HostTest[] = [
  {
    name: 'formatting a document puts its columns where they belong',
    async run({ vscode, create }) {
      const document = await create('ugly.pinout', UGLY);
      await vscode.commands.executeCommand('editor.action.formatDocument');
      holds(document.getText(), RACK.slice(RACK.indexOf('supply PSU'), RACK.indexOf('card CPU')).trimEnd());
      await document.save();
    },
  },
  {
    name: 'formatting a selection leaves the rest',
    async run({ vscode, create }) {
      const document = await create('selected.pinout', RACK.replaceAll(/^ {2,}/gm, ' '));
      const editor = vscode.window.activeTextEditor!;
      const line = at(document, ' slots').line;
      editor.selection = new vscode.Selection(line, 0, line, 5);
      await vscode.commands.executeCommand('editor.action.formatSelection');
      holds(document.getText(), '\n  slots        1..4', '\n feed         +5V');
    },
  },
  {
    name: 'saving formats, since the language asks for it',
    async run(tools) {
      const document = await tools.create('saved.pinout', RACK);
      await replace(tools, document, '  ground  GND', 'ground GND');
      same(await document.save(), true);
      same(document.getText(), RACK);
    },
  },
];
