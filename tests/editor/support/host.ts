// The side door into the extension host: tests arrange and ask there, while hands and eyes stay in the page.
import type { Page, Worker } from 'playwright-core';
import { inTime, START_PATIENCE, until } from './waiting.ts';

export type Api = typeof import('vscode');

/** Runs `work` in the extension host. It is sent as text: it may use its two arguments, nothing else of the test file. */
export type Host = <Given, Answer>(
  work: (vscode: Api, given: Given) => Answer,
  given?: Given,
) => Promise<Awaited<Answer>>;

/** Waits for the worker in which the bridge extension runs. */
export async function findHost(page: Page): Promise<Host> {
  const worker = await until('the extension host', () => workerWithApi(page), START_PATIENCE);
  return (work, given) => {
    return inTime(worker.evaluate(script(work, given))) as Promise<never>;
  };
}

/** A call of `work` as text, for wherever the bridge runs. */
export function script(work: (vscode: Api, given: never) => unknown, given: unknown): string {
  return `(${work.toString()})(globalThis.apiForTests, ${JSON.stringify(given)})`;
}

async function workerWithApi(page: Page): Promise<Worker | undefined> {
  for (const worker of page.workers()) {
    const has = inTime(worker.evaluate('Boolean(globalThis.apiForTests)'), 2000).catch(() => false);
    if (await has) return worker;
  }
  return undefined;
}
