// node .build/build.mjs         builds dist/cli.js
// node .build/build.mjs bench   builds tests/bench/bench.ts into dist/bench.js and runs it
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { esbuildAssets } from './assets.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '..');
process.chdir(root);

/** Bundles for Node. CommonJS, because Node starts it faster than an ES module of the same content. */
async function bundle(from, to) {
  if (!existsSync(from)) stop(`there is no ${from}`);
  mkdirSync('dist', { recursive: true });
  writeFileSync('dist/package.json', '{ "type": "commonjs" }\n');
  try {
    await build({
      entryPoints: [from],
      outfile: to,
      bundle: true,
      platform: 'node',
      target: 'node20',
      format: 'cjs',
      minify: true,
      sourcemap: 'linked',
      legalComments: 'none',
      banner: { js: '#!/usr/bin/env node' },
      plugins: [esbuildAssets],
      logLevel: 'warning',
    });
  } catch (error) {
    // esbuild has printed what is wrong with the sources; anything else is ours to say.
    stop(error.errors ? `${from} does not build` : String(error.stack ?? error));
  }
  chmodSync(to, 0o755);
}

function stop(message) {
  console.error(`build: ${message}`);
  process.exit(1);
}

const [what, ...rest] = process.argv.slice(2);
if (what === undefined) {
  await bundle('src/cli/main.ts', 'dist/cli.js');
} else if (what === 'bench') {
  await bundle('tests/bench/bench.ts', 'dist/bench.js');
  const run = spawnSync(process.execPath, ['--expose-gc', 'dist/bench.js', ...rest], { stdio: 'inherit' });
  process.exit(run.status ?? 1);
} else {
  stop(`unknown argument ${what}`);
}
