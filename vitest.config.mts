import { defineConfig } from 'vitest/config';
import { viteAssets } from './.build/assets.mjs';

export default defineConfig({
  plugins: [viteAssets],
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/**'],
    pool: 'threads',
    maxWorkers: 2,
    testTimeout: 20_000,
    hookTimeout: 30_000,
  },
});
