// Holds src/ to the one-way order of its folders: a folder imports only folders before it in the list.
import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';

const LAYERS = ['language', 'knowledge', 'machine', 'analysis', 'checks', 'drawing', 'reports', 'editing'];
/** Stand on the layers, side by side; imported by nobody. */
const TOPS = ['cli', 'extension', 'webview'];
/** The extension's one bundle runs in the web host too, so Node is the command line's alone. */
const USES_NODE = ['cli'];
const USES_VSCODE = ['extension'];
/** They say the product's version. */
const READS_PACKAGE_JSON = ['cli', 'extension'];

const IMPORTS = [
  /^[ \t]*import\s+[\w$*{},\s]+?\bfrom\s*['"]([^'"\n]+)['"]/gm,
  /^[ \t]*export\s+(?:type\s+)?(?:\*(?:\s+as\s+[\w$]+)?|\{[^}]*\})\s*from\s*['"]([^'"\n]+)['"]/gm,
  /^[ \t]*import\s*['"]([^'"\n]+)['"]/gm,
  /\b(?:import|require)\s*\(\s*['"`]([^'"`\n]+)['"`]/g,
];

function importsOf(text: string): string[] {
  return IMPORTS.flatMap((pattern) => [...text.matchAll(pattern)].map((match) => match[1]!));
}

function isNode(name: string): boolean {
  return name.startsWith('node:') || builtinModules.includes(name);
}

/** What is wrong with one import of a file in `folder`, or nothing. `file` is relative to the repository. */
function problem(file: string, folder: string, name: string): string | undefined {
  if (isNode(name)) return USES_NODE.includes(folder) ? undefined : 'Node is for the command line only';
  if (name === 'vscode') return USES_VSCODE.includes(folder) ? undefined : 'vscode is for extension only';
  if (!name.startsWith('.')) return undefined;

  const target = posix.join(posix.dirname(file), name);
  if (target === 'package.json' && READS_PACKAGE_JSON.includes(folder)) return undefined;
  const [top, other] = target.split('/');
  if (top !== 'src') return 'outside src';
  if (other === folder) return undefined;
  if (TOPS.includes(other!)) return `nobody imports ${other}`;
  if (!LAYERS.includes(other!)) return `${other} is no layer`;
  if (TOPS.includes(folder)) return undefined;
  return LAYERS.indexOf(other!) < LAYERS.indexOf(folder) ? undefined : `${other} is not before ${folder}`;
}

/** All problems of one source file, each as `file: import 'name': why`. */
function problems(file: string, text: string): string[] {
  const folder = file.split('/')[1]!;
  if (![...LAYERS, ...TOPS].includes(folder)) return [`${file}: lies in no layer`];
  return importsOf(text).flatMap((name) => {
    const why = problem(file, folder, name);
    return why ? [`${file}: import '${name}': ${why}`] : [];
  });
}

function sources(): string[] {
  return readdirSync('src', { recursive: true, encoding: 'utf8' })
    .map((path) => `src/${path.replaceAll('\\', '/')}`)
    .filter((path) => /\.tsx?$/.test(path) && path !== 'src/assets.d.ts')
    .sort();
}

describe('layers', () => {
  it('every import in src goes up the list', () => {
    const files = sources();
    expect(files.length).toBeGreaterThan(0);
    expect(files.flatMap((file) => problems(file, readFileSync(file, 'utf8')))).toEqual([]);
  });

  it.each([
    [
      'src/language/parse.ts',
      "import { rails } from '../knowledge/rails.ts';",
      'knowledge is not before language',
    ],
    [
      'src/machine/nets.ts',
      "import type {\n  A,\n  B,\n} from '../checks/run.ts';",
      'checks is not before machine',
    ],
    ['src/knowledge/deep/er.ts', "export * from '../../reports/text.ts';", 'reports is not before knowledge'],
    ['src/knowledge/a.ts', "export { b, type C } from '../editing/b.ts';", 'editing is not before knowledge'],
    ['src/checks/a.ts', "const x = await import('../drawing/x.ts');", 'drawing is not before checks'],
    ['src/checks/a.ts', "type X = import('../drawing/x.ts').X;", 'drawing is not before checks'],
    ['src/extension/a.ts', "import '../cli/main.ts';", 'nobody imports cli'],
    ['src/cli/a.ts', "import { b } from '../webview/b.ts';", 'nobody imports webview'],
    ['src/editing/a.ts', "import * as vscode from 'vscode';", 'vscode is for extension only'],
    ['src/cli/a.ts', "import { Uri } from 'vscode';", 'vscode is for extension only'],
    ['src/reports/a.ts', "import { readFileSync } from 'node:fs';", 'Node is for the command line only'],
    ['src/extension/a.ts', "import fs from 'fs';", 'Node is for the command line only'],
    ['src/reports/a.ts', "import p from '../../package.json';", 'outside src'],
    ['src/machine/a.ts', "import { t } from '../../tests/t.ts';", 'outside src'],
    ['src/machine/a.ts', "import { t } from '../helpers/t.ts';", 'helpers is no layer'],
  ])('finds the fault in %s: %s', (file, text, why) => {
    expect(problems(file, `const before = 1;\n${text}\n`)).toEqual([expect.stringContaining(why)]);
  });

  it('finds a file outside the layers', () => {
    expect(problems('src/stray.ts', '')).toEqual(['src/stray.ts: lies in no layer']);
  });

  it.each([
    ['src/checks/a.ts', "import { b } from './b.ts';"],
    ['src/checks/deep/a.ts', "import { b } from '../b.ts';"],
    ['src/checks/a.ts', "import { nets } from '../machine/nets.ts';"],
    ['src/knowledge/a.ts', "import bus from './buses/s100.pinout';"],
    ['src/language/a.ts', "// import { b } from '../knowledge/b.ts';"],
    ['src/cli/a.ts', "import { readFileSync } from 'node:fs';\nimport p from '../../package.json';"],
    ['src/extension/a.ts', "import * as vscode from 'vscode';\nimport { hover } from '../editing/hover.ts';"],
    ['src/webview/a.ts', "import { bus } from '../drawing/bus.ts';"],
  ])('is silent on %s: %s', (file, text) => {
    expect(problems(file, text)).toEqual([]);
  });
});
