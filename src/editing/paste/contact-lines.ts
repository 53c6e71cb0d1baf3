import { printStatement } from '../../language/format.ts';
import { formNamed } from '../../language/forms.ts';
import { Reader } from '../../language/statement.ts';
import { attribute } from '../../language/tree.ts';
import { expandVector } from '../../machine/names.ts';
import { columnsOf } from './columns.ts';
import { rowsOf } from './rows.ts';

/** What the pasted table is about: the labels of the connector in their order; none where it is not known. */
export interface Target {
  readonly labels: readonly string[];
  readonly indent: string;
}

/** One contact as the table has it. */
interface Fact {
  readonly contact: string;
  readonly name: string;
  readonly evidence: string;
  readonly remark: string;
}

/**
 * A table copied from a spreadsheet, a file of separated values or a wiki → lines of a table of contacts. What cannot
 * be a line is kept as a remark. Undefined where the text is no table of contacts.
 */
export function contactLines(text: string, { labels, indent }: Target): string | undefined {
  const rows = rowsOf(text);
  const known = new Set(labels);
  const isContact = (cell: string): boolean =>
    known.size > 0 ? known.has(label(cell)) : /^[A-Za-z]{0,2}\d{1,3}$|^[A-Z]{1,2}$/.test(label(cell));
  const columns = rows && columnsOf(rows, isContact);
  if (rows === undefined || columns === undefined) return undefined;
  const facts: Fact[][] = columns.pairs.map(() => []);
  for (const row of rows.slice(columns.headings)) {
    const remark = columns.remarks
      .map((i) => row[i] ?? '')
      .filter((cell) => cell !== '')
      .join(', ');
    const evidence = columns.evidence === undefined ? '' : evidenceIn(row[columns.evidence] ?? '');
    columns.pairs.forEach(({ contact, name, prefix }, i) => {
      const place = row[contact] ?? '';
      if (place === '' && (row[name] ?? '') === '') return;
      facts[i]!.push({
        contact: place === '' ? '' : prefix + label(place),
        ...nameIn(row[name] ?? '', remark),
        evidence,
      });
    });
  }
  const lines = facts.flatMap((list) => merged(list, labels)).map((fact) => indent + lineOf(fact));
  return lines.length === 0 ? undefined : `${lines.join('\n')}\n`;
}

/** A contact's label: without the word before it, with the marks that a range is written with here. */
function label(cell: string): string {
  return cell
    .replace(/^(?:pin|contact)\s*/i, '')
    .replace(/^(\w+)\s*(?:[-–—…]|\.\.)\s*(\w+)$/, '$1..$2')
    .trim();
}

const UNKNOWN = /^(?:|\?+|-+|–|—|unknown|n\/a|tbd)$/i;
const NOT_CONNECTED = /^(?:nc|n\.c\.|n\/c|no connection|not connected|reserved|unused)$/i;

/** What a cell says of a contact, and what of it goes into the remark. */
function nameIn(cell: string, remark: string): Pick<Fact, 'name' | 'remark'> {
  const text = cell
    .replaceAll('−', '-')
    .replace(/^[‐-―﹣－](?=\d)/, '-')
    .replace(/^＋(?=\d)/, '+')
    .replace(/[“”"„]/g, '')
    .trim();
  if (UNKNOWN.test(text)) return { name: 'unknown', remark };
  if (/^spare$/i.test(text)) return { name: 'spare', remark };
  if (NOT_CONNECTED.test(text)) return { name: 'unknown', remark: joined(text, remark) };
  const [, first, rest] = /^(\S+)\s+\((.+)\)$/.exec(text) ?? [];
  return first === undefined ? { name: text, remark } : { name: first, remark: joined(rest!, remark) };
}

const joined = (...parts: readonly string[]): string => parts.filter((part) => part !== '').join(', ');

const EVIDENCE: readonly (readonly [RegExp, string])[] = [
  [/silk/i, 'silkscreen'],
  [/trace|traced|continuity|buzz/i, 'trace'],
  [/meter|measured|dmm|scope/i, 'meter'],
  [/manual|data ?sheet|schematic|book|doc/i, 'manual'],
  [/guess|assumed|probably/i, 'guess'],
];

/** A cell's evidence as the language says it: the kind, and the cell's own words where they say more. */
function evidenceIn(cell: string): string {
  if (cell === '') return '';
  const kind = EVIDENCE.find(([pattern]) => pattern.test(cell))?.[1];
  const note = kind !== undefined && cell.toLowerCase() === kind ? '' : ` "${cell.replaceAll('"', "'")}"`;
  return ` by${kind === undefined ? '' : ` ${kind}`}${note}`;
}

/** Neighbouring contacts that carry one name, or the names of a vector, as one line. */
function merged(facts: readonly Fact[], labels: readonly string[]): Fact[] {
  const place = new Map(labels.map((one, i) => [one, i]));
  const follows = (a: Fact, b: Fact): boolean => {
    const [from, to] = [place.get(a.contact), place.get(b.contact)];
    return (
      from !== undefined && to === from + 1 && a.evidence === b.evidence && a.remark === '' && b.remark === ''
    );
  };
  const list: Fact[] = [];
  for (let i = 0; i < facts.length; ) {
    let run = i;
    while (run + 1 < facts.length && follows(facts[run]!, facts[run + 1]!)) run++;
    const end = longest(facts.slice(i, run + 1).map(({ name }) => name)) + i;
    const [first, last] = [facts[i]!, facts[end - 1]!];
    if (end - i < 2) list.push(first);
    else {
      const name = first.name === last.name ? first.name : `${first.name}..${last.name}`;
      list.push({ ...first, contact: `${first.contact}..${last.contact}`, name });
    }
    i = Math.max(end, i + 1);
  }
  return list;
}

/** How many names from the first on are one name, or (three and more) one vector. */
function longest(names: readonly string[]): number {
  let same = 1;
  while (same < names.length && names[same] === names[0]) same++;
  for (let count = names.length; count > Math.max(same, 2); count--) {
    const vector = expandVector(names[0]!, names[count - 1]!);
    if (!('problem' in vector) && vector.join('\n') === names.slice(0, count).join('\n')) return count;
  }
  return same;
}

const reader = new Reader();

/** The fact as a line in canonical form; a name that cannot stand bare is quoted, and what is no line becomes a remark. */
function lineOf({ contact, name, evidence, remark }: Fact): string {
  const behind = remark === '' ? '' : `  # ${remark}`;
  for (const written of [name, `"${name}"`]) {
    const { statement, problems } = reader.read(formNamed('entry'), `${contact} = ${written}${evidence}`);
    if (contact === '' || statement === undefined || problems.length > 0) continue;
    if (attribute(statement, 'is')?.values.length === 1) return printStatement(statement) + behind;
  }
  return `# ${joined(contact, name, remark)}`;
}
