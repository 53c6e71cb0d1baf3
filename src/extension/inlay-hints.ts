import * as vscode from 'vscode';
import { inlayHints } from '../editing/inlay-hints.ts';
import { rangeIn, spanOf } from './positions.ts';
import { affectsUs, isOn } from './settings.ts';
import type { Workspace } from './workspace.ts';

/** What ranges stand for and how much is left unknown, in small print within the lines. */
export function registerInlayHints(
  workspace: Workspace,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  return vscode.Disposable.from(
    changed,
    workspace.onDidChange(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (affectsUs(event)) changed.fire();
    }),
    vscode.languages.registerInlayHintsProvider(selector, {
      onDidChangeInlayHints: changed.event,
      provideInlayHints(document, range) {
        const found = workspace.analysis(document);
        if (found === undefined) return undefined;
        const parsed = found.analysis.documents.get(found.file)!;
        const kinds = {
          ranges: isOn('inlayHints.ranges', document.uri),
          unknown: isOn('inlayHints.unknown', document.uri),
        };
        return inlayHints(found.analysis, found.file, spanOf(document, range), kinds).map(
          ({ offset, label }) => {
            const hint = new vscode.InlayHint(rangeIn(parsed, { from: offset, to: offset }).start, label);
            hint.paddingLeft = true;
            return hint;
          },
        );
      },
    }),
  );
}
