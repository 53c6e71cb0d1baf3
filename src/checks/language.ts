import type { Severity } from './types.ts';

/** The language's own errors: reported by the parser and by the machine's builder, explained here. */
export interface LanguageRule {
  readonly id: string;
  readonly severity: Severity;
  readonly summary: string;
}

const error = (id: string, summary: string): LanguageRule => ({ id, severity: 'error', summary });

/** In the order in which a text meets them: lines, values, names, files. */
export const languageRules: readonly LanguageRule[] = [
  error('line-unreadable', 'a line holds something that cannot stand there'),
  error('word-unknown', 'a line begins with a word that begins no line here'),
  error('line-misplaced', 'a line belongs into another kind of block'),
  error('brace-misplaced', 'a brace is missing, one too many, or not where it belongs'),
  error('block-unclosed', 'a block is not closed'),
  error('attribute-missing', 'a line lacks something without which it says nothing'),
  error('attribute-twice', 'the same thing is said twice on one line'),
  error('unit-wrong', 'a quantity has no unit, or one that does not fit'),
  error('pasted-form', 'the text holds what other programs write when it is pasted'),
  error('range-mismatch', 'two lists differ in length, or the ends of a range do not fit'),
  error('contact-unknown', 'a connector has no such contact'),
  error('name-unknown', 'nothing in the machine has this name'),
  error('duplicate', 'the same thing is described twice'),
  error('use-missing', 'a used file or published table does not exist'),
  error('use-cycle', 'files use each other in a circle'),
  error('use-outside', 'a used file lies outside the workspace'),
  {
    id: 'allow-unused',
    severity: 'warning',
    summary: 'an `allow` line silences nothing, or names no rule',
  },
];
