import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lensesIn } from '../../../src/editing/code-lens.ts';
import { foldsIn } from '../../../src/editing/folding.ts';
import { hoverAt } from '../../../src/editing/hover.ts';
import { inlayHints } from '../../../src/editing/inlay-hints.ts';
import { linksIn } from '../../../src/editing/links.ts';
import { type OutlineEntry, outlineOf } from '../../../src/editing/outline.ts';
import { Project } from '../../../src/editing/project.ts';
import { selectionsAt } from '../../../src/editing/selection.ts';
import { semanticTokens } from '../../../src/editing/semantic-tokens.ts';
import { statusOf } from '../../../src/editing/status.ts';
import { workspaceSymbols } from '../../../src/editing/workspace-symbols.ts';
import { published } from '../../../src/knowledge/published.ts';
import { damages } from '../../support/damage.ts';

/** Every reading feature at every `step`th offset of a file: none throws, and every place lies within the text. */
function readAll(project: Project, file: string, step: number): void {
  const analysis = project.of(file)!;
  const document = analysis.documents.get(file)!;
  const { length } = document.text;
  const within = ({ from, to }: { readonly from: number; readonly to: number }): boolean =>
    0 <= from && from <= to && to <= length;
  const outlined = (one: OutlineEntry): void => {
    expect(one.name).not.toBe('');
    expect(one.from <= one.nameFrom && one.nameTo <= one.to && within(one)).toBe(true);
    for (const child of one.children) {
      expect(one.from <= child.from && child.to <= one.to).toBe(true);
      outlined(child);
    }
  };
  for (const one of outlineOf(analysis, file)) outlined(one);
  for (const one of linksIn(document, file, '/machine')) expect(within(one)).toBe(true);
  for (const one of lensesIn(analysis, file)) expect(within(one)).toBe(true);
  for (const { from, to } of foldsIn(document)) expect(from < to && to < document.lines.length).toBe(true);
  for (const { offset } of inlayHints(
    analysis,
    file,
    { from: 0, to: length },
    { ranges: true, unknown: true },
  ))
    expect(offset <= length).toBe(true);
  let end = 0;
  for (const one of semanticTokens(analysis, file)) {
    expect(one.from >= end && one.from < one.to && within(one)).toBe(true);
    end = one.to;
  }
  expect(statusOf(analysis).text).not.toBe('');
  expect(
    workspaceSymbols(project, '')
      .filter((one) => one.file === file)
      .every(within),
  ).toBe(true);
  for (let offset = 0; offset <= length; offset += step) {
    const hover = hoverAt(analysis, file, offset);
    if (hover) expect(within(hover) && hover.from <= offset && offset <= hover.to).toBe(true);
    const spans = selectionsAt(document, offset);
    spans.forEach((span, i) => {
      const inner = spans[i - 1] ?? { from: offset, to: offset };
      expect(span.from <= inner.from && inner.to <= span.to && within(span)).toBe(true);
    });
  }
}

const FOLDERS = ['isa', 's100', 'tide-gauge', 'vme'];

function textsOf(folder: string): Map<string, string> {
  const names = readdirSync(`examples/${folder}`).filter((name) => name.endsWith('.pinout'));
  return new Map(
    names.map((name) => [`/machine/${name}`, readFileSync(`examples/${folder}/${name}`, 'utf8')]),
  );
}

function projectOf(texts: ReadonlyMap<string, string>): Project {
  const project = new Project(published, () => '/machine');
  for (const [file, text] of texts) project.set(file, text);
  return project;
}

describe('reading features', () => {
  it.each(FOLDERS)('none throws anywhere in the examples of %s', (folder) => {
    const texts = textsOf(folder);
    const project = projectOf(texts);
    for (const file of texts.keys()) readAll(project, file, 3);
  });

  it.each(FOLDERS)('none throws on what one has typed so far of %s', (folder) => {
    const texts = textsOf(folder);
    const project = projectOf(texts);
    for (const [file, text] of texts) {
      for (let end = 97; end < text.length; end += 1709) {
        project.set(file, text.slice(0, end));
        readAll(project, file, 131);
      }
      project.set(file, text);
    }
  });

  it('none throws on a text with a slip in it', () => {
    const texts = textsOf('tide-gauge');
    const project = projectOf(texts);
    const file = '/machine/tide-gauge.pinout';
    for (const { text } of damages(texts.get(file)!, 1999)) {
      project.set(file, text);
      readAll(project, file, 149);
    }
  });

  it('none throws at an offset outside the text, or in a file that is not there', () => {
    const project = projectOf(textsOf('isa'));
    const file = '/machine/isa.pinout';
    const analysis = project.of(file)!;
    for (const offset of [-1, 1e9]) {
      expect(hoverAt(analysis, file, offset)).toBeUndefined();
      expect(() => selectionsAt(analysis.documents.get(file)!, offset)).not.toThrow();
    }
    expect(hoverAt(analysis, '/machine/none.pinout', 0)).toBeUndefined();
    expect(outlineOf(analysis, '/machine/none.pinout')).toEqual([]);
    expect(semanticTokens(analysis, '/machine/none.pinout')).toEqual([]);
    expect(lensesIn(analysis, '/machine/none.pinout')).toEqual([]);
  });
});
