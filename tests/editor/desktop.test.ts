// The extension host of VS Code on the desktop, where it can be had.
import { existsSync } from 'node:fs';
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { downloadAndUnzipVSCode, runTests, SilentReporter } from '@vscode/test-electron';
import { fetchStableVersions } from '@vscode/test-electron/out/download.js';
import { cacheFolder } from '../../.build/editor/fetch.mjs';
import { bundleHostTests, hostSuite, type Results } from './support/host-tests.ts';

/** How long the list of versions, and then the download, may take before the machine counts as offline. */
const PROBE = 5000;

const desktop = await findDesktop();
hostSuite('desktop', () => runOnDesktop(desktop), 'missing' in desktop ? desktop.missing : undefined);

/** The program of VS Code, as named by VSCODE_EXECUTABLE or downloaded once. Else why there is none. */
async function findDesktop(): Promise<{ path: string } | { missing: string }> {
  const { VSCODE_EXECUTABLE: named, DISPLAY, WAYLAND_DISPLAY } = process.env;
  if (named && !existsSync(named)) throw new Error(`VSCODE_EXECUTABLE names ${named}, which is not there`);
  if (process.platform === 'linux' && !DISPLAY && !WAYLAND_DISPLAY)
    return { missing: 'there is no display (xvfb-run makes one)' };
  if (named) return { path: named };
  try {
    const [version] = await fetchStableVersions(true, PROBE);
    if (!version) return { missing: 'the list of VS Code versions is empty' };
    const cachePath = join(cacheFolder(), 'desktop');
    return { path: await downloadAndUnzipVSCode({ version, cachePath, reporter: new SilentReporter() }) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { missing: `VS Code cannot be downloaded (${why}) and VSCODE_EXECUTABLE names none` };
  }
}

async function runOnDesktop(found: typeof desktop): Promise<Results> {
  if ('missing' in found) throw new Error(found.missing);
  const folder = await mkdtemp(join(tmpdir(), 'cardcage-desktop-'));
  try {
    const results = join(folder, 'results.json');
    await cp('examples', join(folder, 'examples'), { recursive: true });
    await runTests({
      vscodeExecutablePath: found.path,
      extensionDevelopmentPath: resolve('.'),
      extensionTestsPath: await bundleHostTests(),
      extensionTestsEnv: { CARDCAGE_HOST_RESULTS: results },
      launchArgs: [
        join(folder, 'examples'),
        `--user-data-dir=${join(folder, 'user')}`,
        '--disable-extensions',
        '--disable-workspace-trust',
        '--skip-welcome',
        ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      ],
    });
    return JSON.parse(await readFile(results, 'utf8'));
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
