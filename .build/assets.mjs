// What can be imported besides TypeScript: a grammar (compiled) and a text (as its string).
// One set of transforms, so that what the tests run is what the bundles hold.
import { readFile } from 'node:fs/promises';
import { parserModule } from './parser.mjs';

const GRAMMAR = /\.peggy$/;
const TEXT = /\.(?:md|pinout)$/;

/** Any text → JavaScript module that exports it as default. */
function textModule(text) {
  return `export default ${JSON.stringify(text)};\n`;
}

/** Says a grammar's error the way a compiler does: path, line, column, what is wrong. */
function describe(error, path) {
  const start = error.location?.start;
  const place = start ? `${path}:${start.line}:${start.column}` : path;
  return `${place}: ${error.message}`;
}

export const esbuildAssets = {
  name: 'assets',
  setup(build) {
    build.onLoad({ filter: TEXT }, async ({ path }) => ({
      contents: textModule(await readFile(path, 'utf8')),
      loader: 'js',
    }));
    build.onLoad({ filter: GRAMMAR }, async ({ path }) => {
      try {
        return { contents: parserModule(await readFile(path, 'utf8'), path), loader: 'js' };
      } catch (error) {
        return { errors: [{ text: describe(error, path) }] };
      }
    });
  },
};

export const viteAssets = {
  name: 'assets',
  enforce: 'pre',
  async load(id) {
    if (TEXT.test(id)) return { code: textModule(await readFile(id, 'utf8')), map: null };
    if (!GRAMMAR.test(id)) return null;
    try {
      return { code: parserModule(await readFile(id, 'utf8'), id), map: null };
    } catch (error) {
      throw new Error(describe(error, id));
    }
  },
};
