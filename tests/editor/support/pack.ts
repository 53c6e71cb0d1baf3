import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { promisify } from 'node:util';

const VSCE = resolve('node_modules/@vscode/vsce/vsce');

/** Packs the extension in `folder` as `npm run package` does, into the file `to`. Reads dist/ as it is. */
export async function pack(folder: string, to: string): Promise<void> {
  const lenient = ['--allow-missing-repository', '--no-rewrite-relative-links', '--allow-star-activation'];
  await vsce(folder, ['package', '--no-dependencies', ...lenient, '--skip-license', '--out', to]);
}

/** The paths of the files that a package of the extension in `folder` holds. */
export async function packed(folder: string): Promise<string[]> {
  return (await vsce(folder, ['ls', '--no-dependencies'])).split(/\r?\n/).filter((line) => line !== '');
}

async function vsce(folder: string, args: string[]): Promise<string> {
  const { stdout } = await promisify(execFile)(process.execPath, [VSCE, ...args], {
    cwd: folder,
    timeout: 120_000,
  });
  return stdout;
}
