import type { Document, Span } from '../language/tree.ts';
import { isPublished } from '../machine/uses.ts';
import { type Splice, settle } from './changes.ts';
import type { CodeAction } from './code-actions.ts';
import { extractingBus } from './extract-bus.ts';
import { listsAndRanges } from './list-range.ts';
import { placeAt } from './place.ts';
import type { Analysis } from './project.ts';
import { sortingTable } from './sort-table.ts';

/** A way to say the same otherwise, as changes of one file that are not formatted yet. */
export interface Refactoring {
  readonly title: string;
  readonly kind: 'refactor.rewrite' | 'refactor.extract';
  readonly splices: readonly Splice[];
}

/** Ways to say the same otherwise, where they apply at the beginning of a range. */
export function refactorings(
  { machine, documents }: Pick<Analysis, 'machine' | 'documents'>,
  file: string,
  range: Span,
): CodeAction[] {
  const document = documents.get(file);
  if (document === undefined || isPublished(file)) return [];
  const place = placeAt(document, range.from);
  const found = [
    ...listsAndRanges(machine, document, place),
    ...extractingBus(machine, document, place),
    ...sortingTable(machine, document, place),
  ];
  return found.flatMap((one) => settled(document, file, one));
}

function settled(document: Document, file: string, { title, kind, splices }: Refactoring): CodeAction[] {
  const changes = settle(document, splices) ?? [];
  return changes.length === 0 ? [] : [{ title, kind, changes: changes.map((one) => ({ file, ...one })) }];
}
