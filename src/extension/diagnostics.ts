import * as vscode from 'vscode';
import type { Finding, Severity, Step } from '../checks/types.ts';
import type { Analysis } from '../editing/project.ts';
import { pageOf } from './pages.ts';
import { LONG_ENOUGH, pause } from './pause.ts';
import { locationIn, rangeIn } from './positions.ts';
import { affectsUs, shownFindings } from './settings.ts';
import { uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** ms after the last keystroke, at least and at most; a large machine is looked at less often. */
const SOONEST = 60;
const LATEST = 600;

/** Findings of all machines of the workspace, anew when something changed and the typing pauses. */
export function registerDiagnostics(workspace: Workspace, log: vscode.LogOutputChannel): vscode.Disposable {
  const collection = vscode.languages.createDiagnosticCollection('cardcage');
  /** What the findings shown of each file were found in: as long as that is current, so are they. */
  const shown = new Map<string, readonly (Analysis | undefined)[]>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let lasted = 0;
  let run = 0;

  const later = (): void => {
    run++;
    clearTimeout(timer);
    timer = setTimeout(
      () => refresh().catch((error) => log.error('the findings cannot be shown', error)),
      Math.min(LATEST, Math.max(SOONEST, 3 * lasted)),
    );
  };

  /** One file after the other, so that a keystroke in between ends it. */
  async function refresh(): Promise<void> {
    const mine = run;
    await workspace.ready;
    if (mine !== run) return;
    const start = performance.now();
    const { project } = workspace;
    const files = project.names();
    let since = start;
    for (const file of files) {
      const machines = project.rootsOf(file).map((root) => project.analysis(root));
      if (!isSame(shown.get(file), machines)) {
        collection.set(uriOf(file), diagnosticsIn(workspace, file));
        shown.set(file, machines);
      }
      if (performance.now() - since < LONG_ENOUGH) continue;
      await pause();
      if (mine !== run) return;
      since = performance.now();
    }
    const present = new Set(files);
    for (const file of shown.keys()) {
      if (present.has(file)) continue;
      collection.delete(uriOf(file));
      shown.delete(file);
    }
    lasted = performance.now() - start;
    log.debug(`findings of ${files.length} files in ${lasted.toFixed(1)} ms`);
  }

  return vscode.Disposable.from(
    collection,
    workspace.onDidChange(later),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (!affectsUs(event)) return;
      shown.clear();
      later();
    }),
    {
      dispose: () => {
        run++;
        clearTimeout(timer);
      },
    },
  );
}

const isSame = <T>(before: readonly T[] | undefined, now: readonly T[]): boolean =>
  before?.length === now.length && before.every((one, i) => one === now[i]);

function diagnosticsIn(workspace: Workspace, file: string): vscode.Diagnostic[] {
  const document = workspace.documentOf(file);
  if (document === undefined) return [];
  return shownFindings(workspace.project.findingsIn(file)).map((finding) =>
    diagnostic(workspace, finding, rangeIn(document, finding.source)),
  );
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
  { rule, severity, message, path, fix }: Finding,
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
