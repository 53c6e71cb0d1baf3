// The browser of the tests: Chromium as the system has it, or as apt-get brings it to a machine of continuous integration.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { type BrowserContext, chromium } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];
const PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

/** Webviews load their content from a host of their own, which counts as a third party with its own service worker. */
const PREFERENCES = { profile: { cookie_controls_mode: 0, block_third_party_cookies: false } };

/** The path of a Chromium; installs one where this process may. Else the reason why there is none. */
export function findChromium(): { path: string } | { missing: string } {
  const found = installed();
  if (found) return { path: found };
  const why = install();
  const path = installed();
  return path ? { path } : { missing: why ?? 'apt-get installed no chromium' };
}

function installed(): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  return [...NAMES.flatMap((name) => folders.map((folder) => join(folder, name))), ...PLACES].find(isProgram);
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Nothing if it went well, else why it did not. */
function install(): string | undefined {
  if (process.platform !== 'linux' || !existsSync('/usr/bin/apt-get'))
    return 'no Chromium or Chrome is installed';
  if (process.getuid?.() !== 0)
    return 'no Chromium is installed; as root, apt-get install chromium brings it';
  console.log('installing chromium with apt-get, once');
  for (const args of [['update'], ['install', '--yes', '--no-install-recommends', 'chromium']]) {
    const { status, stderr, error } = spawnSync('apt-get', ['-qq', ...args], {
      stdio: ['ignore', 'ignore', 'pipe'],
      encoding: 'utf8',
      timeout: 600_000,
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
    if (status !== 0) return `apt-get ${args[0]} failed: ${error?.message ?? stderr.trim().slice(-500)}`;
  }
  return undefined;
}

export interface Browser {
  context: BrowserContext;
  /** Ends the browser and removes its profile. */
  close: () => Promise<void>;
}

/** A browser with an empty profile. `scale` is device pixels per CSS pixel. */
export async function launchChromium(
  path: string,
  size: { width: number; height: number },
  scale = 1,
): Promise<Browser> {
  const profile = await mkdtemp(join(tmpdir(), 'cardcage-chromium-'));
  await mkdir(join(profile, 'Default'));
  await writeFile(join(profile, 'Default/Preferences'), JSON.stringify(PREFERENCES));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: path,
    args: [
      '--no-first-run',
      '--disable-dev-shm-usage',
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    ],
    viewport: size,
    deviceScaleFactor: scale,
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  return {
    context,
    close: async () => {
      await context.close();
      await rm(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
