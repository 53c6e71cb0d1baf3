// VS Code's server with the packaged extension installed, and a person before it: the extension runs on Node.js here.
import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { serverMain } from '../../../.build/editor/server.mjs';
import { type Editor, open, personAt } from './editor.ts';
import { type Host, script } from './host.ts';
import type { Results } from './host-tests.ts';
import { pack } from './pack.ts';
import { START_PATIENCE, until } from './waiting.ts';

const SETTINGS = {
  'security.workspace.trust.enabled': false,
  'workbench.startupEditor': 'none',
  'chat.disableAIFeatures': true,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'window.autoDetectColorScheme': false,
};

export interface NodeEditor extends Editor {
  /** Runs a bundle of host tests by its path. */
  run: (bundle: string) => Promise<Results>;
  /** What the installation printed. */
  installed: string;
}

/** `node` runs the server, `chromium` shows it. The examples are copied: edits do not reach the work tree. */
export async function startNodeEditor(node: string, chromium: string): Promise<NodeEditor> {
  const folder = await mkdtemp(join(tmpdir(), 'cardcage-server-'));
  const main = await serverMain();
  const [port, bridgePort] = [await freePort(), await freePort()];
  let running: ChildProcess | undefined;
  const close = async () => {
    await ended(running);
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    await cp('examples', join(folder, 'examples'), { recursive: true });
    await mkdir(join(folder, 'server/data/User'), { recursive: true });
    await writeFile(join(folder, 'server/data/User/settings.json'), JSON.stringify(SETTINGS));
    await pack(resolve('.'), join(folder, 'cardcage.vsix'));
    await pack(resolve('tests/editor/support/bridge'), join(folder, 'bridge.vsix'));

    const common = [main, '--accept-server-license-terms', '--server-data-dir', join(folder, 'server')];
    const installing = ['cardcage', 'bridge'].flatMap((name) => [
      '--install-extension',
      join(folder, `${name}.vsix`),
    ]);
    const { stdout } = await promisify(execFile)(node, [...common, ...installing], {
      timeout: START_PATIENCE,
    });

    running = spawn(
      node,
      [...common, '--host', '127.0.0.1', '--port', String(port), '--without-connection-token'],
      { stdio: 'ignore', env: { ...process.env, CARDCAGE_BRIDGE_PORT: String(bridgePort) } },
    );
    const url = `http://127.0.0.1:${port}/?folder=${join(folder, 'examples')}`;
    await until("VS Code's server", async () => (await fetch(url)).ok, START_PATIENCE);
    const opened = await open(chromium, { url, close });
    const editor = await personAt(opened, () => bridgeHost(bridgePort));
    return { ...editor, installed: stdout, run: (bundle) => runWithin(bridgePort, bundle) };
  } catch (error) {
    await close();
    throw error;
  }
}

async function bridgeHost(port: number): Promise<Host> {
  await until('the extension host', () => ask(port, 'Boolean(globalThis.apiForTests)'), START_PATIENCE);
  return (work, given) => ask(port, script(work, given));
}

/** What an expression is worth in the extension host. The bridge has `require` there. */
async function ask(port: number, question: string): Promise<never> {
  const response = await fetch(`http://127.0.0.1:${port}`, { method: 'POST', body: question });
  const { answer, error } = (await response.json()) as { answer?: unknown; error?: string };
  if (error) throw new Error(error);
  return answer as never;
}

async function freePort(): Promise<number> {
  const probe = createServer().listen(0, '127.0.0.1');
  await once(probe, 'listening');
  const { port } = probe.address() as { port: number };
  probe.close();
  await once(probe, 'close');
  return port;
}

async function runWithin(port: number, bundle: string): Promise<Results> {
  return ask(port, `require(${JSON.stringify(bundle)}).run()`);
}

/** Asks it to end, and makes it when it does not. */
async function ended(child: ChildProcess | undefined): Promise<void> {
  if (!child || child.exitCode !== null || child.signalCode !== null) return;
  const force = setTimeout(() => child.kill('SIGKILL'), 5000);
  child.kill();
  await once(child, 'exit');
  clearTimeout(force);
}
