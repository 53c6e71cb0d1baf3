import { subjects } from '../language/tree.ts';
import { inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { SourceFile } from './uses.ts';

/** What stands outside any block in all files, by form. */
export type Blocks = ReadonlyMap<string, readonly Said[]>;

export function blocksByForm(files: readonly SourceFile[]): Blocks {
  const blocks = new Map<string, Said[]>();
  for (const { file, document } of files) {
    for (const entry of document.root.entries) {
      const { form } = entry.statement;
      const list = blocks.get(form);
      if (list === undefined) blocks.set(form, [{ file, entry }]);
      else list.push({ file, entry });
    }
  }
  return blocks;
}

export const ofForm = (blocks: Blocks, form: string): readonly Said[] => blocks.get(form) ?? [];

/** What is built of the blocks of a form, by name; a name said twice is reported and its first block holds. */
export function named<T>(
  blocks: Blocks,
  form: string,
  problems: Problems,
  build: (said: Said) => T | undefined,
): Map<string, T> {
  const map = new Map<string, T>();
  const first = new Map<string, Said>();
  for (const said of ofForm(blocks, form)) {
    const [item] = subjects(statementOf(said));
    if (item === undefined) continue;
    const name = item.first;
    const before = first.get(name);
    if (before !== undefined) {
      const message = `there are two ${form === 'parttable' ? 'part' : form}s named \`${name}\`; name one differently`;
      problems.add('duplicate', sourceOf(said, item), message, {
        related: [{ source: sourceOf(before), message: 'named here first' }],
      });
      continue;
    }
    first.set(name, said);
    const built = build(said);
    if (built !== undefined) map.set(name, built);
  }
  return map;
}

/** The lines inside the first block of a form that has this name. */
export function linesOf(blocks: Blocks, form: string, name: string): Said[] {
  const said = ofForm(blocks, form).find((one) => subjects(statementOf(one))[0]?.first === name);
  return said === undefined ? [] : inside(said);
}
