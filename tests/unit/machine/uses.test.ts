import { expect, test } from 'vitest';
import { rootsByFile } from '../../../src/machine/uses.ts';

/** Files of `/w` and what they use, each with the roots that are expected. */
const cases: Record<string, Record<string, [uses: string[], roots: string[]]>> = {
  'files that use nothing are machines of their own': { a: [[], ['a']], b: [[], ['b']] },
  'what is used belongs to all that reach it': {
    a: [['bus'], ['a']],
    bus: [['table'], ['a', 'z']],
    table: [[], ['a', 'z']],
    z: [['bus'], ['z']],
  },
  'of a circle the first is the root': { a: [['b'], ['a']], b: [['c'], ['a']], c: [['a'], ['a']] },
  'a circle stays beside a machine': { a: [[], ['a']], b: [['c'], ['b']], c: [['b'], ['b']] },
  'a file that uses itself': { a: [['a'], ['a']] },
  'what lies out of the workspace is brought in by nobody': {
    'sub/a': [['../b', 'c'], ['sub/a']],
    b: [[], ['b']],
    'sub/c': [[], ['sub/a']],
  },
};

test.each(Object.entries(cases))('%s', (_, files) => {
  const path = (name: string): string => `/w/${name}`;
  const folderOf = (file: string): string => file.slice(0, file.lastIndexOf('/'));
  const uses = new Map(Object.entries(files).map(([name, [its]]) => [path(name), its]));
  const found = rootsByFile(uses, folderOf);
  for (const [name, [, roots]] of Object.entries(files))
    expect(found.get(path(name)), name).toEqual(roots.map(path));
});
