// The extension host of a browser.
import { inject } from 'vitest';
import { open, serve } from './support/editor.ts';
import { bundleHostTests, hostSuite, MARK, type Results } from './support/host-tests.ts';
import { inTime } from './support/waiting.ts';

const chromium = inject('chromium');
hostSuite('web host', runInWebHost, 'missing' in chromium ? chromium.missing : undefined);

/** The page hands what the tests print, and their end, to two functions that it expects to be there. */
async function runInWebHost(): Promise<Results> {
  if ('missing' in chromium) throw new Error(chromium.missing);
  const printed: string[] = [];
  let end = () => {};
  const ended = new Promise<void>((done) => {
    end = done;
  });
  const server = await serve({}, { testsPath: await bundleHostTests() });
  const opened = await open(chromium.path, server, {}, async (page) => {
    await page.exposeFunction('codeAutomationLog', (_: string, said: unknown[]) =>
      printed.push(said.join(' ')),
    );
    await page.exposeFunction('codeAutomationExit', () => end());
  });
  try {
    await inTime(ended, 200_000);
  } finally {
    await opened.close();
  }
  const results = printed.find((line) => line.includes(MARK))?.split(MARK)[1];
  if (!results) throw new Error(`the tests did not end well:\n${printed.slice(-20).join('\n')}`);
  return JSON.parse(results);
}
