import { Uri } from 'vscode';
import { isPublished } from '../machine/uses.ts';

/** Stands before the name of a file that lies in no folder yet: `untitled:Untitled-1`. */
const NO_FOLDER = '/./';

/** How the project calls a file: scheme, authority and path, nothing escaped, so that a `use` resolves against it. */
export function pathOf({ scheme, authority, path }: Uri): string {
  return `${scheme}://${authority}${path.startsWith('/') ? path : NO_FOLDER + path}`;
}

const PATH = /^([^:/]+):\/\/([^/]*)(\/.*)$/s;

/** The scheme under which the tables that ship with the product are shown. */
export const PUBLISHED_SCHEME = 'cardcage-published';

/** The file that a path of the project means. */
export function uriOf(path: string): Uri {
  if (isPublished(path))
    return Uri.from({ scheme: PUBLISHED_SCHEME, path: `/${path.slice('published:'.length)}.pinout` });
  const [, scheme = 'file', authority = '', rest = path] = PATH.exec(path) ?? [];
  return Uri.from({
    scheme,
    authority,
    path: rest.startsWith(NO_FOLDER) ? rest.slice(NO_FOLDER.length) : rest,
  });
}

/** The path of a table that ships with the product, from the address it is shown under. */
export const publishedNameOf = ({ path }: Uri): string => path.replace(/^\//, '').replace(/\.pinout$/, '');
