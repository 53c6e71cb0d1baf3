import { connectorAround } from './contacts.ts';
import { contactLines } from './paste/contact-lines.ts';
import { placeAt } from './place.ts';
import type { Analysis } from './project.ts';

const TABLES = new Set(['bus', 'edge', 'port']);

/**
 * The lines that a copied table becomes at an offset: in a table of contacts, with the labels of its connector.
 * Undefined elsewhere, and for text that is no table.
 */
export function pastedTable(
  analysis: Analysis,
  file: string,
  offset: number,
  text: string,
): string | undefined {
  const document = analysis.documents.get(file);
  if (document === undefined) return undefined;
  const place = placeAt(document, offset);
  if (!TABLES.has(place.kind)) return undefined;
  const labels = connectorAround(analysis.machine, place.around)?.labels ?? [];
  const isBlank = place.line.text.slice(0, place.column).trim() === '';
  const lines = contactLines(text, { labels, indent: '  '.repeat(place.around.length) });
  if (lines === undefined) return undefined;
  // Lines begin where the cursor's line begins; amid a line they follow it.
  return isBlank ? lines.slice(Math.min(place.column, 2 * place.around.length)) : `\n${lines.trimEnd()}`;
}
