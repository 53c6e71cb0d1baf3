import * as vscode from 'vscode';
import type { Unreadable } from '../editing/project.ts';

/** Bytes. A machine of 100,000 contacts is about 6 MB; anything larger is no pinout file. */
const LARGEST = 16 * 1024 * 1024;

/** The text of a file on disk, or why it cannot be used; undefined where there is none. */
export async function readText(uri: vscode.Uri): Promise<string | Unreadable | undefined> {
  const name = uri.path.slice(uri.path.lastIndexOf('/') + 1);
  try {
    const bytes = await vscode.workspace.fs.readFile(uri);
    if (bytes.byteLength > LARGEST)
      return { trouble: `${name}: is larger than a pinout file can be (16 MB); split it with \`use\`` };
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (!(error instanceof vscode.FileSystemError))
      return { trouble: `${name}: is not text in UTF-8; save it as UTF-8` };
    return error.code === 'NoPermissions'
      ? { trouble: `${name}: may not be read; check its permissions` }
      : undefined;
  }
}
