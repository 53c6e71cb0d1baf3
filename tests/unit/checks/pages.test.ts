import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { languageRules } from '../../../src/checks/language.ts';
import { pages } from '../../../src/checks/pages.ts';
import { rules } from '../../../src/checks/rules.ts';
import { findingsOf } from '../../support/machine.ts';

const BLOCK = /```pinout\n([\s\S]*?)```/g;
const explained = [...rules, ...languageRules];
const OF_LANGUAGE = new Set(languageRules.map(({ id }) => id));

describe('pages of explanation', () => {
  test.each(explained.map((rule) => [rule.id, rule] as const))(
    '%s: its example fires, mended it does not',
    (id, rule) => {
      const page = pages.get(id)!;
      const [fires, mended] = [...page.matchAll(BLOCK)].map((found) => found[1] as string);
      expect(page.startsWith(`# ${id}\n`), 'starts with its id').toBe(true);
      expect(page, 'names its source').toContain('## Source');
      const found = findingsOf(fires as string);
      expect(found.map((finding) => finding.rule)).toContain(id);
      expect(found.filter((finding) => finding.rule === id).map((finding) => finding.severity)).toContain(
        rule.severity,
      );
      const unread = found.filter((finding) => finding.severity === 'error' && OF_LANGUAGE.has(finding.rule));
      if (!OF_LANGUAGE.has(id)) expect(unread.map(({ message }) => message)).toEqual([]);
      const after = findingsOf(mended as string);
      expect(after.filter((finding) => finding.rule === id).map((finding) => finding.message)).toEqual([]);
      expect(
        after
          .filter((finding) => ['error', 'warning'].includes(finding.severity))
          .map((f) => `${f.rule} ${f.message}`),
      ).toEqual([]);
    },
  );
});

test('there is a page for each rule and none besides', () => {
  expect([...pages.keys()].sort()).toEqual(explained.map(({ id }) => id).sort());
});

// ---- every id that the source reports is explained ----

const ID = /'([a-z]+(?:-[a-z]+)*)'/g;

/** Where the source names a rule: `rule: 'x'`, `const rule = … ? 'x' : 'y'`, `problems.add('x'`. */
const NAMED = /\brule\s*(?::|=(?![=>]))[^;,\n]*|\bproblems\.add\(\s*'[a-z-]+'/g;

/** `this.report(place, 'x', …`: the id is the argument behind the place; a message has spaces in it. */
const REPORTED = /\.report\(([\s\S]*?)\);/g;

function idsIn(source: string): string[] {
  const text = source.replaceAll(/[!=]== '[^']*'/g, '');
  const ids = (part: string): string[] => [...part.matchAll(ID)].map((found) => found[1] as string);
  const reported = [...text.matchAll(REPORTED)].flatMap((found) => ids(found[1] as string).slice(0, 1));
  return [...[...text.matchAll(NAMED)].flatMap((found) => ids(found[0])), ...reported];
}

const sources = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .map((path) => path.replaceAll('\\', '/'))
  .filter((path) => /^(?:language|machine|checks)\/.*\.ts$/.test(path) && path !== 'checks/language.ts');

describe('rule ids', () => {
  const known = new Set(explained.map(({ id }) => id));
  const reported = new Map(sources.map((path) => [path, idsIn(readFileSync(`src/${path}`, 'utf8'))]));

  test('every id that the source reports is in one of the two tables', () => {
    const strangers = [...reported].flatMap(([path, ids]) =>
      ids.filter((id) => !known.has(id)).map((id) => `${path}: ${id}`),
    );
    expect(strangers).toEqual([]);
  });

  test("every one of the language's own is reported somewhere", () => {
    const all = new Set([...reported.values()].flat());
    expect(languageRules.map(({ id }) => id).filter((id) => !all.has(id))).toEqual([]);
  });

  test('no id is in the tables twice', () => {
    expect(known.size).toBe(explained.length);
  });

  test.each([
    ["problems.add(\n  'name-unknown',\n  source", ['name-unknown']],
    ["return { rule: 'unit-wrong', from: at.from };", ['unit-wrong']],
    ["const rule = a ? 'line-misplaced' : 'word-unknown';", ['line-misplaced', 'word-unknown']],
    ["this.report(\n  { from, to },\n  'brace-misplaced',\n  'found it',\n);", ['brace-misplaced']],
    ["rule: rule?.kind === 'word' ? rule.text : '',", []],
  ])('are found in %j', (text, ids) => {
    expect(idsIn(text)).toEqual(ids);
  });
});
