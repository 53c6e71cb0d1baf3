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
  export type Expectation =
    | { type: 'literal'; text: string }
    | { type: 'character' }
    | { type: 'end' }
    | { type: 'other'; description: string };

  /** What the rule makes of the whole text, or what it was ready for where it stopped, at this many characters. */
  export function parse(text: string, rule: string): unknown | { expected: Expectation[]; offset: number };
}

/** A style sheet that a page brings: built beside its script. */
declare module '*.css';
