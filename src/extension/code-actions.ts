import * as vscode from 'vscode';
import { type CodeAction, codeActions, fixAll } from '../editing/code-actions.ts';
import { shownInWhatIf } from '../editing/drawings/what-if-of.ts';
import type { Analysis } from '../editing/project.ts';
import type { Span } from '../language/tree.ts';
import { SHOW_IN_WHAT_IF } from './drawings.ts';
import { workspaceEdit } from './edits.ts';
import { LONG_ENOUGH, pause } from './pause.ts';
import { rangeIn, spanOf } from './positions.ts';
import { shownFindings } from './settings.ts';
import type { Workspace } from './workspace.ts';

const { CodeActionKind } = vscode;

const KINDS: Readonly<Record<CodeAction['kind'], vscode.CodeActionKind>> = {
  quickfix: CodeActionKind.QuickFix,
  'refactor.rewrite': CodeActionKind.RefactorRewrite,
  'refactor.extract': CodeActionKind.RefactorExtract,
  'source.fixAll': CodeActionKind.SourceFixAll.append('cardcage'),
};

/** Selects what is to be typed over once an action's change is made. Not in the palette: it needs its arguments. */
const SELECT = 'cardcage.select';

/** Quick fixes of findings, refactorings, and what mends a whole file at once. */
export function registerCodeActions(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const provider: vscode.CodeActionProvider = {
    async provideCodeActions(document, range, context, token) {
      const found = workspace.analysis(document);
      if (found === undefined) return undefined;
      const { project } = workspace;
      const { file } = found;
      const { version } = document;
      const span = spanOf(document, range);
      const machinesOf = (one: string): Analysis[] => project.machinesOf(one);
      const isWanted = (kind: CodeAction['kind']): boolean =>
        context.only === undefined || context.only.contains(KINDS[kind]);
      const actions: CodeAction[] = [];
      let since = performance.now();
      for (const machine of machinesOf(file)) {
        for (const one of codeActions(machine, file, span, isWanted, machinesOf)) {
          // A rule that the settings silence has nothing to mend.
          if (one.finding === undefined || shownFindings([one.finding]).length > 0) actions.push(one);
          if (performance.now() - since < LONG_ENOUGH) continue;
          await pause();
          if (token.isCancellationRequested || document.version !== version) return undefined;
          since = performance.now();
        }
      }
      // Not offered beside the others: asked for by its kind, on saving or from the menu of source actions.
      const all = context.only && isWanted('source.fixAll') ? fixAll(found.analysis, file) : undefined;
      if (all) actions.push(all);
      // The menu selects its first: what mends comes before what explains, and what silences a finding behind both.
      const offered = unique(actions);
      const shown = (place: MenuPlace): vscode.CodeAction[] =>
        offered
          .filter((one) => menuPlace(one) === place)
          .map((one) => action(workspace, document, one, context));
      return [
        ...shown('fixes'),
        ...(isWanted('quickfix')
          ? [...whatIfs(machinesOf(file), file, span, context), ...explanations(context)]
          : []),
        ...shown('allows'),
        ...shown('others'),
      ];
    },
  };
  return vscode.Disposable.from(
    vscode.languages.registerCodeActionsProvider(selector, provider, {
      providedCodeActionKinds: Object.values(KINDS),
    }),
    vscode.commands.registerCommand(SELECT, (from: number, to: number) => {
      const editor = vscode.window.activeTextEditor;
      if (editor === undefined) return;
      const [start, end] = [editor.document.positionAt(from), editor.document.positionAt(to)];
      editor.selection = new vscode.Selection(start, end);
      editor.revealRange(editor.selection);
    }),
  );
}

type MenuPlace = 'fixes' | 'allows' | 'others';

const menuPlace = ({ kind, allows }: CodeAction): MenuPlace =>
  allows ? 'allows' : kind === 'quickfix' ? 'fixes' : 'others';

/** A file that several machines use has its findings in each: what does the same is offered once. */
function unique(actions: readonly CodeAction[]): CodeAction[] {
  const seen = new Map(actions.map((one) => [JSON.stringify([one.title, one.changes]), one]));
  return [...seen.values()];
}

function action(
  workspace: Workspace,
  document: vscode.TextDocument,
  { title, kind, finding, preferred, changes, select }: CodeAction,
  { diagnostics }: vscode.CodeActionContext,
): vscode.CodeAction {
  const one = new vscode.CodeAction(capital(title), KINDS[kind]);
  one.edit = workspaceEdit(workspace, changes);
  if (preferred) one.isPreferred = true;
  const parsed = workspace.parsed(document);
  if (finding !== undefined && parsed !== undefined) {
    const range = rangeIn(parsed, finding.source);
    one.diagnostics = diagnostics.filter(
      (each) => ruleOf(each) === finding.rule && each.range.isEqual(range),
    );
  }
  if (select !== undefined)
    one.command = { title: 'Select', command: SELECT, arguments: [select.from, select.to] };
  return one;
}

/** What a finding on a wrong mating means, as a drawing. */
function whatIfs(
  machines: readonly Analysis[],
  file: string,
  span: Span,
  { diagnostics }: vscode.CodeActionContext,
): vscode.CodeAction[] {
  const shown = machines.flatMap((machine) =>
    shownFindings(shownInWhatIf(machine, file, span)).map(({ rule, message }) => {
      const one = new vscode.CodeAction(`Show ${rule} in the what-if view`, CodeActionKind.QuickFix);
      const asked = [machine.root, rule, message];
      one.command = { title: 'Show', command: SHOW_IN_WHAT_IF, arguments: asked };
      one.diagnostics = diagnostics.filter((each) => ruleOf(each) === rule);
      return one;
    }),
  );
  // Of several machines that use a file, the first shows it.
  return shown.filter(({ title }, i) => shown.findIndex((one) => one.title === title) === i);
}

/** The page of each finding here. */
function explanations({ diagnostics }: vscode.CodeActionContext): vscode.CodeAction[] {
  const rules = new Set(diagnostics.flatMap((one) => ruleOf(one) ?? []));
  return [...rules].map((rule) => {
    const one = new vscode.CodeAction(`Explain ${rule}`, CodeActionKind.QuickFix);
    one.command = { title: 'Explain', command: 'cardcage.explainRule', arguments: [rule] };
    one.diagnostics = diagnostics.filter((each) => ruleOf(each) === rule);
    return one;
  });
}

function ruleOf({ source, code }: vscode.Diagnostic): string | undefined {
  return source === 'Cardcage' && typeof code === 'object' ? String(code.value) : undefined;
}

/** Menus begin with a capital; what stands in back-ticks or is a word of the language stays as it is. */
const capital = (title: string): string => title.charAt(0).toUpperCase() + title.slice(1);
