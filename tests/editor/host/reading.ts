import type * as vscode from 'vscode';
import { at, type HostTest, holds, same, type Tools, until } from './tools.ts';

const BUS = 'tide-gauge/bus.pinout';

const setting = ({ vscode }: Tools, name: string, value: unknown) =>
  vscode.workspace.getConfiguration('cardcage').update(name, value, vscode.ConfigurationTarget.Global);

async function hints({ vscode }: Tools, document: vscode.TextDocument): Promise<string[]> {
  const found = await vscode.commands.executeCommand<vscode.InlayHint[]>(
    'vscode.executeInlayHintProvider',
    document.uri,
    new vscode.Range(0, 0, document.lineCount, 0),
  );
  return found.map(({ label }) => String(label));
}

async function lenses({ vscode }: Tools, document: vscode.TextDocument): Promise<vscode.Command[]> {
  const found = await vscode.commands.executeCommand<vscode.CodeLens[]>(
    'vscode.executeCodeLensProvider',
    document.uri,
  );
  return found.map(({ command }) => command!);
}

/** Words of the first line with `text`, each with its colour. */
async function coloured({ vscode }: Tools, document: vscode.TextDocument, text: string): Promise<string[]> {
  const legend = await vscode.commands.executeCommand<vscode.SemanticTokensLegend>(
    'vscode.provideDocumentSemanticTokensLegend',
    document.uri,
  );
  const { data } = await vscode.commands.executeCommand<vscode.SemanticTokens>(
    'vscode.provideDocumentSemanticTokens',
    document.uri,
  );
  const wanted = at(document, text).line;
  const words: string[] = [];
  let [line, character] = [0, 0];
  for (let i = 0; i < data.length; i += 5) {
    const [lines, characters, length, type, modifiers] = data.subarray(i, i + 5) as unknown as number[];
    character = lines === 0 ? character + characters! : characters!;
    line += lines!;
    if (line !== wanted) continue;
    const word = document.getText(new vscode.Range(line, character, line, character + length!));
    const more = legend.tokenModifiers.filter((_, bit) => modifiers! & (1 << bit));
    words.push([word, legend.tokenTypes[type!], ...more].join(' '));
  }
  return words;
}

export const reading: HostTest[] = [
  {
    name: 'hovering over a line shows its net',
    async run(tools) {
      const { vscode } = tools;
      const document = await tools.open('tide-gauge/as-found.pinout');
      const [hover] = await vscode.commands.executeCommand<vscode.Hover[]>(
        'vscode.executeHoverProvider',
        document.uri,
        at(document, '/WAIT', 1),
      );
      const text = hover!.contents.map((one) => (typeof one === 'string' ? one : one.value)).join('\n');
      holds(text, '/WAIT', 'RAM-A', 'TELE');
    },
  },
  {
    name: 'blocks, remarks and tables fold',
    async run(tools) {
      const document = await tools.open(BUS);
      const folds = await tools.vscode.commands.executeCommand<vscode.FoldingRange[]>(
        'vscode.executeFoldingRangeProvider',
        document.uri,
      );
      holds(
        folds.map(({ start, kind }) => `${start} ${kind}`),
        `0 ${tools.vscode.FoldingRangeKind.Comment}`,
        `${at(document, 'bus MAIN').line} undefined`,
      );
    },
  },
  {
    name: 'a selection grows by what belongs together',
    async run(tools) {
      const document = await tools.open(BUS);
      const [first] = await tools.vscode.commands.executeCommand<vscode.SelectionRange[]>(
        'vscode.executeSelectionRangeProvider',
        document.uri,
        [at(document, '12.06 V', 2)],
      );
      const grown: string[] = [];
      for (let one = first; one; one = one.parent!) grown.push(document.getText(one.range));
      holds(
        grown,
        'supply alone, cards out: 12.06 V',
        'by meter 2026-05-02 "supply alone, cards out: 12.06 V"',
        '3, C          = +12V          by meter 2026-05-02 "supply alone, cards out: 12.06 V"',
        document.getText(),
      );
    },
  },
  {
    name: 'names are coloured by what they mean',
    async run(tools) {
      const bus = await tools.open(BUS);
      same(await coloured(tools, bus, '3, C          = +12V'), [
        '3 contact',
        'C contact',
        '+12V rail declaration',
      ]);
      const rack = await tools.open('tide-gauge/as-found.pinout');
      holds(
        await coloured(tools, rack, '31..34        = +5V'),
        '31..34 contact guess',
        '+5V rail declaration',
      );
      holds(await coloured(tools, rack, 'drives       CLK'), 'CLK signal', '74S244 part');
    },
  },
  {
    name: 'hints stand within the lines, until they are turned off',
    async run(tools) {
      const document = await tools.open(BUS);
      const shown = await until('hints', async () => {
        const found = await hints(tools, document);
        return found.length > 0 && found;
      });
      if (!shown.some((label) => label.includes('skips G I O Q'))) throw new Error(JSON.stringify(shown));
      await setting(tools, 'inlayHints.ranges', false);
      await until('no hint of a range', async () =>
        (await hints(tools, document)).every((label) => !label.includes('skips')),
      );
      await setting(tools, 'inlayHints.ranges', undefined);
    },
  },
  {
    name: 'lenses count over blocks and lead to what they count, until they are turned off',
    async run(tools) {
      const document = await tools.open(BUS);
      const shown = await lenses(tools, document);
      holds(
        shown.map(({ title }) => title),
        '44 contacts: 44 known (100 %)',
      );
      const findings = shown.find(({ title }) => /\d+ error/.test(title));
      same(findings?.command, 'editor.action.goToLocations');
      await setting(tools, 'codeLens', false);
      await until('no lens', async () => (await lenses(tools, document)).length === 0);
      await setting(tools, 'codeLens', undefined);
    },
  },
];
