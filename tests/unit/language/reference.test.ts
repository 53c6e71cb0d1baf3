import { readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { type BlockKind, forms } from '../../../src/language/forms.ts';
import { findingsOf } from '../../support/machine.ts';

const PATH = 'src/language/reference.md';
const SECTION = /(<!-- forms:.*-->\n)[\s\S]*(<!-- \/forms -->)/;

/** One table for each kind of block. */
function tables(): string {
  const kinds = [...new Set(forms.flatMap((form) => form.blocks))];
  const heading = (kind: BlockKind): string =>
    kind === 'file' ? 'Outside the blocks' : `In a \`${kind}\` block`;
  const cell = (text: string): string => text.replaceAll('|', '\\|');
  return kinds
    .map((kind) => {
      const rows = forms
        .filter((form) => form.blocks.includes(kind))
        .map((form) => `| \`${cell(form.example)}\` | ${cell(form.says)} |`);
      return `### ${heading(kind)}\n\n| line | says |\n| --- | --- |\n${rows.join('\n')}\n`;
    })
    .join('\n');
}

test('the reference shows every line form', () => {
  const text = readFileSync(PATH, 'utf8');
  const wanted = text.replace(SECTION, (_, open, close) => `${open}\n${tables()}\n${close}`);
  if (process.env.UPDATE) writeFileSync(PATH, wanted);
  expect(process.env.UPDATE ? wanted : text).toBe(wanted);
});

test.each([PATH, 'README.md', 'DEVELOPERS.md'])('every example in %s can be read', (path) => {
  for (const [, example] of readFileSync(path, 'utf8').matchAll(/```pinout\n([\s\S]*?)```/g)) {
    expect(parseDocument(example!).problems.map((problem) => problem.message)).toEqual([]);
    expect(findingsOf(example!).filter((finding) => finding.rule === 'name-unknown')).toEqual([]);
  }
});
