import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { forms } from '../../../src/language/forms.ts';
import { units } from '../../../src/language/units.ts';
import { coloured, grammar } from '../../../syntaxes/grammar.ts';
import { type Token, tokenizer } from './tokenizer.ts';

const PATH = 'syntaxes/pinout.tmLanguage.json';

/** Every word that the language's grammar spells out; a text behind a rule's name is not one of them. */
const words = new Set(
  [
    ...readFileSync('src/language/pinout.peggy', 'utf8').matchAll(/(?<=[ (/$=:]\$?)"([a-z][a-z-]*)"(?! =)/g),
  ].map((found) => found[1] as string),
);
const COLOURED = /^(keyword\.(control|other)|storage\.modifier|constant\.language|support\.constant)/;
const innermost = (token: Token): string => token.scopes.at(-1) ?? '';
/** Text and remarks hold any word; `edge` is also a part of a place, such as GAUGE.edge.19. */
const isWordOfTheLanguage = (token: Token): boolean =>
  words.has(token.text) &&
  !token.scopes.some((scope) => /^(string|comment)/.test(scope)) &&
  !(token.text === 'edge' && /place|contact/.test(innermost(token)));

let tokenize: (text: string) => Token[][];
beforeAll(async () => {
  const wanted = `${JSON.stringify(grammar, null, 2)}\n`;
  if (process.env.UPDATE) writeFileSync(PATH, wanted);
  tokenize = await tokenizer();
});

test('the grammar that ships is the one grammar.ts makes; UPDATE=1 writes it anew', () => {
  expect(JSON.parse(readFileSync(PATH, 'utf8'))).toEqual(grammar);
});

describe('every word of the language is coloured', () => {
  test('the lists hold the words of the language and no others', () => {
    expect([...coloured].sort()).toEqual([...words].sort());
  });

  test.each(forms.map((form) => [form.example, form.word] as const))('in %s', (example, first) => {
    const [tokens = []] = tokenize(example);
    if (first !== '=') expect(innermost(tokens[0]!)).toMatch(/^keyword\.control/);
    for (const token of tokens.filter(isWordOfTheLanguage))
      expect(innermost(token), token.text).toMatch(COLOURED);
  });

  test.each([...units.keys()])('and so is the unit in `rail X 2 %s`', (unit) => {
    const [tokens = []] = tokenize(`rail X 2 ${unit}`);
    expect(tokens.slice(-2).map(innermost)).toEqual(['constant.numeric.quantity', 'keyword.other.unit']);
  });
});

const [, ...texts] = readFileSync('tests/unit/syntaxes/colours.txt', 'utf8').split('\n\n');
const MARK = /^( *)(\^+) (\S+)$/;

test.each(texts.map((text) => [text.split('\n')[0] as string, text] as const))('%s', (_, text) => {
  const lines = text.trimEnd().split('\n');
  const tokens = tokenize(lines.filter((line) => !MARK.test(line)).join('\n'));
  let at = -1;
  let marks = 0;
  for (const line of lines) {
    const [, space = '', carets = '', scope = ''] = MARK.exec(line) ?? [];
    if (scope === '') {
      at += 1;
      continue;
    }
    const [start, end] = [space.length, space.length + carets.length];
    const found = tokens[at]!.filter((token) => token.start < end && token.end > start);
    expect(
      found.map((token) => [token.text.trim(), innermost(token)]),
      line,
    ).toEqual(found.map((token) => [token.text.trim(), scope]));
    expect([found[0]?.start, found.at(-1)?.end], line).toEqual([start, end]);
    marks += 1;
  }
  expect(marks).toBeGreaterThan(0);
});

const examples = readdirSync('examples', { recursive: true, encoding: 'utf8' }).filter((path) =>
  path.endsWith('.pinout'),
);

describe.each(examples)('%s', (path) => {
  const text = readFileSync(`examples/${path}`, 'utf8');

  test('has no word without a colour and no colour that says illegal', () => {
    const all = tokenize(text).flat();
    expect(all.filter(isWordOfTheLanguage).filter((token) => !COLOURED.test(innermost(token)))).toEqual([]);
    expect(all.filter((token) => innermost(token).startsWith('invalid'))).toEqual([]);
    expect(all.filter((token) => token.scopes.length === 0)).toEqual([]);
  });

  test('no line takes more than 5 ms', () => {
    tokenize(text); // the first time, regular expressions are compiled
    for (const line of text.split('\n'))
      expect(
        fastest(() => tokenize(line)),
        line,
      ).toBeLessThan(5);
  });
});

test.each([
  ['names', `receives ${'D0..D7, '.repeat(400)}`],
  ['quotes', '"'.repeat(3_001)],
  ['number signs', `x${' x#'.repeat(1_000)}`],
  ['digits', `rail X ${'9'.repeat(3_000)}`],
  ['dots', `1${'.1'.repeat(1_500)} to`],
  ['spaces', `key between${' '.repeat(3_000)}x`],
])('a line of 3,000 characters of %s is coloured in time', (_, line) => {
  tokenize(line);
  expect(fastest(() => tokenize(line))).toBeLessThan(200);
});

/** The shortest of three runs, in ms: what the work takes when nothing else has the processor. */
function fastest(work: () => void): number {
  const runs = [1, 2, 3].map(() => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return Math.min(...runs);
}
