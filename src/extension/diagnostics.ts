import * as vscode from 'vscode';
import type { Finding, Severity, Step } from '../checks/types.ts';
import { pageOf } from './pages.ts';
import { locationIn, rangeIn } from './positions.ts';
import { affectsUs, severitiesFor } from './settings.ts';
import { uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** ms after the last keystroke, at least and at most; a large machine is looked at less often. */
const SOONEST = 60;
const LATEST = 600;

/** Findings of all machines of the workspace, anew when something changed and the typing pauses. */
export function registerDiagnostics(workspace: Workspace, log: vscode.LogOutputChannel): vscode.Disposable {
  const collection = vscode.languages.createDiagnosticCollection('cardcage');
  let timer: ReturnType<typeof setTimeout> | undefined;
  let lasted = 0;
  let run = 0;

  const later = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void refresh(), Math.min(LATEST, Math.max(SOONEST, 3 * lasted)));
  };

  /** One file after the other, so that a keystroke in between ends it. */
  async function refresh(): Promise<void> {
    const mine = ++run;
    await workspace.ready;
    const start = performance.now();
    const files = workspace.project.names();
    let busy = 0;
    for (const file of files) {
      const before = performance.now();
      const uri = uriOf(file);
      collection.set(uri, diagnosticsIn(workspace, file, uri));
      busy += performance.now() - before;
      if (busy < 8) continue;
      busy = 0;
      await new Promise((resolve) => setTimeout(resolve));
      if (mine !== run) return;
    }
    const gone: vscode.Uri[] = [];
    const present = new Set(files.map((file) => uriOf(file).toString()));
    collection.forEach((uri) => {
      if (!present.has(uri.toString())) gone.push(uri);
    });
    for (const uri of gone) collection.delete(uri);
    lasted = performance.now() - start;
    log.debug(`findings of ${files.length} files in ${lasted.toFixed(1)} ms`);
  }

  return vscode.Disposable.from(
    collection,
    workspace.onDidChange(() => {
      run++;
      later();
    }),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (affectsUs(event)) later();
    }),
    { dispose: () => clearTimeout(timer) },
  );
}

function diagnosticsIn(workspace: Workspace, file: string, uri: vscode.Uri): vscode.Diagnostic[] {
  const document = workspace.documentOf(file);
  if (document === undefined) return [];
  const severityOf = severitiesFor(uri);
  return workspace.project.findingsIn(file).flatMap((finding) => {
    const severity = severityOf(finding);
    return severity === undefined
      ? []
      : [diagnostic(workspace, finding, severity, rangeIn(document, finding.source))];
  });
}

/** Hints are not listed among the problems, so questions and notes are both information; their first word tells. */
const LEVELS: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  question: vscode.DiagnosticSeverity.Information,
  note: vscode.DiagnosticSeverity.Information,
};

function diagnostic(
  workspace: Workspace,
  { rule, message, path, fix }: Finding,
  severity: Severity,
  range: vscode.Range,
): vscode.Diagnostic {
  const kind = severity === 'question' ? 'Question: ' : severity === 'note' ? 'Note: ' : '';
  const text = fix === undefined ? `${kind}${message}` : `${kind}${message}\nDo: ${fix}`;
  const one = new vscode.Diagnostic(range, text, LEVELS[severity]);
  one.source = 'Cardcage';
  one.code = { value: rule, target: pageOf(rule) };
  one.relatedInformation = path.map((step) => related(workspace, step));
  return one;
}

function related(
  workspace: Workspace,
  { contact, signal, evidence, source }: Step,
): vscode.DiagnosticRelatedInformation {
  const known = evidence === '' ? '' : ` (${evidence})`;
  const text = [contact, signal].filter((part) => part !== '').join(' ') || 'here';
  return new vscode.DiagnosticRelatedInformation(
    locationIn(workspace.documentOf, source.file, source),
    text + known,
  );
}
