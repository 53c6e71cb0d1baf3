import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { forms } from '../../../src/language/forms.ts';
import { meanings } from '../../../src/language/words.ts';

/** The words that the grammar keeps for itself. */
function reserved(): string[] {
  const grammar = readFileSync('src/language/pinout.peggy', 'utf8');
  const set = /reserved = new Set\(([\s\S]*?)\.split/.exec(grammar)![1]!;
  return [...set.matchAll(/'([^']*)'/g)].flatMap((part) => part[1]!.trim().split(/\s+/));
}

it('explains every word of the language, by its line form or by itself', () => {
  const first = new Set(forms.map(({ word }) => word));
  expect(reserved().length).toBeGreaterThan(100);
  expect(reserved().filter((word) => !first.has(word) && !meanings.has(word))).toEqual([]);
});

it('explains no word that the language has not', () => {
  const grammar = readFileSync('src/language/pinout.peggy', 'utf8');
  expect(
    [...meanings.keys()].filter((word) => !grammar.includes(`"${word}"`) && !reserved().includes(word)),
  ).toEqual([]);
});
