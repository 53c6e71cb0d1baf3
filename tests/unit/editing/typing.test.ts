// A file while it is being written: nothing throws, and what was found elsewhere stays found.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/checks/types.ts';
import { codeActions } from '../../../src/editing/code-actions.ts';
import { lensesIn } from '../../../src/editing/code-lens.ts';
import { completionsAt } from '../../../src/editing/completion.ts';
import { foldsIn } from '../../../src/editing/folding.ts';
import { formatChanges } from '../../../src/editing/formatting.ts';
import { hoverAt } from '../../../src/editing/hover.ts';
import { inlayHints } from '../../../src/editing/inlay-hints.ts';
import { linksIn } from '../../../src/editing/links.ts';
import { definitionAt, highlightsAt, referencesAt } from '../../../src/editing/navigation.ts';
import { outlineOf } from '../../../src/editing/outline.ts';
import { lineIndexAt } from '../../../src/editing/place.ts';
import { Project } from '../../../src/editing/project.ts';
import { rename, renameTargetAt } from '../../../src/editing/rename.ts';
import { selectionsAt } from '../../../src/editing/selection.ts';
import { semanticTokens } from '../../../src/editing/semantic-tokens.ts';
import { statusOf } from '../../../src/editing/status.ts';
import { workspaceSymbols } from '../../../src/editing/workspace-symbols.ts';
import { published } from '../../../src/knowledge/published.ts';

const FOLDER = 'examples/tide-gauge';
const EXAMPLES = [
  'examples/tide-gauge/as-found.pinout',
  'examples/tide-gauge/tide-gauge.pinout',
  'examples/s100/s100.pinout',
  'examples/vme/vme.pinout',
  'examples/isa/isa.pinout',
];
const BUS = `${FOLDER}/bus.pinout`;

const textOf = (path: string): string => readFileSync(path, 'utf8');

/** A project with one example and the bus that it may use. */
function projectWith(path: string): Project {
  const project = new Project(published, () => `/${path.slice(0, path.lastIndexOf('/'))}`);
  if (path.startsWith(FOLDER)) project.set(`/${BUS}`, textOf(BUS));
  project.set(`/${path}`, textOf(path));
  return project;
}

/** Everything that the editor asks while somebody types. */
function askEverything(project: Project, file: string, offset: number): void {
  const document = project.document(file)!;
  const analysis = project.of(file)!;
  const at = { from: offset, to: offset };
  const whole = { from: 0, to: document.text.length };
  completionsAt(analysis, file, offset);
  hoverAt(analysis, file, offset);
  definitionAt(project, file, offset);
  referencesAt(project, file, offset);
  highlightsAt(project, file, offset);
  renameTargetAt(project, file, offset);
  rename(project, file, offset, 'X9');
  codeActions({ ...analysis, findings: analysis.findings.slice(0, 1) }, file, at);
  selectionsAt(document, offset);
  outlineOf(analysis, file);
  foldsIn(document);
  semanticTokens(analysis, file);
  inlayHints(analysis, file, whole, { ranges: true, unknown: true });
  lensesIn(analysis, file);
  linksIn(document, file, '/');
  formatChanges(document);
  statusOf(analysis);
  workspaceSymbols(project, 'a');
}

/** Every step-th place of a text, and the ends of it. */
function places(length: number, step: number): number[] {
  const list: number[] = [];
  for (let at = 0; at <= length; at += step) list.push(at);
  return [...list, length];
}

describe.each(EXAMPLES)('%s', (path) => {
  const text = textOf(path);
  const file = `/${path}`;

  it('is asked everything at the end of each prefix', () => {
    const project = projectWith(path);
    for (const end of places(text.length, 211)) {
      project.set(file, text.slice(0, end));
      expect(() => askEverything(project, file, end)).not.toThrow();
    }
  });

  it('is asked everything with each line deleted', () => {
    const project = projectWith(path);
    const { lines } = project.document(file)!;
    lines.forEach(({ start, text: line, eol }, i) => {
      if (i % 11 !== 0) return;
      project.set(file, text.slice(0, start) + text.slice(start + line.length + eol.length));
      expect(() => askEverything(project, file, start)).not.toThrow();
    });
  });
});

/** A finding by what it says, and the text of the line it stands on. */
const spoken = ({ rule, message, source }: Finding, project: Project): string => {
  const document = project.document(source.file);
  return `${rule} ${message} ${document?.lines[lineIndexAt(document, source.from)]?.text}`;
};

describe('while a line is typed', () => {
  const path = 'examples/tide-gauge/as-found.pinout';
  const text = textOf(path);
  const file = `/${path}`;

  it('the others keep their findings, unless what is typed so far changes the machine', () => {
    const project = projectWith(path);
    const { lines, root } = project.document(file)!;
    const inside = new Set(root.entries.flatMap(({ block }) => block?.entries.map(({ line }) => line) ?? []));
    let compared = 0;
    for (const [index, { start, text: line }] of lines.entries()) {
      if (!inside.has(index) || index % 5 !== 0) continue;
      // The line is gone, and comes back letter by letter.
      const [before, after] = [text.slice(0, start), text.slice(start + line.length)];
      project.set(file, before + after);
      const without = project.of(file)!.findings.map((finding) => spoken(finding, project));
      for (const end of places(line.length, 7)) {
        const typed = line.slice(0, end);
        project.set(file, before + typed + after);
        const document = project.document(file)!;
        const isRead = document.root.entries.some(
          (entry) => entry.line === index || entry.block?.entries.some((one) => one.line === index),
        );
        if (isRead) continue;
        const { findings } = project.of(file)!;
        const elsewhere = findings.filter(
          ({ source }) => source.file !== file || lineIndexAt(document, source.from) !== index,
        );
        expect(
          elsewhere.map((finding) => spoken(finding, project)),
          typed,
        ).toEqual(without);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(100);
  });

  it('a deleted line takes few findings of others along', () => {
    const project = projectWith(path);
    const all = project.of(file)!.findings.map((finding) => spoken(finding, project));
    const { lines, root } = project.document(file)!;
    const inside = root.entries.flatMap(({ block }) => block?.entries ?? []);
    let [kept, wanted] = [0, 0];
    for (const { line, block } of inside) {
      if (block !== undefined) continue;
      const { start, text: its, eol } = lines[line]!;
      project.set(file, text.slice(0, start) + text.slice(start + its.length + eol.length));
      const left = new Set(project.of(file)!.findings.map((finding) => spoken(finding, project)));
      const others = all.filter((one) => !one.endsWith(its));
      wanted += others.length;
      kept += others.filter((one) => left.has(one)).length;
    }
    expect(kept / wanted).toBeGreaterThan(0.95);
  });
});
