import type * as vscode from 'vscode';
import { RACK } from './rack.ts';
import { at, type HostTest, holds, rule, same, type Tools, until } from './tools.ts';

/** What the menu offers where `text` stands; `kind` as the editor asks for it. */
async function actions(
  { vscode }: Tools,
  document: vscode.TextDocument,
  text: string,
  kind?: string,
): Promise<vscode.CodeAction[]> {
  const place = at(document, text, 1);
  return vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    document.uri,
    new vscode.Range(place, place),
    kind,
  );
}

async function apply(
  { vscode }: Tools,
  found: readonly vscode.CodeAction[],
  title: string,
): Promise<vscode.CodeAction> {
  const action = found.find((one) => one.title === title);
  if (!action?.edit) throw new Error(`no "${title}" among ${JSON.stringify(found.map((one) => one.title))}`);
  same(await vscode.workspace.applyEdit(action.edit), true);
  const { command } = action;
  if (command) await vscode.commands.executeCommand(command.command, ...(command.arguments ?? []));
  return action;
}

export const codeActions: HostTest[] = [
  {
    name: 'a quick fix mends its finding',
    async run(tools) {
      const document = await tools.open('tide-gauge/as-found.pinout');
      await rule(tools, document.uri, 'pull-up-out-of-range');
      const found = await actions(tools, document, 'pull-up      /RESET');
      const { isPreferred, kind } = await apply(tools, found, 'Fit 1 kohm');
      same([isPreferred, kind?.value], [true, 'quickfix']);
      holds(document.getText(), 'pull-up      /RESET             1 kohm to +5V  after 10');
      await rule(tools, document.uri, 'pull-up-out-of-range', false);
    },
  },
  {
    name: 'a finding is allowed once the reason is typed between the quotes, where the cursor is',
    async run(tools) {
      const document = await tools.open('tide-gauge/as-found.pinout');
      await rule(tools, document.uri, 'port-unexplained');
      const found = await actions(tools, document, 'port J2 on IDC10');
      // With or without a kind, as the menu and the hover ask for them.
      const fixes = await actions(tools, document, 'port J2 on IDC10', 'quickfix');
      for (const list of [found, fixes])
        holds(
          list.map((one) => one.title),
          'Explain port-unexplained',
        );
      await apply(tools, found, 'Allow port-unexplained at CPU.J2, with the reason');
      const editor = tools.vscode.window.activeTextEditor!;
      const { active } = editor.selection;
      same(document.getText(document.lineAt(active).range), 'allow port-unexplained at CPU.J2 ""');
      await rule(tools, document.uri, 'attribute-missing');
      await editor.edit((edit) => edit.insert(active, 'no cable goes there'));
      holds(document.getText(), 'allow port-unexplained at CPU.J2 "no cable goes there"');
      await rule(tools, document.uri, 'port-unexplained', false);
      await rule(tools, document.uri, 'attribute-missing', false);
    },
  },
  {
    name: 'a list becomes a range and back, a table of an edge becomes a bus',
    async run(tools) {
      const document = await tools.create(
        'rewrite.pinout',
        RACK.replace(
          'edge         on MAIN\n',
          'edge         on EDGE44 {\n    4..11         = D0..D7        by trace\n    2             = +5V           by trace\n    D..M          = A0..A7        by trace\n    12            = /IRQ          by trace\n  }\n',
        ),
      );
      const line = 'drives       A0..A7             with 74LS244  by trace';
      const listed = 'drives       A0, A1, A2, A3, A4, A5, A6, A7  with 74LS244  by trace';
      await apply(
        tools,
        await actions(tools, document, 'A0..A7             with 74LS244', 'refactor.rewrite'),
        'Write the ranges out',
      );
      holds(document.getText(), listed);
      await apply(tools, await actions(tools, document, 'A0, A1', 'refactor'), 'Write as ranges');
      holds(document.getText(), line);
      const extract = await actions(tools, document, 'edge         on EDGE44', 'refactor.extract');
      const [only] = extract;
      await apply(tools, extract, only?.title ?? 'an extraction');
      holds(document.getText(), 'bus CPU-BUS on EDGE44 {', 'edge         on CPU-BUS');
    },
  },
  {
    name: 'all slips of a file are mended at once',
    async run(tools) {
      const document = await tools.create(
        'slips.pinout',
        RACK.replace('3.96 mm', '3,96 mm').replace('"Processor"', '“Processor”'),
      );
      await until('findings', () => tools.vscode.languages.getDiagnostics(document.uri).length > 1);
      const found = await actions(tools, document, 'pinout 1', 'source.fixAll');
      same(
        found.map(({ kind }) => kind?.value),
        ['source.fixAll.cardcage'],
      );
      await apply(tools, found, 'Mend all pasted forms and units');
      same(document.getText(), RACK);
    },
  },
];
