import { languageRules } from '../checks/language.ts';
import { silences } from '../checks/run.ts';
import type { Change, Edit, Finding } from '../checks/types.ts';
import type { Document, Span } from '../language/tree.ts';
import { type TextChange, textChanges } from './changes.ts';
import { languageEdits } from './language-fixes.ts';
import type { Analysis } from './project.ts';
import { keepsPromise } from './promise.ts';
import { refactorings } from './refactorings.ts';
import { firstRemark } from './remarks.ts';

/** Something that can be done to the text at a place. */
export interface CodeAction {
  readonly title: string;
  readonly kind: 'quickfix' | 'refactor.rewrite' | 'refactor.extract' | 'source.fixAll';
  /** What it mends. */
  readonly finding?: Finding;
  /** Right in nearly all cases. */
  readonly preferred?: true;
  /** Silences its finding and mends nothing: the last to be offered. */
  readonly allows?: true;
  readonly changes: readonly TextChange[];
  /** What is to be typed over next, by offsets in the changed text of the file asked about. */
  readonly select?: Span;
}

type Asked = Pick<Analysis, 'root' | 'machine' | 'documents' | 'findings' | 'library'>;

/** The machines that a file takes part in. */
type MachinesOf = (file: string) => readonly Asked[];

const OF_LANGUAGE = new Set(languageRules.map(({ id }) => id));

/**
 * What can be done where a range of a file touches a finding or a line: quick fixes, then `allow`, then refactorings.
 * Only kinds that are wanted, and each when it is asked for: a quick fix is tried first, on this machine and on all others
 * that have a file which it changes.
 */
export function* codeActions(
  analysis: Asked,
  file: string,
  range: Span,
  isWanted: (kind: CodeAction['kind']) => boolean = () => true,
  machinesOf: MachinesOf = () => [],
): Iterable<CodeAction> {
  if (isWanted('quickfix')) {
    const touched = analysis.findings.filter(
      ({ source }) => source.file === file && source.from <= range.to && source.to >= range.from,
    );
    for (const finding of touched) yield* quickFixes(analysis, finding, machinesOf);
    for (const finding of touched) yield* allowing(analysis, finding);
  }
  for (const one of refactorings(analysis, file, range)) if (isWanted(one.kind)) yield one;
}

/** The edits of a finding that keep their promise. */
export function* quickFixes(
  analysis: Asked,
  finding: Finding,
  machinesOf: MachinesOf = () => [],
): Iterable<CodeAction> {
  for (const { title, changes, preferred } of editsOf(analysis, finding)) {
    const made = textChanges({ title, changes }, analysis.documents);
    const concerned = new Set([analysis, ...made.flatMap(({ file }) => machinesOf(file))]);
    if (made.length === 0 || !keepsPromise(concerned, finding, made)) continue;
    yield { title, kind: 'quickfix', finding, changes: made, ...(preferred ? { preferred } : {}) };
  }
}

const editsOf = (analysis: Asked, finding: Finding): readonly Edit[] =>
  finding.edits ?? languageEdits(analysis, finding);

/** Slips of writing that are mended all at once: what was pasted, and units. */
const SLIPS = new Set(['pasted-form', 'unit-wrong']);

/** All slips of a file that can be mended without asking; undefined where there is none. */
export function fixAll({ documents, findings }: Asked, file: string): CodeAction | undefined {
  const slips = findings
    .filter(({ rule, source }) => SLIPS.has(rule) && source.file === file)
    .flatMap(({ edits = [] }) => edits.filter(({ preferred }) => preferred).slice(0, 1))
    .flatMap((one) => one.changes);
  // What a change of more writes anew needs no change within: `−12 v` becomes `-12 V` at once.
  const outer = slips.filter(
    (one, i) => !slips.some((other, j) => covers(other, one) && (j < i || !covers(one, other))),
  );
  const title = 'mend all pasted forms and units';
  const changes = textChanges({ title, changes: outer }, documents);
  return changes.length === 0 ? undefined : { title, kind: 'source.fixAll', changes };
}

/** Whether one change writes all of the text anew that the other does. */
const covers = (one: Change, other: Change): boolean =>
  one.kind === 'replace' &&
  other.kind === 'replace' &&
  one.source.from <= other.source.from &&
  one.source.to >= other.source.to;

// ---- allowing a finding ----

/**
 * An `allow` line for exactly this finding, its reason to be typed: until then it silences nothing. The language's own
 * errors cannot be allowed.
 */
function allowing({ documents, findings }: Asked, finding: Finding): CodeAction[] {
  const { rule, source } = finding;
  const document = documents.get(source.file);
  const place = OF_LANGUAGE.has(rule) ? undefined : placeOf(finding, findings);
  if (document === undefined || place === undefined) return [];
  const at = allowPlace(document);
  const eol = document.lines.find((line) => line.eol !== '')?.eol ?? '\n';
  const before = at.behind ? eol : '';
  const line = `allow ${rule} at ${place} ""`;
  const text = at.behind ? before + line : line + eol + eol;
  const changes = [{ file: source.file, from: at.offset, to: at.offset, text }];
  const reason = at.offset + before.length + line.length - 1;
  const title = `allow ${rule} at ${place}, with the reason`;
  return [{ title, kind: 'quickfix', finding, allows: true, changes, select: { from: reason, to: reason } }];
}

/** What stands behind `at`: names and paths, no words of the language. */
const WRITABLE = /^(?![a-z][a-z-]*$)[^\s,"=]+$/;

/**
 * A place by which an `allow` means this finding and no other of its rule. Of an error the contact, so that one that comes
 * later elsewhere on the same rail or line is not silenced with it.
 */
function placeOf(finding: Finding, findings: readonly Finding[]): string | undefined {
  const others = findings.filter((one) => one.rule === finding.rule && one !== finding);
  const { about, path, severity } = finding;
  const contacts = path.map(({ contact }) => contact);
  const places = new Set(severity === 'error' ? [...contacts, ...about] : [...about, ...contacts]);
  return [...places].find(
    (place) =>
      WRITABLE.test(place) && silences(place, finding) && !others.some((other) => silences(place, other)),
  );
}

/** Behind the last `allow` line, else before the first block and the remarks on it. */
function allowPlace(document: Document): { readonly offset: number; readonly behind: boolean } {
  const { root, lines, text } = document;
  const last = root.entries.findLast(({ statement }) => statement.form === 'allow');
  if (last) {
    const line = lines[last.line]!;
    return { offset: line.start + line.text.length, behind: true };
  }
  const first = root.entries.find(({ block }) => block !== undefined)?.line;
  if (first === undefined) return { offset: text.length, behind: true };
  return { offset: lines[firstRemark(document, first)]!.start, behind: false };
}
