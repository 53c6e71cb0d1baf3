import type * as vscode from 'vscode';
import { at, type HostTest, holds, same, type Tools, until } from './tools.ts';

async function ask<Answer>(
  { vscode }: Tools,
  command: string,
  document: vscode.TextDocument,
  text: string,
  into: number,
): Promise<Answer> {
  return vscode.commands.executeCommand<Answer>(command, document.uri, at(document, text, into));
}

const where = (uri: vscode.Uri, range: vscode.Range): string =>
  `${uri.path.split('/').at(-1)}:${range.start.line + 1}`;

export const navigation: HostTest[] = [
  {
    name: 'a name leads to where it is declared, in another file too',
    async run(tools) {
      const document = await tools.open('tide-gauge/as-found.pinout');
      const found = await ask<vscode.LocationLink[]>(
        tools,
        'vscode.executeDefinitionProvider',
        document,
        'drives       CLK',
        14,
      );
      const bus = await tools.open('tide-gauge/bus.pinout');
      same(
        found.map(({ targetUri, targetRange }) => where(targetUri, targetRange)),
        [`bus.pinout:${at(bus, '= CLK').line + 1}`],
      );
    },
  },
  {
    name: 'a published table opens read-only, in the language',
    async run(tools) {
      const { vscode } = tools;
      const document = await tools.open('s100/s100.pinout');
      const [found] = await ask<vscode.LocationLink[]>(
        tools,
        'vscode.executeDefinitionProvider',
        document,
        'on S100',
        4,
      );
      same(found?.targetUri.scheme, 'cardcage-published');
      const { document: table } = await vscode.window.showTextDocument(found!.targetUri);
      same(table.languageId, 'pinout');
      same(table.lineAt(found!.targetRange.start.line).text.startsWith('bus S100'), true);
      same(vscode.workspace.fs.isWritableFileSystem('cardcage-published') ?? false, false);
      same(vscode.languages.getDiagnostics(table.uri).length, 0);
    },
  },
  {
    name: 'references and highlights find every place of a name',
    async run(tools) {
      await tools.open('tide-gauge/as-found.pinout');
      await tools.open('tide-gauge/tide-gauge.pinout');
      const document = await tools.open('tide-gauge/bus.pinout');
      const found = await ask<vscode.Location[]>(
        tools,
        'vscode.executeReferenceProvider',
        document,
        '= /WAIT',
        3,
      );
      const files = new Set(found.map(({ uri }) => uri.path.split('/').at(-1)));
      same([...files].sort(), ['as-found.pinout', 'bus.pinout', 'tide-gauge.pinout']);
      const rack = await tools.open('tide-gauge/as-found.pinout');
      const lit = await ask<vscode.DocumentHighlight[]>(
        tools,
        'vscode.executeDocumentHighlights',
        rack,
        '/WAIT',
        1,
      );
      const written = rack.getText().match(/\/WAIT\b/g)?.length;
      same(lit.length, written);
    },
  },
  {
    name: 'the outline has blocks with their lines, and names are found over all files',
    async run(tools) {
      const { vscode } = tools;
      const document = await tools.open('tide-gauge/as-found.pinout');
      const outline = await vscode.commands.executeCommand<vscode.DocumentSymbol[]>(
        'vscode.executeDocumentSymbolProvider',
        document.uri,
      );
      holds(
        outline.map(({ name }) => name),
        'PSU',
        'CAGE',
        'CPU',
        'W1',
      );
      const supply = outline.find(({ name }) => name === 'PSU');
      holds(supply?.children.map(({ name }) => name) ?? [], '+5V', 'P1');
      const symbols = await vscode.commands.executeCommand<vscode.SymbolInformation[]>(
        'vscode.executeWorkspaceSymbolProvider',
        'EDGE44',
      );
      holds(
        symbols.map(({ name, location }) => `${name} ${location.uri.path.split('/').at(-1)}`),
        'EDGE44 bus.pinout',
      );
    },
  },
  {
    name: 'links lead to used files and published tables',
    async run({ vscode, open }) {
      const links = async (path: string) => {
        const { uri } = await open(path);
        return until('links', async () => {
          const found = await vscode.commands.executeCommand<vscode.DocumentLink[]>(
            'vscode.executeLinkProvider',
            uri,
          );
          return (
            found.length > 0 &&
            found.map(({ target }) => `${target?.scheme}:${target?.path.split('/').at(-1)}`)
          );
        });
      };
      const [bus] = await links('tide-gauge/as-found.pinout');
      same(bus?.endsWith(':bus.pinout'), true);
      same(await links('s100/s100.pinout'), ['cardcage-published:ieee-696.pinout']);
    },
  },
];
