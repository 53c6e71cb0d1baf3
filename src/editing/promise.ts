import { languageRules } from '../checks/language.ts';
import { identityOf } from '../checks/merge.ts';
import { check } from '../checks/run.ts';
import type { Finding, Severity } from '../checks/types.ts';
import type { Document } from '../language/tree.ts';
import type { Source } from '../machine/types.ts';
import { documentsAfter, machineOf } from './changed-machine.ts';
import type { TextChange } from './changes.ts';
import { lineIndexAt } from './place.ts';
import type { Analysis } from './project.ts';

type Checked = Pick<Analysis, 'root' | 'documents' | 'findings' | 'library'>;
type Documents = ReadonlyMap<string, Document>;

const OF_LANGUAGE = new Set(languageRules.map(({ id }) => id));

/**
 * Whether changes do what a quick fix promises, in each of these machines: the finding goes where it is, the text still
 * says something everywhere, and no new error has to do with a line that they touch. What answers a question may well
 * bring an error to light. Each machine is built and checked once for the same changes, as long as it stays as it is.
 */
export const keepsPromise = (
  machines: Iterable<Checked>,
  finding: Finding,
  changes: readonly TextChange[],
): boolean => [...machines].every((machine) => keepsIn(machine, finding, changes));

/** What was found of changes before, by machine: the cursor moves more often than the text changes. */
const foundBefore = new WeakMap<Checked, Map<string, boolean>>();

function keepsIn(machine: Checked, finding: Finding, changes: readonly TextChange[]): boolean {
  const known = foundBefore.get(machine) ?? new Map<string, boolean>();
  foundBefore.set(machine, known);
  const key = JSON.stringify([...identityOf(finding), changes]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const result = tried(machine, finding, changes);
  known.set(key, result);
  return result;
}

/** Builds and checks the machine with the changes made. */
function tried(
  { root, documents, findings, library }: Checked,
  finding: Finding,
  all: readonly TextChange[],
): boolean {
  const changes = all.filter(({ file }) => documents.has(file));
  const after = documentsAfter(documents, changes);
  const machine = machineOf({ root, library }, after);
  const left = machine ? check(machine, after) : [];
  const wanted = identityOf(finding).join('\n');
  const here = findings.find((one) => identityOf(one).join('\n') === wanted);
  if (here !== undefined && !hasGone(here, findings, left)) return false;
  const known = counted(findings.map((one) => keyOf(one, documents)));
  const touched = touchedBy(changes, after);
  return left.every((one) => {
    if (one.severity !== 'error') return true;
    const key = keyOf(one, after);
    const times = known.get(key) ?? 0;
    known.set(key, times - 1);
    if (times > 0) return true;
    if (OF_LANGUAGE.has(one.rule)) return false;
    return finding.severity === 'question' || ![one, ...one.path].some(({ source }) => touched(source));
  });
}

const RANK: Readonly<Record<Severity, number>> = { error: 3, warning: 2, question: 1, note: 0 };

/** Whether the finding is not there any more, and no other of its rule that is as bad has come in its place. */
function hasGone(
  { rule, severity, message }: Finding,
  before: readonly Finding[],
  after: readonly Finding[],
): boolean {
  const alike = (list: readonly Finding[]): readonly Finding[] =>
    list.filter((one) => one.rule === rule && RANK[one.severity] >= RANK[severity]);
  const same = (list: readonly Finding[]): number => list.filter((one) => one.message === message).length;
  const [old, left] = [alike(before), alike(after)];
  return left.length < old.length && same(left) < same(old);
}

/** A finding by its rule and the text of its line: messages change with what else is in the machine. */
function keyOf({ rule, source: { file, from } }: Finding, documents: Documents): string {
  const document = documents.get(file);
  return `${rule}\n${file}\n${document?.lines[lineIndexAt(document, from)]?.text ?? ''}`;
}

function counted(keys: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
}

/** Whether a place of the new text lies on a line that the changes touch. */
function touchedBy(changes: readonly TextChange[], after: Documents): (source: Source) => boolean {
  const lines = new Map<string, Set<number>>();
  const moved = new Map<string, number>();
  for (const { file, from, to, text } of [...changes].sort((a, b) => a.from - b.from)) {
    const document = after.get(file)!;
    const by = moved.get(file) ?? 0;
    const its = lines.get(file) ?? new Set();
    const last = lineIndexAt(document, from + by + text.length);
    for (let line = lineIndexAt(document, from + by); line <= last; line++) its.add(line);
    lines.set(file, its);
    moved.set(file, by + text.length - (to - from));
  }
  return ({ file, from }) => {
    const document = after.get(file);
    return document !== undefined && lines.get(file)?.has(lineIndexAt(document, from)) === true;
  };
}
