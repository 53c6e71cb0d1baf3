import { RACK } from './rack.ts';
import { at, type HostTest, holds, replace, rule, ruleOf, rulesIn, same, until } from './tools.ts';

/** Where the cards of tide-gauge.pinout and as-found.pinout meet bus.pinout. */
const WAIT = 'P             = /WAIT         wired-or  by trace';

export const findings: HostTest[] = [
  {
    name: 'a finding shows its path, names its rule and links to the explanation',
    async run(tools) {
      const { vscode } = tools;
      const { uri } = await tools.open('tide-gauge/as-found.pinout');
      await rule(tools, uri, 'supply-overload');
      const all = vscode.languages.getDiagnostics(uri);
      for (const one of all) {
        const { source, code, message, relatedInformation } = one;
        const { target } = code as { target: typeof uri };
        same([source, target.toString()], ['Cardcage', `cardcage-page:/${ruleOf(one)}.md`]);
        if (!relatedInformation?.length) throw new Error(`no path: ${message}`);
      }
      const found = all.find((one) => ruleOf(one) === 'rail-conflict');
      same(
        found?.relatedInformation?.map(({ message, location }) => [
          message.split(' (')[0],
          location.uri.path.split('/').at(-1),
        ]),
        [
          ['ADC.edge.W -12V', 'as-found.pinout'],
          ['CAGE.7.W -5V', 'bus.pinout'],
        ],
      );
    },
  },
  {
    name: 'an edit of the bus changes the findings of both machines, and undo takes it back',
    async run(tools) {
      // Opened, since a host without VS Code's search program finds no files by itself.
      const { uri: asFound } = await tools.open('tide-gauge/as-found.pinout');
      const { uri: asItShouldBe } = await tools.open('tide-gauge/tide-gauge.pinout');
      const bus = await tools.open('tide-gauge/bus.pinout');
      await until('the findings of the rack as found', () => rulesIn(tools, asFound).length > 20);
      same(rulesIn(tools, asItShouldBe).includes('name-unknown'), false);
      await replace(tools, bus, WAIT, WAIT.replace('/WAIT', '/HOLD'));
      await rule(tools, asFound, 'name-unknown');
      await rule(tools, asItShouldBe, 'name-unknown');
      await tools.vscode.window.showTextDocument(bus);
      await tools.vscode.commands.executeCommand('undo');
      await rule(tools, asFound, 'name-unknown', false);
      await rule(tools, asItShouldBe, 'name-unknown', false);
    },
  },
  {
    name: 'a used file is missed until it is there, and when it is gone again',
    async run(tools) {
      const { vscode } = tools;
      const [head, rest] = RACK.split('\nbackplane ') as [string, string];
      const { uri } = await tools.create(
        'several/rack.pinout',
        `pinout 1\nuse "bus.pinout"\n\nbackplane ${rest}`,
      );
      await rule(tools, uri, 'use-missing');
      const bus = vscode.Uri.joinPath(uri, '../bus.pinout');
      await vscode.workspace.fs.writeFile(bus, new TextEncoder().encode(head));
      await rule(tools, uri, 'use-missing', false);
      same(rulesIn(tools, uri), []);
      await vscode.workspace.fs.delete(bus);
      await rule(tools, uri, 'use-missing');
    },
  },
  {
    name: 'settings of a rule take effect at once',
    async run(tools) {
      const { vscode } = tools;
      const { uri } = await tools.open('tide-gauge/as-found.pinout');
      await rule(tools, uri, 'pull-up-out-of-range');
      const severity = () =>
        vscode.languages.getDiagnostics(uri).find((one) => ruleOf(one) === 'pull-up-out-of-range')?.severity;
      same(severity(), vscode.DiagnosticSeverity.Error);
      const set = (value: unknown) =>
        vscode.workspace
          .getConfiguration('cardcage')
          .update('severity', value, vscode.ConfigurationTarget.Global);
      await set({ 'pull-up-out-of-range': 'warning', 'supply-overload': 'off' });
      await rule(tools, uri, 'supply-overload', false);
      same(severity(), vscode.DiagnosticSeverity.Warning);
      await set(undefined);
      await rule(tools, uri, 'supply-overload');
      same(severity(), vscode.DiagnosticSeverity.Error);
    },
  },
  {
    name: 'a file without a place on disk has findings, and loses them when it is closed',
    async run(tools) {
      const { vscode } = tools;
      const document = await vscode.workspace.openTextDocument({
        language: 'pinout',
        content: 'pinout 1\nsuply X\n',
      });
      await vscode.window.showTextDocument(document);
      await rule(tools, document.uri, 'word-unknown');
      const [found] = vscode.languages.getDiagnostics(document.uri);
      same(found?.range.start, at(document, 'suply'));
      await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
      await until('the findings to go', () => rulesIn(tools, document.uri).length === 0);
    },
  },
  {
    name: 'the link of a finding opens the page of its rule',
    async run({ vscode }) {
      await vscode.commands.executeCommand('cardcage.explainRule', 'supply-overload');
      await until('a tab with the page', () => {
        const { activeTab } = vscode.window.tabGroups.activeTabGroup;
        return activeTab?.label.includes('supply-overload');
      });
      const uri = vscode.Uri.from({ scheme: 'cardcage-page', path: '/supply-overload.md' });
      const page = (await vscode.workspace.openTextDocument(uri)).getText();
      holds(page, 'supply-overload', '```');
      await vscode.commands.executeCommand('workbench.action.closeActiveEditor');
    },
  },
];
