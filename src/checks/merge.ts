import type { Finding } from './types.ts';

/** The findings of several machines, each once: what lies in a file that several of them use is found in each. */
export function merged(lists: Iterable<readonly Finding[]>): Finding[] {
  const found = new Map<string, Finding>();
  for (const list of lists) {
    for (const finding of list) {
      const { rule, message, source } = finding;
      const key = [rule, source.file, source.from, source.to, message].join('\n');
      if (!found.has(key)) found.set(key, finding);
    }
  }
  return [...found.values()];
}
