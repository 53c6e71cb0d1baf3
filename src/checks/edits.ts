import { vectorName } from '../machine/names.ts';
import type { Source } from '../machine/types.ts';
import { stemOf } from './lists.ts';
import type { Change, Edit, Places } from './types.ts';

/** The edit that is one place with another text. */
export const replacing = (title: string, source: Source, text: string): Edit => ({
  title,
  changes: [{ kind: 'replace', source, text }],
  preferred: true,
});

/** The edit of several changes, or of one. */
export const edit = (title: string, ...changes: readonly Change[]): Edit => ({ title, changes });

/** The same edit as the one to take where only one can be. */
export const preferred = (one: Edit): Edit => ({ ...one, preferred: true });

/** The statement, or these places of it, say this. An empty text takes the attribute out. */
export const saying = (source: Source, say: Readonly<Record<string, string>>, at?: Places): Change => ({
  kind: 'say',
  source,
  say,
  ...(at ? { at } : {}),
});

/** The field of a finding; absent where there is no edit. */
export const withEdits = (edits: readonly Edit[]): { readonly edits?: readonly Edit[] } =>
  edits.length > 0 ? { edits } : {};

/** Names as the language writes a list of them: runs of three or more that differ in one number become `D0..D7`. */
export function writtenNames(names: readonly string[]): string {
  const kin = new Map<string, string[]>();
  for (const name of new Set(names)) {
    const list = kin.get(stemOf(name));
    if (list) list.push(name);
    else kin.set(stemOf(name), [name]);
  }
  const number = (name: string): number => vectorName(name)?.number ?? 0;
  return [...kin.values()]
    .flatMap((list) => writtenRuns(list.sort((a, b) => number(a) - number(b))))
    .join(', ');
}

/** Members of one vector, in rising order. */
function writtenRuns(names: readonly string[]): string[] {
  const runs: string[][] = [];
  for (const name of names) {
    const run = runs.at(-1);
    const before = run && vectorName(run.at(-1)!);
    const one = vectorName(name);
    const follows = before && one && one.number === before.number + 1 && sameWidth(before.digits, one.digits);
    if (run && follows) run.push(name);
    else runs.push([name]);
  }
  return runs.flatMap((run) => (run.length > 2 ? [`${run[0]}..${run.at(-1)}`] : run));
}

/** `A9` and `A10` are one vector, `A09` and `A010` are not. */
const sameWidth = (a: string, b: string): boolean =>
  a.length === b.length || (!a.startsWith('0') && !b.startsWith('0'));
