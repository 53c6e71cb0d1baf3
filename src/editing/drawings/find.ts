import type { Cell } from '../../drawing/picture.ts';
import type { Wanted } from '../../drawing/to-host.ts';
import type { Analysis } from '../project.ts';
import { spansAt } from './at.ts';
import { cellsIn, drawingOf } from './drawing.ts';

/** The first of some drawings with a cell of which something is said at an offset; a crossing rather than a name. */
export function findCell(
  { view, documents }: Analysis,
  wanted: readonly Wanted[],
  file: string,
  offset: number,
): { readonly wanted: Wanted; readonly cell: Cell } | undefined {
  const document = documents.get(file);
  for (const span of document === undefined ? [] : spansAt(document, offset)) {
    for (const one of wanted) {
      const drawing = drawingOf(view, [], one);
      const cells = drawing === undefined ? [] : cellsIn(drawing, file, span);
      const cell = cells.find(({ row, column }) => row >= 0 && column >= 0) ?? cells[0];
      if (cell !== undefined) return { wanted: one, cell };
    }
  }
  return undefined;
}
