import * as vscode from 'vscode';
import { foldsIn } from '../editing/folding.ts';
import { selectionsAt } from '../editing/selection.ts';
import { rangeIn } from './positions.ts';
import type { Workspace } from './workspace.ts';

const KINDS = {
  block: undefined,
  comment: vscode.FoldingRangeKind.Comment,
  uses: vscode.FoldingRangeKind.Imports,
};

/** Folding of blocks and runs of lines, and selections that grow by what belongs together. */
export function registerFolding(workspace: Workspace, selector: vscode.DocumentSelector): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.languages.registerFoldingRangeProvider(selector, {
      provideFoldingRanges(document) {
        const parsed = workspace.parsed(document);
        return (
          parsed &&
          foldsIn(parsed).map(({ from, to, kind }) => new vscode.FoldingRange(from, to, KINDS[kind]))
        );
      },
    }),
    vscode.languages.registerSelectionRangeProvider(selector, {
      provideSelectionRanges(document, positions) {
        const parsed = workspace.parsed(document);
        if (parsed === undefined) return undefined;
        return positions.map((position) => {
          // From the smallest outwards; each knows the one around it.
          const spans = selectionsAt(parsed, document.offsetAt(position)).map((span) =>
            rangeIn(parsed, span),
          );
          const nested = spans.reduceRight<vscode.SelectionRange | undefined>(
            (around, range) => new vscode.SelectionRange(range, around),
            undefined,
          );
          return nested ?? new vscode.SelectionRange(new vscode.Range(position, position));
        });
      },
    }),
  );
}
