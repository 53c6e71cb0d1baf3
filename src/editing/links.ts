import type { Document, Entry, Text } from '../language/tree.ts';
import { has } from '../language/tree.ts';
import { isWithin, resolvePath } from '../machine/uses.ts';
import { statementsOf } from './place.ts';

/** Where a link in a text leads: a file of the workspace, or a table that ships with the product. */
export type LinkTarget =
  | { readonly kind: 'file'; readonly path: string }
  | { readonly kind: 'published'; readonly name: string };

export interface Link {
  readonly from: number;
  readonly to: number;
  readonly target: LinkTarget;
  /** What following it does: `Open the file`. */
  readonly title: string;
}

/**
 * The links of a file: what it uses, and its photos, by paths relative to it. What leads out of the workspace – a
 * folder that the file lies in – is no link.
 */
export function linksIn(document: Document, file: string, workspace: string): Link[] {
  const links: Link[] = [];
  const add = (entry: Entry, text: Text, title: string): void => {
    const path = resolvePath(file, text.value);
    if (path === undefined || !isWithin(path, workspace)) return;
    links.push({ ...insideQuotes(entry, text), target: { kind: 'file', path }, title });
  };
  for (const { entry } of statementsOf(document)) {
    const { form, subject, attributes } = entry.statement;
    const [used] = subject;
    if (form === 'use' && used?.kind === 'text') {
      if (has(entry.statement, 'published')) {
        const target = { kind: 'published', name: used.value } as const;
        links.push({ ...insideQuotes(entry, used), target, title: 'Open the published table' });
      } else add(entry, used, 'Open the file');
    }
    for (const { values } of attributes) {
      values.forEach((value, i) => {
        const before = values[i - 1];
        const isPhoto = before?.kind === 'word' && before.text === 'photo';
        if (isPhoto && value.kind === 'text') add(entry, value, 'Open the photo');
      });
    }
  }
  return links.filter(({ from, to }) => to > from);
}

const insideQuotes = ({ offset }: Entry, { from, to }: Text): { from: number; to: number } => ({
  from: offset + from + 1,
  to: offset + to - 1,
});
