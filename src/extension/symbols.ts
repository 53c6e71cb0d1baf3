import * as vscode from 'vscode';
import { type OutlineEntry, outlineOf } from '../editing/outline.ts';
import type { SymbolKind as NameKind } from '../editing/roles.ts';
import { workspaceSymbols } from '../editing/workspace-symbols.ts';
import type { Document } from '../language/tree.ts';
import { locationIn, rangeIn } from './positions.ts';
import type { Workspace } from './workspace.ts';

const { SymbolKind } = vscode;

/** Kinds by line form; lines within blocks that are not listed are fields. */
const OF_FORMS: Readonly<Record<string, vscode.SymbolKind>> = {
  supply: SymbolKind.Object,
  connector: SymbolKind.Interface,
  bus: SymbolKind.Interface,
  backplane: SymbolKind.Module,
  card: SymbolKind.Class,
  fitted: SymbolKind.Array,
  slot: SymbolKind.EnumMember,
  loose: SymbolKind.Class,
  ribbon: SymbolKind.Object,
  cable: SymbolKind.Object,
  readings: SymbolKind.Array,
  family: SymbolKind.TypeParameter,
  parttable: SymbolKind.TypeParameter,
  port: SymbolKind.Property,
  edge: SymbolKind.Property,
  entry: SymbolKind.EnumMember,
  rail: SymbolKind.Constant,
  ground: SymbolKind.Constant,
};

const OF_NAMES: Readonly<Partial<Record<NameKind, vscode.SymbolKind>>> = {
  supply: SymbolKind.Object,
  connector: SymbolKind.Interface,
  bus: SymbolKind.Interface,
  backplane: SymbolKind.Module,
  card: SymbolKind.Class,
  board: SymbolKind.Class,
  port: SymbolKind.Property,
  ribbon: SymbolKind.Object,
  cable: SymbolKind.Object,
  part: SymbolKind.TypeParameter,
  name: SymbolKind.Variable,
};

/** The outline of a file, and names looked up over all files of the workspace. */
export function registerSymbols(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.languages.registerDocumentSymbolProvider(
      selector,
      {
        async provideDocumentSymbols(document) {
          await workspace.ready;
          const found = workspace.analysis(document);
          if (found === undefined) return undefined;
          const parsed = found.analysis.documents.get(found.file)!;
          return outlineOf(found.analysis, found.file).map((one) => symbol(parsed, one));
        },
      },
      { label: 'Cardcage' },
    ),
    vscode.languages.registerWorkspaceSymbolProvider({
      provideWorkspaceSymbols: (query) =>
        workspaceSymbols(workspace.project, query).map(
          ({ name, kind, container, file, from, to }) =>
            new vscode.SymbolInformation(
              name,
              OF_NAMES[kind] ?? SymbolKind.Field,
              container,
              locationIn(workspace.documentOf, file, { from, to }),
            ),
        ),
    }),
  );
}

function symbol(document: Document, entry: OutlineEntry): vscode.DocumentSymbol {
  const { name, detail, form, from, to, nameFrom, nameTo, children } = entry;
  const one = new vscode.DocumentSymbol(
    name === '' ? form : name,
    detail,
    OF_FORMS[form] ?? SymbolKind.Field,
    rangeIn(document, { from, to }),
    rangeIn(document, { from: nameFrom, to: nameTo }),
  );
  one.children = children.map((child) => symbol(document, child));
  return one;
}
