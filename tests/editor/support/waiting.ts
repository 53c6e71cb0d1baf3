import { setTimeout as sleep } from 'node:timers/promises';

/** How long a test waits for one thing before it says what did not come, in milliseconds. */
export const PATIENCE = 20_000;

/** The first start has to read 40 MB of script on a machine that may be busy. */
export const START_PATIENCE = 90_000;

/**
 * Asks again and again until the answer is neither undefined nor false, and returns it.
 * Throws after `patience` milliseconds with `what` and the last answer or error.
 */
export async function until<T>(
  what: string,
  ask: () => Promise<T | undefined | false>,
  patience = PATIENCE,
): Promise<T> {
  const end = performance.now() + patience;
  let last = '';
  for (;;) {
    try {
      const answer = await inTime(ask(), Math.max(1000, end - performance.now()));
      if (answer !== undefined && answer !== false) return answer;
    } catch (error) {
      last = ` (last error: ${error instanceof Error ? error.message.split('\n')[0] : String(error)})`;
    }
    if (performance.now() > end) throw new Error(`waited ${patience / 1000} s for ${what}${last}`);
    await sleep(50);
  }
}

/** The answer, or an error once `patience` is over: a page that hangs answers nothing at all. */
export async function inTime<T>(answer: Promise<T>, patience = PATIENCE): Promise<T> {
  const stop = new AbortController();
  const late = sleep(patience, undefined, { signal: stop.signal }).then(() => {
    throw new Error(`no answer in ${(patience / 1000).toFixed(0)} s`);
  });
  late.catch(() => {});
  try {
    return await Promise.race([answer, late]);
  } finally {
    stop.abort();
  }
}
