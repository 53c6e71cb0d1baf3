import { Project } from '../../src/editing/project.ts';
import { published } from '../../src/knowledge/published.ts';
import type { Files } from './machine.ts';

const WORKSPACE = '/machine';
export const MAIN = `${WORKSPACE}/main.pinout`;

export interface Opened {
  readonly project: Project;
  /** The file that holds the cursor, and where it stands. */
  readonly file: string;
  readonly offset: number;
  /** The texts without the cursor, by path. */
  readonly texts: ReadonlyMap<string, string>;
}

/** Files in memory, one of them with a cursor, written `|`. A lone text is `main.pinout`. */
export function opened(files: Files): Opened {
  const project = new Project(published, () => WORKSPACE);
  const texts = new Map<string, string>();
  let cursor: { file: string; offset: number } | undefined;
  for (const [name, text] of Object.entries(typeof files === 'string' ? { 'main.pinout': files } : files)) {
    const file = `${WORKSPACE}/${name}`;
    const offset = text.indexOf('|');
    const plain = offset < 0 ? text : text.slice(0, offset) + text.slice(offset + 1);
    if (offset >= 0) cursor = { file, offset };
    texts.set(file, plain);
    project.set(file, plain);
  }
  return { project, ...(cursor ?? { file: [...texts.keys()][0]!, offset: 0 }), texts };
}

/** Places of a file as they are read: `line:column text`. */
export function shown(
  text: string,
  places: Iterable<{ readonly from: number; readonly to: number }>,
): string[] {
  return [...places].map(({ from, to }) => {
    const before = text.slice(0, from).split('\n');
    return `${before.length}:${before.at(-1)!.length + 1} ${text.slice(from, to)}`;
  });
}
