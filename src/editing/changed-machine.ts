import { parseDocument } from '../language/blocks.ts';
import type { Document } from '../language/tree.ts';
import { buildMachine } from '../machine/build.ts';
import type { Machine } from '../machine/types.ts';
import { applied, type TextChange } from './changes.ts';
import type { Analysis } from './project.ts';

type Documents = ReadonlyMap<string, Document>;

/** The documents of a machine once changes are made. Files that take no part in it stay away. */
export function documentsAfter(documents: Documents, changes: readonly TextChange[]): Documents {
  const after = new Map(documents);
  for (const [file, before] of documents) {
    const its = changes.filter((one) => one.file === file);
    if (its.length > 0) after.set(file, parseDocument(applied(before.text, its), before));
  }
  return after;
}

/** The machine of the same root over other documents; files that did not take part before take no part now. */
export function machineOf(
  { root, library }: Pick<Analysis, 'root' | 'library'>,
  documents: Documents,
): Machine | undefined {
  const document = documents.get(root);
  const file = (path: string): Document | undefined => documents.get(path);
  return document && buildMachine({ file: root, document }, { ...library, file });
}
