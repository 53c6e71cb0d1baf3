import { isPublished } from '../../machine/uses.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import { publishedTables } from './owners.ts';

/** What may stand in an open quote: files and tables to use, pictures. Elsewhere in quotes nothing is offered. */
export function quotedCandidates(cursor: Cursor): Candidate[] {
  const { before, isClosed } = cursor.quote!;
  return listFor(cursor, before).map((one) => ({
    ...one,
    whole: true,
    insert: isClosed ? one.label : `${one.label}"`,
  }));
}

function listFor(cursor: Cursor, before: string): Candidate[] {
  if (/^use\s+published\s+$/.test(before)) return publishedNames(cursor);
  if (/^use\s+$/.test(before)) return usableFiles(cursor);
  return /\bphoto\s+$/.test(before) ? photos(cursor) : [];
}

/** Tables that ship with the product, those that the file does not use yet first. */
export function publishedNames({ analysis: { documents, library } }: Cursor): Candidate[] {
  const buses = new Map(
    publishedTables(library).map(({ id, bus, connector }) => [id, `bus ${bus} on ${connector}`]),
  );
  return library.publishedNames.map((label) => ({
    label,
    kind: 'file',
    rank: documents.has(`published:${label}`) ? 1 : 0,
    ...(buses.has(label) ? { detail: buses.get(label)! } : {}),
  }));
}

/** Pinout files of the workspace as seen from this one, those that the machine lacks first. */
export function usableFiles({ file, options, analysis: { documents } }: Cursor): Candidate[] {
  const all = options.files ?? [...documents.keys()].filter((path) => !isPublished(path));
  return all
    .filter((path) => path !== file)
    .map((path) => ({
      label: relative(file, path),
      kind: 'file',
      rank: documents.has(path) ? 1 : 0,
      detail: documents.has(path) ? 'part of this machine' : 'pinout file',
    }));
}

const photos = ({ file, options }: Cursor): Candidate[] =>
  (options.photos ?? []).map((path) => ({
    label: relative(file, path),
    kind: 'file',
    rank: 0,
    detail: 'picture',
  }));

/** A path as seen from a file: both with `/` between their segments. */
function relative(from: string, to: string): string {
  const [a, b] = [from.split('/').slice(0, -1), to.split('/')];
  let same = 0;
  while (same < a.length && same < b.length - 1 && a[same] === b[same]) same++;
  return [...a.slice(same).map(() => '..'), ...b.slice(same)].join('/');
}
