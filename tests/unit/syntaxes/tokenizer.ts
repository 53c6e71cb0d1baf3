import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createOnigScanner, createOnigString, loadWASM } from 'vscode-oniguruma';
import { INITIAL, type IRawGrammar, Registry } from 'vscode-textmate';

/** One token: its text, and its scopes without `source.pinout` and without the language's name at their ends. */
export interface Token {
  readonly text: string;
  readonly scopes: readonly string[];
  /** Columns, from 0; `end` is one past the last. */
  readonly start: number;
  readonly end: number;
}

const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');

/** The tokenizer that VS Code itself uses, with the grammar as it ships: text → tokens, line by line. */
export async function tokenizer(): Promise<(text: string) => Token[][]> {
  await loadWASM(readFileSync(wasm));
  const registry = new Registry({
    onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
    loadGrammar: async () =>
      JSON.parse(readFileSync('syntaxes/pinout.tmLanguage.json', 'utf8')) as IRawGrammar,
  });
  const grammar = await registry.loadGrammar('source.pinout');
  if (grammar === null) throw new Error('the grammar does not load');
  return (text) => {
    let stack = INITIAL;
    return text.split(/\r?\n/).map((line) => {
      const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
      stack = ruleStack;
      return tokens
        .map(({ startIndex, endIndex, scopes }) => ({
          text: line.slice(startIndex, endIndex),
          start: startIndex,
          end: Math.min(endIndex, line.length),
          scopes: scopes.slice(1).map((scope) => scope.replace(/\.pinout$/, '')),
        }))
        .filter((token) => token.text.trim() !== '');
    });
  };
}
