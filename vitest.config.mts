import { defineConfig } from 'vitest/config';
import { viteAssets } from './.build/assets.mjs';

export default defineConfig({
  plugins: [viteAssets],
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/**'],
    pool: 'threads',
    maxWorkers: 2,
    // Generated machines and damaged texts by the thousand, on a machine that may be busy.
    testTimeout: 60_000,
    hookTimeout: 30_000,
  },
});
