import type { Finding } from './types.ts';

/** The findings of several machines, each once: what lies in a file that several of them use is found in each. */
export function merged(lists: Iterable<readonly Finding[]>): Finding[] {
  const found = new Map<string, Finding>();
  for (const list of lists) {
    for (const finding of list) {
      const key = identityOf(finding).join('\n');
      if (!found.has(key)) found.set(key, finding);
    }
  }
  return [...found.values()];
}

/** What tells a finding apart from others, in whatever machine it is found. */
export const identityOf = ({ rule, message, source: { file, from, to } }: Finding): (string | number)[] => [
  rule,
  file,
  from,
  to,
  message,
];
