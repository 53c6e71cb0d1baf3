// Fetching with an npm that brings a package of our own, in a folder with a space: nothing goes over any wire.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { fetched } from '../../.build/editor/fetch.mjs';

/** In npm's place: brings the package, or says what npm says where there is no way to it. */
const npmIn = (folder: string): string => `
const { appendFileSync, copyFileSync, existsSync } = require('node:fs');
const at = (name) => ${JSON.stringify(folder)} + '/' + name;
appendFileSync(at('calls'), process.argv.slice(2).join(' ') + '\\n');
if (existsSync(at('offline'))) {
  console.error('no route');
  process.exit(1);
}
copyFileSync(at('thing.tgz'), process.argv.at(-1) + '/thing.tgz');
`;

describe('fetching a package', () => {
  let folder = '';
  let packages: Parameters<typeof fetched>[1] = {};
  const calls = () => readFileSync(join(folder, 'calls'), 'utf8').split('\n').length - 1;
  const cached = () => readdirSync(join(folder, 'cache/editor'));

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'cardcage fetch-'));
    mkdirSync(join(folder, 'package/out'), { recursive: true });
    writeFileSync(join(folder, 'package/out/main.js'), 'main();\n');
    writeFileSync(join(folder, 'package/out/main.js.map'), '{}\n');
    spawnSync('tar', ['-czf', 'thing.tgz', 'package'], { cwd: folder });
    writeFileSync(join(folder, 'npm-cli.js'), npmIn(folder));
    vi.stubEnv('npm_execpath', join(folder, 'npm-cli.js'));
    vi.stubEnv('CARDCAGE_CACHE', join(folder, 'cache'));
    const hash = createHash('sha512')
      .update(readFileSync(join(folder, 'thing.tgz')))
      .digest('base64');
    const thing = { what: 'a thing', version: '1.0.0', integrity: `sha512-${hash}`, bytes: 300, folder: '' };
    packages = { thing };
  });

  afterEach(() => {
    vi.unstubAllEnvs();
    rmSync(folder, { recursive: true, force: true });
  });

  it('unpacks it without source maps, once', async () => {
    const place = await fetched('thing', packages);
    expect(place).toBe(join(folder, 'cache/editor/thing-1.0.0'));
    expect(readdirSync(join(place, 'out'))).toEqual(['main.js']);
    expect(await fetched('thing', packages)).toBe(place);
    expect(calls()).toBe(1);
    expect(cached()).toEqual(['thing-1.0.0']);
  });

  it.each([
    ['is missing', (file: string) => rmSync(file)],
    ['is cut short', (file: string) => writeFileSync(file, 'main(')],
  ])('fetches it again when a file %s', async (_, harm) => {
    const place = await fetched('thing', packages);
    harm(join(place, 'out/main.js'));
    await fetched('thing', packages);
    expect(readFileSync(join(place, 'out/main.js'), 'utf8')).toBe('main();\n');
    expect(calls()).toBe(2);
  });

  it('keeps nothing of a package with another hash', async () => {
    const other = { thing: { ...packages!.thing!, integrity: `sha512-${'A'.repeat(86)}==` } };
    await expect(fetched('thing', other)).rejects.toThrow(/thing 1\.0\.0 is not the file this project knows/);
    expect(cached()).toEqual([]);
  });

  // A shell script, so not on Windows.
  it.skipIf(process.platform === 'win32')('runs the npm on the path where no npm started this', async () => {
    mkdirSync(join(folder, 'bin'));
    const script = `#!/bin/sh\nexec "${process.execPath}" "${join(folder, 'npm-cli.js')}" "$@"\n`;
    writeFileSync(join(folder, 'bin/npm'), script, { mode: 0o755 });
    vi.stubEnv('PATH', `${join(folder, 'bin')}${delimiter}${process.env.PATH}`);
    vi.stubEnv('npm_execpath', '/usr/lib/another/program.js');
    const place = await fetched('thing', packages);
    expect(readdirSync(join(place, 'out'))).toEqual(['main.js']);
    expect(calls()).toBe(1);
  });

  it('says what npm said when it fails, and keeps nothing', async () => {
    writeFileSync(join(folder, 'offline'), '');
    await expect(fetched('thing', packages)).rejects.toThrow(
      /a thing \(thing 1\.0\.0\) cannot be fetched: npm ended with 1\. no route/,
    );
    expect(cached()).toEqual([]);
    expect(existsSync(join(folder, 'cache/editor/thing-1.0.0'))).toBe(false);
  });
});
