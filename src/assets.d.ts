// Types of what .build/assets.mjs makes importable.

declare module '*.md' {
  const text: string;
  export default text;
}

declare module '*.pinout' {
  const text: string;
  export default text;
}

declare module '*.peggy' {
  export interface Position {
    /** Characters before it, from 0. */
    offset: number;
    /** From 1. */
    line: number;
    /** From 1. */
    column: number;
  }

  export interface LocationRange {
    source: unknown;
    start: Position;
    end: Position;
  }

  export type Expectation =
    | { type: 'literal'; text: string; ignoreCase: boolean }
    | { type: 'class'; parts: (string | [string, string])[]; inverted: boolean; ignoreCase: boolean }
    | { type: 'any' }
    | { type: 'end' }
    | { type: 'other'; description: string };

  /** Throws `SyntaxError` of this module when the text is not of the start rule. */
  export function parse(text: string, options?: { startRule?: string; [option: string]: unknown }): unknown;

  // biome-ignore lint/suspicious/noShadowRestrictedNames: Peggy exports it under this name.
  export class SyntaxError extends globalThis.SyntaxError {
    expected: Expectation[] | null;
    found: string | null;
    location: LocationRange;
  }
}
