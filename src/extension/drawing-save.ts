import * as vscode from 'vscode';
import type { ToHost } from '../drawing/to-host.ts';
import { uriOf } from './uris.ts';

type Save = Extract<ToHost, { kind: 'save' }>;

const KINDS = { svg: 'Scalable Vector Graphics', png: 'Portable Network Graphics' } as const;

/** Asks where to, and writes the picture that a page has painted. */
export async function saveDrawing(root: string, { name, format, data }: Save): Promise<void> {
  const { workspace, window, Uri } = vscode;
  const file = `${[...name.replace(/[^\p{L}\p{N}.+-]+/gu, '-')].slice(0, 80).join('')}.${format}`;
  const home = uriOf(root);
  const folder = home.scheme === 'untitled' ? workspace.workspaceFolders?.[0]?.uri : Uri.joinPath(home, '..');
  const target = await window.showSaveDialog({
    title: 'Save the drawing',
    filters: { [KINDS[format]]: [format] },
    ...(folder ? { defaultUri: Uri.joinPath(folder, file) } : {}),
  });
  if (target === undefined) return;
  try {
    await workspace.fs.writeFile(target, format === 'svg' ? new TextEncoder().encode(data) : bytesOf(data));
    void window.showInformationMessage(`The drawing is in ${workspace.asRelativePath(target)}.`);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    void window.showErrorMessage(`The drawing could not be written to ${target.path}: ${why}`);
  }
}

/** The bytes that are written in base 64. */
const bytesOf = (text: string): Uint8Array => Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
