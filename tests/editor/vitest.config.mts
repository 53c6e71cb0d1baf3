import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** The suites that drive the real editor: one after the other, since each has a browser of its own. */
export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    include: ['tests/editor/*.test.ts'],
    globalSetup: ['tests/editor/support/setup.ts'],
    pool: 'forks',
    fileParallelism: false,
    testTimeout: 90_000,
    expect: { poll: { timeout: 20_000, interval: 50 } },
    hookTimeout: 180_000,
    teardownTimeout: 30_000,
  },
});
