import type { Severity } from './types.ts';

/** The language's own errors: reported by the parser and by the machine's builder, explained here. */
export interface LanguageRule {
  readonly id: string;
  readonly severity: Severity;
  readonly summary: string;
}

export const languageRules: readonly LanguageRule[] = [];
