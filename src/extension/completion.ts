import * as vscode from 'vscode';
import {
  type Completion,
  type CompletionKind,
  completionDetails,
  completionsAt,
  MOST_COMPLETIONS,
} from '../editing/completion.ts';
import type { Analysis } from '../editing/project.ts';
import { rangeIn } from './positions.ts';
import type { Workspace } from './workspace.ts';

/** Behind these the next word is offered without being asked for. */
const TRIGGERS = [' ', '.', ',', '=', '"'];

const { CompletionItemKind: Kind } = vscode;

const ICONS: Readonly<Record<CompletionKind, vscode.CompletionItemKind>> = {
  supply: Kind.Class,
  connector: Kind.Interface,
  bus: Kind.Interface,
  backplane: Kind.Module,
  card: Kind.Class,
  board: Kind.Class,
  port: Kind.Property,
  ribbon: Kind.Class,
  cable: Kind.Class,
  part: Kind.Method,
  slot: Kind.EnumMember,
  contact: Kind.EnumMember,
  label: Kind.EnumMember,
  word: Kind.Keyword,
  evidence: Kind.Keyword,
  unit: Kind.Unit,
  value: Kind.Value,
  date: Kind.Value,
  text: Kind.Text,
  rail: Kind.Constant,
  ground: Kind.Constant,
  signal: Kind.Variable,
  chain: Kind.Event,
  family: Kind.Method,
  regulator: Kind.Method,
  rule: Kind.Reference,
  place: Kind.Reference,
  file: Kind.File,
  snippet: Kind.Snippet,
};

/** An item with what it was made from, so that its details can be told when it is looked at. */
class Item extends vscode.CompletionItem {
  readonly completion: Completion;
  readonly analysis: Analysis;

  constructor(completion: Completion, analysis: Analysis) {
    super({ label: completion.label, ...(completion.detail ? { description: completion.detail } : {}) });
    this.completion = completion;
    this.analysis = analysis;
  }
}

/** What may be written at the cursor. */
export function registerCompletion(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const provider: vscode.CompletionItemProvider<vscode.CompletionItem> = {
    provideCompletionItems(document, position) {
      const found = workspace.analysis(document);
      if (found === undefined) return undefined;
      const { analysis, file } = found;
      const options = { today: today(), files: workspace.project.names() };
      const list = completionsAt(analysis, file, document.offsetAt(position), options);
      return new vscode.CompletionList(
        list.map((one) => itemFor(analysis, file, position, one)),
        list.length >= MOST_COMPLETIONS,
      );
    },
    resolveCompletionItem(item) {
      if (!(item instanceof Item) || item.documentation !== undefined) return item;
      const details = completionDetails(item.analysis, item.completion);
      if (details !== undefined) item.documentation = new vscode.MarkdownString(details);
      return item;
    },
  };
  return vscode.languages.registerCompletionItemProvider(selector, provider, ...TRIGGERS);
}

function itemFor(analysis: Analysis, file: string, position: vscode.Position, completion: Completion): Item {
  const { kind, documentation, insert, snippet, from, to, sort, filter, preselect, retrigger, also } =
    completion;
  const document = analysis.documents.get(file)!;
  const item = new Item(completion, analysis);
  const replacing = rangeIn(document, { from, to });
  item.kind = ICONS[kind];
  item.insertText = snippet ? new vscode.SnippetString(insert) : insert;
  item.range = { inserting: replacing.with({ end: position }), replacing };
  item.sortText = sort;
  if (filter !== undefined) item.filterText = filter;
  if (preselect) item.preselect = true;
  if (documentation !== undefined) item.documentation = new vscode.MarkdownString(documentation);
  if (retrigger) item.command = { command: 'editor.action.triggerSuggest', title: 'Suggest' };
  if (also)
    item.additionalTextEdits = also.map((one) => vscode.TextEdit.replace(rangeIn(document, one), one.text));
  return item;
}

/** The day by the person's clock, as the language writes it. */
function today(): string {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
