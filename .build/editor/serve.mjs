// Serves VS Code for the browser with this extension on it and a folder of files open. Edits of these files stay in the
// browser's memory; nothing is asked from any other machine.
import { once } from 'node:events';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const require = createRequire(import.meta.url);
const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

/** A visitor wants to see the example, not what is new in the editor. Registered settings only. */
const QUIET = {
  'workbench.startupEditor': 'none',
  'chat.disableAIFeatures': true,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.editor.useModal': 'off',
  'workbench.tips.enabled': false,
  'extensions.ignoreRecommendations': true,
};

const CHATTER = /^(?:Using ESM loader|Serving )/;
let hushed = false;

const CONFIGURATION = /(id="vscode-workbench-web-configuration" data-settings=")([^"]*)"/;

/** What it takes is in serve.d.mts. `close()` resolves when the port is free again. */
export async function serveEditor({ editor, port, folder, settings, page, testsPath, extensions }) {
  hush();
  const app = await require('@vscode/test-web/out/server/app.js').default({
    build: { type: 'static', location: editor },
    extensionDevelopmentPath: root,
    folderMountPath: folder,
    extensionTestsPath: testsPath,
    extensionPaths: extensions,
  });
  // The first layer is a log of requests on the terminal.
  app.middleware.shift();
  app.middleware.unshift(async (context, next) => {
    await next();
    if (context.path === '/') context.body = configured(context.body, { ...QUIET, ...settings }, page);
  });

  const servers = await listen(app.callback(), port);
  return {
    url: `http://localhost:${servers[0].address().port}`,
    close: () => Promise.all(servers.map(closed)),
  };
}

/** The page with these settings as defaults. Throws if the page is not as this was written for. */
function configured(html, configurationDefaults, page = {}) {
  const match = CONFIGURATION.exec(html);
  if (!match) throw new Error('the page of @vscode/test-web has another form: see serve.mjs');
  const options = { ...JSON.parse(match[2].replaceAll('&quot;', '"')), ...page, configurationDefaults };
  const text = JSON.stringify(options).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  return html.replace(CONFIGURATION, (_, before) => `${before}${text}"`);
}

/** The server tells the terminal, which is ours, what it serves. */
function hush() {
  if (hushed) return;
  hushed = true;
  const log = console.log;
  console.log = (...said) => {
    if (!CHATTER.test(said[0])) log(...said);
  };
}

/** Browsers take "localhost" for either address, so a port counts as free when both are. */
async function listen(handler, first) {
  const tries = 100;
  for (let port = first; port < first + tries; port++) {
    const server = await listening(handler, port, '127.0.0.1').catch(busy);
    if (server === BUSY) continue;
    const other = await listening(handler, server.address().port, '::1').catch(busy);
    if (other !== BUSY) return other === ABSENT ? [server] : [server, other];
    await closed(server);
  }
  throw new Error(`no free port from ${first} to ${first + tries - 1}`);
}

const BUSY = Symbol('the port is taken');
const ABSENT = Symbol('this machine has no such address');

function busy(error) {
  if (error.code === 'EADDRINUSE') return BUSY;
  if (error.code === 'EADDRNOTAVAIL' || error.code === 'EAFNOSUPPORT') return ABSENT;
  throw error;
}

async function listening(handler, port, host) {
  const server = createServer(handler).listen(port, host);
  await once(server, 'listening');
  return server;
}

function closed(server) {
  return new Promise((done) => {
    server.close(done);
    server.closeAllConnections();
  });
}
