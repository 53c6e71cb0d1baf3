import type { Form } from './forms.ts';
import { examples } from './units.ts';

/** What the grammar was ready for, as its parser reports it. */
export interface Expectation {
  readonly type: string;
  readonly text?: string;
  readonly description?: string;
}

/** A list as it is spoken: `a, b or c`. */
export function spoken(list: readonly string[], last = 'or'): string {
  if (list.length < 2) return list.join('');
  return `${list.slice(0, -1).join(', ')} ${last} ${list.at(-1)}`;
}

export const code = (text: string): string => `\`${text}\``;

/**
 * What could stand here, in the trade's words, each once, as messages and completion show it: words of the
 * language in back-ticks, kinds of value in plain words.
 */
export function expectedWords(form: Form, expected: readonly Expectation[]): string[] {
  const words = new Set<string>();
  for (const one of expected) {
    if (one.type === 'literal') {
      if (one.text) words.add(code(one.text));
    } else if (one.type === 'other' && one.description === 'quantity') {
      for (const dimension of form.bare ?? []) words.add(`${dimension} such as ${examples[dimension]}`);
      if (!form.bare) words.add('a quantity with its unit');
    } else if (one.type === 'other' && one.description !== 'space') {
      words.add(one.description as string);
    }
  }
  const end = words.delete('end of line');
  return end ? [...words, 'end of line'] : [...words];
}

/** The word at an offset, for "found …". */
export function wordAt(text: string, offset: number): string {
  const rest = text.slice(offset);
  const found = /^(?:"[^"]*"?|[^\s,"]+|,)/.exec(rest);
  return found ? found[0] : '';
}

/** `found X, expected A or B`. */
export function foundExpected(found: string, expected: readonly string[]): string {
  const what = found === '' ? 'the line ends' : `found ${code(found)}`;
  return `${what}, expected ${spoken(expected)}`;
}

/** The candidate nearest to a mistyped word: one letter more, less, other, or two exchanged. */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  for (const candidate of candidates) if (within(word, candidate)) return candidate;
  return undefined;
}

/** Whether two words differ by at most one slip of the hand. Linear in their length. */
function within(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false;
  let i = 0;
  while (i < a.length && i < b.length && a[i] === b[i]) i++;
  const rest = (x: string, from: number): string => x.slice(from);
  return (
    rest(a, i + 1) === rest(b, i + 1) ||
    rest(a, i) === rest(b, i + 1) ||
    rest(a, i + 1) === rest(b, i) ||
    (a[i] === b[i + 1] && a[i + 1] === b[i] && rest(a, i + 2) === rest(b, i + 2))
  );
}
