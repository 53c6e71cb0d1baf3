import { check } from '../../src/checks/run.ts';
import type { Finding } from '../../src/checks/types.ts';
import { published } from '../../src/knowledge/published.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Document } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import type { Machine } from '../../src/machine/types.ts';
import type { Library } from '../../src/machine/uses.ts';

export const ROOT = '/machine/main.pinout';

/** Files in memory, the first one the root; a lone text is `main.pinout`. */
export type Files = string | Readonly<Record<string, string>>;

export interface Built {
  readonly machine: Machine;
  readonly documents: ReadonlyMap<string, Document>;
}

/** Texts → machine, with every document that took part. */
export function machineOf(files: Files): Built {
  const texts = typeof files === 'string' ? { 'main.pinout': files } : files;
  const documents = new Map<string, Document>();
  const parsed = (file: string, text: string | undefined): Document | undefined => {
    if (text === undefined) return undefined;
    const document = documents.get(file) ?? parseDocument(text);
    documents.set(file, document);
    return document;
  };
  const library: Library = {
    file: (path) => parsed(path, texts[path.slice('/machine/'.length)]),
    published: (name) => parsed(`published:${name}`, published.get(name)),
    publishedNames: [...published.keys()],
    workspace: '/machine',
  };
  const [name, text] = Object.entries(texts)[0] as [string, string];
  const file = `/machine/${name}`;
  const document = parsed(file, text) as Document;
  return { machine: buildMachine({ file, document }, library), documents };
}

export function findingsOf(files: Files): Finding[] {
  const { machine, documents } = machineOf(files);
  return check(machine, documents);
}

/** Line number (from 1) of an offset. */
export const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length;
