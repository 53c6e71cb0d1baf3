import type { Document, Entry } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import type { Place } from './place.ts';
import type { Refactoring } from './refactorings.ts';
import { labelsAround, placesOf } from './tables.ts';

/** The lines of a table in the order of their contacts; remarks and blank lines above a line go with it. */
export function sortingTable(machine: Machine, document: Document, { around }: Place): Refactoring[] {
  const table = around.at(-1);
  const labels = labelsAround(machine, around);
  const entries = table?.block?.entries ?? [];
  if (labels === undefined || entries.length < 2 || !isTable(entries)) return [];
  const rows = rowsOf(document, table!, entries, labels);
  const sorted = rows && [...rows].sort((a, b) => a.contact - b.contact);
  if (rows === undefined || sorted === undefined || sorted.every((row, i) => row === rows[i])) return [];
  const [first, last] = [rows[0]!, rows.at(-1)!];
  const text = sorted.map((row) => row.text).join('\n');
  return [
    {
      title: 'sort the table by contact',
      kind: 'refactor.rewrite',
      splices: [{ from: first.from, to: last.to, text }],
    },
  ];
}

/** Lines of other forms may stand before the table, not in it. */
function isTable(entries: readonly Entry[]): boolean {
  const first = entries.findIndex(({ statement }) => statement.form === 'entry');
  return first >= 0 && entries.slice(first).every(({ statement }) => statement.form === 'entry');
}

interface Row {
  readonly from: number;
  readonly to: number;
  readonly text: string;
  /** The first contact that the line names, by index. */
  readonly contact: number;
}

function rowsOf(
  { lines }: Document,
  table: Entry,
  entries: readonly Entry[],
  labels: readonly string[],
): Row[] | undefined {
  const rows: Row[] = [];
  let above = table.line;
  for (const { line, statement } of entries) {
    const start = above + 1;
    above = line;
    if (statement.form !== 'entry') continue;
    const contact = placesOf(statement.subject, labels)?.[0];
    // Two statements on one line cannot be told apart.
    if (contact === undefined || start > line) return undefined;
    const its = lines.slice(start, line + 1);
    const last = its.at(-1)!;
    const text = its.map((one) => one.text).join('\n');
    rows.push({ from: its[0]!.start, to: last.start + last.text.length, text, contact });
  }
  return rows;
}
