import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { format } from '../../../src/language/format.ts';
import { findingsOf } from '../../support/machine.ts';
import { manifest } from './manifest.ts';

const FOLDER = 'media/walkthrough';
const pages = readdirSync(FOLDER).filter((name) => name.endsWith('.md'));
const pageOf = (name: string): string => readFileSync(`${FOLDER}/${name}`, 'utf8');
const examplesIn = (page: string): string[] =>
  [...page.matchAll(/```pinout\n([\s\S]*?)```/g)].map((found) => found[1] as string);

describe.each(pages)('%s', (name) => {
  test('belongs to a step', () => {
    const media = manifest.contributes.walkthroughs.flatMap(({ steps }) =>
      steps.map((step) => step.media.markdown),
    );
    expect(media).toContain(`${FOLDER}/${name}`);
  });

  test('shows examples that can be read and are laid out', () => {
    for (const example of examplesIn(pageOf(name))) {
      expect(parseDocument(example).problems.map(({ message }) => message)).toEqual([]);
      expect(format(example)).toBe(example);
    }
  });
});

test('the first finding is the one that the page quotes', () => {
  const page = pageOf('finding.md');
  const errors = findingsOf(examplesIn(page)[0]!).filter(({ severity }) => severity === 'error');
  expect(errors.map(({ message }) => message)).toEqual([/^> (.*)$/m.exec(page)?.[1]]);
});

test('the bus is written without a mistake', () => {
  const errors = findingsOf(examplesIn(pageOf('bus.md'))[0]!).filter(({ severity }) => severity === 'error');
  expect(errors.map(({ message }) => message)).toEqual([]);
});

describe.each(
  manifest.contributes.walkthroughs
    .flatMap(({ steps }) => steps.map(({ media }) => media))
    .filter((media) => media.svg !== undefined),
)('$svg', ({ svg, altText }) => {
  test('is described for those who do not see it', () => {
    expect(altText).toMatch(/\.$/);
  });

  test('keeps its colours where style elements are dropped, and takes those of the theme', () => {
    const picture = readFileSync(svg!, 'utf8');
    expect(picture).not.toMatch(/<style|\bstyle=|\bclass=/);
    for (const [, colour] of picture.matchAll(/(?:fill|stroke)="([^"]*)"/g)) {
      expect(colour).toMatch(/^(none|var\(--vscode-[\w-]+, #[0-9a-f]{6}\))$/);
    }
  });
});
