// Runs the tests of tests/editor/host/ in a host and shows each of them as a test of its own.
import { resolve } from 'node:path';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import { esbuildAssets } from '../../../.build/assets.mjs';
import { hostTests } from '../host/tests.ts';

/** Stands before the results where a host prints them. */
export const MARK = 'host tests: ';

/** By the test's name: `passed`, or what went wrong. */
export type Results = Record<string, string>;

/** Registers all host tests. `run` runs them in the host called `where`; with `missing`, they are skipped for that reason. */
export function hostSuite(where: string, run: () => Promise<Results>, missing?: string): void {
  if (missing) console.warn(`${where}: skipped, because ${missing}`);
  describe.skipIf(missing)(where, () => {
    let results: Results = {};
    beforeAll(async () => {
      results = await run();
    }, 300_000);
    it.each(hostTests.map(({ name }) => name))('%s', (name) => {
      expect(results[name]).toBe('passed');
    });
  });
}

/** Bundles the tests for an extension host; the path of the bundle. It has to lie below the extension. */
export async function bundleHostTests(): Promise<string> {
  const outfile = resolve('tests/output/host/run.js');
  await build({
    entryPoints: ['tests/editor/host/run.ts'],
    outfile,
    bundle: true,
    format: 'cjs',
    platform: 'browser',
    target: 'es2022',
    external: ['vscode'],
    plugins: [esbuildAssets],
    logLevel: 'warning',
  });
  return outfile;
}
