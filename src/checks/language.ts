import allowUnused from './allow-unused.md';
import attributeMissing from './attribute-missing.md';
import attributeTwice from './attribute-twice.md';
import blockUnclosed from './block-unclosed.md';
import braceMisplaced from './brace-misplaced.md';
import contactUnknown from './contact-unknown.md';
import duplicate from './duplicate.md';
import lineMisplaced from './line-misplaced.md';
import lineUnreadable from './line-unreadable.md';
import nameUnknown from './name-unknown.md';
import pastedForm from './pasted-form.md';
import rangeMismatch from './range-mismatch.md';
import type { Severity } from './types.ts';
import unitWrong from './unit-wrong.md';
import useCycle from './use-cycle.md';
import useMissing from './use-missing.md';
import useOutside from './use-outside.md';
import wordUnknown from './word-unknown.md';

/** The language's own errors: reported by the parser and by the machine's builder, explained here. */
export interface LanguageRule {
  readonly id: string;
  readonly severity: Severity;
  readonly summary: string;
  /** The page of explanation, Markdown. */
  readonly page: string;
}

const error = (id: string, summary: string, page: string): LanguageRule => ({
  id,
  severity: 'error',
  summary,
  page,
});

/** In the order in which a text meets them: lines, values, names, files. */
export const languageRules: readonly LanguageRule[] = [
  error('line-unreadable', 'a line holds something that cannot stand there', lineUnreadable),
  error('word-unknown', 'a line begins with a word that begins no line here', wordUnknown),
  error('line-misplaced', 'a line belongs into another kind of block', lineMisplaced),
  error('brace-misplaced', 'a brace is missing, one too many, or not where it belongs', braceMisplaced),
  error('block-unclosed', 'a block is not closed', blockUnclosed),
  error('attribute-missing', 'a line lacks something without which it says nothing', attributeMissing),
  error('attribute-twice', 'the same thing is said twice on one line', attributeTwice),
  error('unit-wrong', 'a quantity has no unit, or one that does not fit', unitWrong),
  error('pasted-form', 'the text holds what other programs write when it is pasted', pastedForm),
  error('range-mismatch', 'two lists differ in length, or the ends of a range do not fit', rangeMismatch),
  error('contact-unknown', 'a connector has no such contact', contactUnknown),
  error('name-unknown', 'nothing in the machine has this name', nameUnknown),
  error('duplicate', 'the same thing is described twice', duplicate),
  error('use-missing', 'a used file or published table does not exist', useMissing),
  error('use-cycle', 'files use each other in a circle', useCycle),
  error('use-outside', 'a used file lies outside the workspace', useOutside),
  {
    id: 'allow-unused',
    severity: 'warning',
    summary: 'an `allow` line silences nothing, or names no rule',
    page: allowUnused,
  },
];
