// The parser that .build/parser.mjs writes, held to the one that Peggy itself makes of the same grammar.
import { readFileSync } from 'node:fs';
import peggy from 'peggy';
import { expect, it } from 'vitest';
import { parserModule } from '../../../.build/parser.mjs';
import { forms } from '../../../src/language/forms.ts';

type Parse = (text: string, rule: string) => unknown;
interface Expected {
  readonly type: string;
  readonly text?: string;
  readonly description?: string;
}

/** What was expected, as far as a message says it: words, and names of kinds. */
const spoken = (expected: readonly Expected[]) =>
  expected.flatMap(({ type, text, description }) => (type === 'end' ? type : (text ?? description ?? [])));

async function ours(grammar: string): Promise<Parse> {
  const code = parserModule(grammar, 'a grammar');
  const module = await import(/* @vite-ignore */ `data:text/javascript,${encodeURIComponent(code)}`);
  return (text, rule) => {
    const result = module.parse(text, rule);
    return result?.expected ? { expected: spoken(result.expected), offset: result.offset } : result;
  };
}

function theirs(grammar: string): Parse {
  const starts = [...grammar.matchAll(/^[a-z]+(?= = )/gm)].map(([name]) => name);
  const parser = peggy.generate(grammar, { allowedStartRules: starts });
  return (text, rule) => {
    try {
      return parser.parse(text, { startRule: rule });
    } catch (error) {
      const { expected, location } = error as InstanceType<typeof parser.SyntaxError>;
      return { expected: spoken(expected as Expected[]), offset: location.start.offset };
    }
  };
}

it('reads every line form as Peggy does, whole, cut off and with a character too few or too many', async () => {
  const grammar = readFileSync('src/language/pinout.peggy', 'utf8');
  const [read, reference] = [await ours(grammar), theirs(grammar)];
  const told = forms.filter(({ example }) => example !== '');
  expect(told.length).toBeGreaterThan(50);
  for (const { id, example } of told) {
    const texts = [example];
    for (let at = 0; at <= example.length; at++) {
      const [before, after] = [example.slice(0, at), example.slice(at)];
      texts.push(before, before + after.slice(1));
      for (const more of [' ', '"', ',', '..', '7', 'Ω', '😀']) texts.push(before + more + after);
    }
    for (const text of texts)
      expect({ text, ...(read(text, id) as object) }).toEqual({ text, ...(reference(text, id) as object) });
  }
});

it.each(['a = "x"i', 'a = "x"|2..3|', 'a = @"x" @"y"'])('refuses what it cannot write: %s', (grammar) => {
  expect(() => parserModule(grammar, 'a grammar')).toThrow('does not know this form');
});
