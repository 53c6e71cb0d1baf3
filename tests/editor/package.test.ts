// The package that goes to people's editors.
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { languageRules } from '../../src/checks/language.ts';
import { rules } from '../../src/checks/rules.ts';
import { pack, packed } from './support/pack.ts';

/** All that anyone needs who has installed the extension. */
const NEEDED = [
  /^(?:package\.json|README\.md|CHANGELOG\.md|LICENSE)$/,
  /^dist\/(?:extension\.js|page\.(?:js|css)|tables\.json|NOTICES\.txt)$/,
  /^dist\/pages\/[\w-]+\.md$/,
  /^media\/(?!pictures\/)[\w./-]+\.(?:png|svg|md)$/,
  /^syntaxes\/[\w.-]+\.json$/,
];

const LIMIT = 600_000;

describe('the package', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'cardcage-package-'));
    await pack('.', join(folder, 'cardcage.vsix'));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it('holds what the manifest names and nothing needless', async () => {
    const files = await packed('.');
    expect(files.filter((file) => !NEEDED.some((pattern) => pattern.test(file)))).toEqual([]);
    const always = [
      'package.json',
      'README.md',
      'CHANGELOG.md',
      'LICENSE',
      'dist/tables.json',
      'dist/page.js',
      'dist/page.css',
      'dist/NOTICES.txt',
    ];
    const pages = [...rules, ...languageRules].map(({ id }) => `dist/pages/${id}.md`);
    expect(files).toEqual(expect.arrayContaining([...always, ...pages, 'dist/pages/the-language.md']));
    const named = JSON.stringify(manifest.contributes).match(/"\.\/[^"]+"/g) ?? [];
    const paths = [manifest.main, manifest.browser, ...named.map((path) => JSON.parse(path) as string)];
    expect(paths.map((path) => path.replace('./', '')).filter((path) => !files.includes(path))).toEqual([]);
  });

  it(`is smaller than ${LIMIT / 1000} kB`, async () => {
    expect((await stat(join(folder, 'cardcage.vsix'))).size).toBeLessThan(LIMIT);
  });
});
