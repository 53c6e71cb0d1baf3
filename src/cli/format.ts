import { realpathSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { format } from '../language/format.ts';
import { readText, reason, Trouble } from './files.ts';

export interface FormatOptions {
  readonly check?: boolean;
  readonly write?: boolean;
}

/** Prints, checks or rewrites files. Every file is read before the first is written. */
export async function formatCommand(paths: readonly string[], options: FormatOptions): Promise<number> {
  const files = paths.map((path) => {
    const text = readText(resolve(path));
    return { path, text, formatted: format(text) };
  });
  const changed = files.filter(({ text, formatted }) => text !== formatted);
  if (options.check) {
    for (const { path } of changed)
      process.stdout.write(`${path}: not in canonical form; \`cardcage format --write\` mends it\n`);
    return changed.length > 0 ? 1 : 0;
  }
  if (!options.write) {
    for (const { formatted } of files) process.stdout.write(formatted);
    return 0;
  }
  for (const { path } of changed) checkWritable(path);
  for (const { path, formatted } of changed) await rewrite(path, formatted);
  return 0;
}

/** A file without any write permission is meant to stay, whoever runs the command. */
function checkWritable(path: string): void {
  if ((statSync(path).mode & 0o222) === 0) throw new Trouble(`${path}: is read-only; nothing was written`);
}

/** Written beside the file and put in its place in one step. A link keeps pointing at the file it meant. */
async function rewrite(path: string, text: string): Promise<void> {
  // Loaded only here: most runs write nothing.
  const { default: writeFileAtomic } = await import('write-file-atomic');
  try {
    writeFileAtomic.sync(realpathSync(path), text);
  } catch (error) {
    throw new Trouble(`${path}: ${reason(error)}`);
  }
}
