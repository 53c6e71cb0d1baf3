import { readdirSync, readFileSync } from 'node:fs';
import type { MarksShown } from '../../src/drawing/bus-layout.ts';
import type { Wanted } from '../../src/drawing/to-host.ts';
import { drawingOf, menuOf } from '../../src/editing/drawings/drawing.ts';
import type { Analysis } from '../../src/editing/project.ts';
import { FRESH, type State } from '../../src/webview/state.ts';
import { opened } from './project.ts';

/** The machines of the examples, each by the name of its file. */
export const EXAMPLES: readonly string[] = ['as-found', 'tide-gauge', 's100', 'vme', 'isa'];

const FOLDERS = ['tide-gauge', 's100', 'vme', 'isa'].map((one) => `examples/${one}`);

/** All files of the examples in one workspace. */
export function example(name: string): Analysis {
  const files = FOLDERS.flatMap((folder) =>
    readdirSync(folder).map((file) => [file, `${folder}/${file}`] as const),
  );
  const { project } = opened(
    Object.fromEntries(files.map(([file, path]) => [file, readFileSync(path, 'utf8')])),
  );
  return project.analysis(`/machine/${name}.pinout`)!;
}

/** All drawings of a machine, by the names that choose them. */
export const wantedOf = ({ view }: Analysis): Wanted[] =>
  Object.entries(menuOf(view)).flatMap(([kind, names]) =>
    names.map((of) => ({ view: kind as Wanted['view'], of })),
  );

export const drawingIn = ({ view, findings }: Analysis, wanted: Wanted) => drawingOf(view, findings, wanted)!;

/** How a page may be asked to show a drawing. */
export const looks: readonly State[] = (['role', 'evidence', 'current', 'readings'] satisfies MarksShown[])
  .map((marks): State => ({ ...FRESH, marks }))
  .concat({ ...FRESH, side: 'wiring' }, { ...FRESH, scale: '1:1' });
