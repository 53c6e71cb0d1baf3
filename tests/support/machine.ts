import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { check } from '../../src/checks/run.ts';
import type { Finding } from '../../src/checks/types.ts';
import { published } from '../../src/knowledge/published.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Document } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import type { Machine } from '../../src/machine/types.ts';
import type { Library } from '../../src/machine/uses.ts';

const WORKSPACE = '/machine';
export const ROOT = `${WORKSPACE}/main.pinout`;

/** Files in memory, the first one the root; a lone text is `main.pinout`. */
export type Files = string | Readonly<Record<string, string>>;

export interface Built {
  readonly machine: Machine;
  readonly documents: ReadonlyMap<string, Document>;
}

/** Texts → machine, with every document that took part. */
export function machineOf(files: Files): Built {
  const texts = typeof files === 'string' ? { 'main.pinout': files } : files;
  const root = `${WORKSPACE}/${Object.keys(texts)[0]}`;
  return built(root, WORKSPACE, (path) => texts[path.slice(WORKSPACE.length + 1)]);
}

/** A file on disk → machine, with every file of its folder that took part. */
export function machineFromDisk(path: string): Built {
  const root = resolve(path);
  return built(root, dirname(root), textOnDisk);
}

function textOnDisk(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

function built(root: string, workspace: string, textOf: (path: string) => string | undefined): Built {
  const documents = new Map<string, Document>();
  const parsed = (file: string, text: string | undefined): Document | undefined => {
    if (text === undefined) return undefined;
    const document = documents.get(file) ?? parseDocument(text);
    documents.set(file, document);
    return document;
  };
  const library: Library = {
    file: (path) => parsed(path, textOf(path)),
    published: (name) => parsed(`published:${name}`, published.get(name)),
    publishedNames: [...published.keys()],
    workspace,
  };
  const document = parsed(root, textOf(root));
  if (document === undefined) throw new Error(`no file ${root}`);
  return { machine: buildMachine({ file: root, document }, library), documents };
}

export function findingsOf(files: Files): Finding[] {
  const { machine, documents } = machineOf(files);
  return check(machine, documents);
}

/** Line number (from 1) of an offset. */
export const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length;
