// npm start, as a newcomer runs it, without a display.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { afterEach, describe, expect, inject, it } from 'vitest';
import { until } from './support/waiting.ts';

const chromium = inject('chromium');

describe.skipIf('missing' in chromium || process.platform === 'win32')('npm start', () => {
  const running: ChildProcess[] = [];
  afterEach(() => {
    for (const child of running) child.kill('SIGKILL');
  });

  /** Starts it; the address that it prints. */
  async function start(port: string): Promise<{ child: ChildProcess; url: string }> {
    const child = spawn(process.execPath, ['.build/editor/start.mjs', '--no-open', '--port', port], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    running.push(child);
    let printed = '';
    child.stdout.on('data', (text) => {
      printed += text;
    });
    const url = await until('the address', async () => /http:\S+/.exec(printed)?.[0], 80_000);
    return { child, url };
  }

  it('serves the editor, takes the next port when one is busy, and stops when told', async () => {
    const first = await start('0');
    const { port } = new URL(first.url);
    const second = await start(port);
    expect(Number(new URL(second.url).port)).toBeGreaterThan(Number(port));

    const page = await (await fetch(second.url)).text();
    expect(page).toContain('/tide-gauge/as-found.pinout');
    expect(page).toContain('workbench.startupEditor');
    const bundle = await fetch(`${first.url}/static/devextensions/dist/extension.js`);
    expect(bundle.status).toBe(200);

    for (const [{ child, url }, signal] of [
      [first, 'SIGINT'],
      [second, 'SIGTERM'],
    ] as const) {
      child.kill(signal);
      const [code] = await once(child, 'exit');
      expect(code).toBe(0);
      await expect(fetch(url)).rejects.toThrow();
    }
  }, 200_000);

  it('says what is wrong with its arguments', async () => {
    const child = spawn(process.execPath, ['.build/editor/start.mjs', '--port', 'x'], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    let said = '';
    child.stderr.on('data', (text) => {
      said += text;
    });
    const [code] = await once(child, 'close');
    expect([code, said]).toEqual([1, expect.stringContaining('x is no port')]);
  });
});
