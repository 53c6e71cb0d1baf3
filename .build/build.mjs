// node .build/build.mjs         builds dist/cli.js, dist/extension.js and the files it reads
// node .build/build.mjs bench   builds tests/bench/bench.ts into dist/bench.js and runs it
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { minify } from '@swc/core';
import { build } from 'esbuild';
import { esbuildAssets } from './assets.mjs';
import { noticesOf } from './notices.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '..');
process.chdir(root);

/** What all bundles share. CommonJS, because Node starts it faster than an ES module of the same content. */
const COMMON = {
  bundle: true,
  format: 'cjs',
  minify: true,
  sourcemap: 'linked',
  legalComments: 'none',
  charset: 'utf8',
  plugins: [esbuildAssets],
  logLevel: 'warning',
  metafile: true,
};

/** A command for Node. */
async function command(from, to) {
  await bundle(from, to, {
    platform: 'node',
    target: 'node20',
    mainFields: ['module', 'main'],
    banner: { js: '#!/usr/bin/env node' },
  });
  chmodSync(to, 0o755);
}

/**
 * The one extension for the desktop and for the browser: no Node API in it, `vscode` given by the host. It is loaded
 * whole each time an editor starts, so what esbuild leaves is made a few per cent smaller still.
 */
async function extension() {
  const to = 'dist/extension.js';
  const metafile = await bundle('src/extension/main.ts', to, {
    platform: 'browser',
    target: 'es2022',
    external: ['vscode'],
  });
  const { code, map } = await minify(readFileSync(to, 'utf8'), {
    ecma: 2022,
    module: false,
    // Arrows for functions that use neither `this` nor `arguments`; no code of ours makes objects of such a function.
    compress: { ecma: 2022, passes: 3, toplevel: true, unsafe_arrows: true },
    mangle: { toplevel: true },
    sourceMap: { content: readFileSync(`${to}.map`, 'utf8') },
  });
  writeFileSync(to, `${code}\n//# sourceMappingURL=extension.js.map\n`);
  writeFileSync(`${to}.map`, map);
  return metafile;
}

/** What runs in the page of a drawing: script and style sheet. */
async function page() {
  return bundle('src/webview/main.ts', 'dist/page.js', {
    platform: 'browser',
    format: 'iife',
    target: 'chrome120',
    // Taken as a package that nobody has run yet, so that what is not used of it is left out.
    plugins: [esbuildAssets, unused],
  });
}

/**
 * The toolkit's packages say that they have no side effects in a field that esbuild reads only of what it resolves
 * itself; each file that a plugin hands on has to say it again.
 */
const unused = {
  name: 'unused',
  setup(build) {
    build.onResolve({ filter: /^(@vscode\/webview-ui-toolkit|@microsoft\/fast-)|^\./ }, async (args) => {
      if (args.pluginData === unused) return undefined;
      if (
        !/node_modules\/(@vscode\/webview-ui-toolkit|@microsoft\/fast-)/.test(args.importer) &&
        args.path.startsWith('.')
      )
        return undefined;
      const { path, ...rest } = args;
      const found = await build.resolve(path, { ...rest, pluginData: unused });
      return found.errors.length > 0 ? found : { path: found.path, sideEffects: false };
    });
  },
};

/** What the extension reads as files: the explanation of each rule, the language reference, the published tables. */
function files() {
  rmSync('dist/pages', { recursive: true, force: true });
  mkdirSync('dist/pages', { recursive: true });
  for (const file of readdirSync('src/checks').filter((name) => name.endsWith('.md')))
    copyFileSync(`src/checks/${file}`, `dist/pages/${file}`);
  copyFileSync('src/language/reference.md', 'dist/pages/the-language.md');
  const buses = 'src/knowledge/buses';
  const tables = readdirSync(buses).map((file) => [
    file.replace(/\.pinout$/, ''),
    readFileSync(`${buses}/${file}`, 'utf8'),
  ]);
  writeFileSync('dist/tables.json', JSON.stringify(Object.fromEntries(tables)));
}

async function bundle(from, to, options) {
  if (!existsSync(from)) stop(`there is no ${from}`);
  mkdirSync('dist', { recursive: true });
  try {
    const { metafile } = await build({ ...COMMON, ...options, entryPoints: [from], outfile: to });
    return metafile;
  } catch (error) {
    // esbuild has printed what is wrong with the sources; anything else is ours to say.
    stop(error.errors ? `${from} does not build` : String(error.stack ?? error));
  }
}

function stop(message) {
  console.error(`build: ${message}`);
  process.exit(1);
}

const [what, ...rest] = process.argv.slice(2);
if (what === undefined) {
  files();
  const [, ...shipped] = await Promise.all([command('src/cli/main.ts', 'dist/cli.js'), extension(), page()]);
  writeFileSync('dist/NOTICES.txt', noticesOf(shipped));
} else if (what === 'bench') {
  await command('tests/bench/bench.ts', 'dist/bench.js');
  const run = spawnSync(process.execPath, ['--expose-gc', 'dist/bench.js', ...rest], { stdio: 'inherit' });
  process.exit(run.status ?? 1);
} else {
  stop(`unknown argument ${what}`);
}
