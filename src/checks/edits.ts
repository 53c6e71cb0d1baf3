import type { Source } from '../machine/types.ts';
import type { Edit } from './types.ts';

/** The edit that is one place with another text. */
export const replacing = (title: string, source: Source, text: string): Edit => ({
  title,
  changes: [{ kind: 'replace', source, text }],
  preferred: true,
});
