/** Random edits of texts as a person makes them, the same sequence for the same seed. */

/** Numbers from 0 to below 1, by the congruential generator of Numerical Recipes. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const TYPED = [...'xA0+/ "#={},.\n'];

/** The text after one edit; `foreign` is a text from which things are pasted. */
export function edited(text: string, foreign: string, random: () => number): string {
  const below = (count: number): number => Math.floor(random() * count);
  const at = below(text.length + 1);
  const lines = text.split('\n');
  const line = below(lines.length);
  const others = foreign.split('\n');
  switch (below(12)) {
    case 0:
      return text.slice(0, at) + text.slice(at + 1);
    case 1:
      return text.slice(0, at) + text.slice(at + 1 + below(40));
    case 2:
      return lines.filter((_, i) => i !== line).join('\n');
    case 3:
      return lines.flatMap((one, i) => (i === line ? [one, one] : [one])).join('\n');
    case 4: {
      const [moved = ''] = lines.splice(line, 1);
      lines.splice(below(lines.length + 1), 0, moved);
      return lines.join('\n');
    }
    case 5:
      lines.splice(line, 0, others[below(others.length)]!);
      return lines.join('\n');
    case 6: {
      const from = others.findIndex((one, i) => i >= below(others.length) && one.endsWith('{'));
      const to = others.indexOf('}', from);
      lines.splice(line, 0, ...others.slice(Math.max(from, 0), to + 1));
      return lines.join('\n');
    }
    case 7:
      return exchanged(text, at, random);
    default: {
      // Most edits are letters typed into or behind a word.
      const word = text.slice(at).search(/\b/);
      const place = at + Math.max(0, word);
      return text.slice(0, place) + TYPED[below(TYPED.length)]! + text.slice(place);
    }
  }
}

/** The text with the word at or behind a place exchanged for another of its words. */
function exchanged(text: string, at: number, random: () => number): string {
  const words = text.match(/[\w+./*-]+/g) ?? [];
  const other = words[Math.floor(random() * words.length)] ?? '';
  const found = /[\w+./*-]+/.exec(text.slice(at));
  if (found === null) return text;
  const from = at + found.index;
  return text.slice(0, from) + other + text.slice(from + found[0].length);
}
