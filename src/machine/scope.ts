import type { Attribute, Entry, Item, Quantity, Span, Statement, Value } from '../language/tree.ts';
import { attribute, items, quantity } from '../language/tree.ts';
import { type Dimension, measure } from '../language/units.ts';
import { expandVector } from './names.ts';
import type { Connector, Evidence, EvidenceKind, MachineProblem, Source } from './types.ts';

/** One entry of a file's tree, with its file: what the passes that build the machine read from. */
export interface Said {
  readonly file: string;
  readonly entry: Entry;
}

/** Where problems found while building the machine are collected. */
export class Problems {
  readonly list: MachineProblem[] = [];

  add(rule: string, source: Source, message: string, more: Partial<MachineProblem> = {}): void {
    this.list.push({ rule, source, message, ...more });
  }
}

export const statementOf = (said: Said): Statement => said.entry.statement;

export const sourceOf = ({ file, entry }: Said, span: Span = entry.statement): Source =>
  new Place(file, entry, span);

/** A place that moves with its entry, so that what was made of the entry need not be made anew. */
class Place implements Source {
  readonly file: string;
  private readonly entry: Entry;
  private readonly span: Span;

  constructor(file: string, entry: Entry, span: Span) {
    this.file = file;
    this.entry = entry;
    this.span = span;
  }

  get from(): number {
    return this.entry.offset + this.span.from;
  }

  get to(): number {
    return this.entry.offset + this.span.to;
  }
}

/** The entries of the block that an entry opened. */
export function inside(said: Said): Said[] {
  return (said.entry.block?.entries ?? []).map((entry) => ({ file: said.file, entry }));
}

/** How the statement says that it is known. */
export function evidenceOf(statement: Statement): Evidence {
  const by = attribute(statement, 'by');
  return by === undefined ? NOT_SAID : readEvidence(by);
}

const NOT_SAID: Evidence = {};

function readEvidence({ values }: Attribute): Evidence {
  const evidence: { kind?: EvidenceKind; date?: string; note?: string; photo?: string } = {};
  values.forEach((value, i) => {
    if (value.kind === 'word' && value.text === 'photo') return;
    const before = values[i - 1];
    if (value.kind === 'word') evidence.kind = value.text as EvidenceKind;
    else if (value.kind === 'date') evidence.date = value.text;
    else if (value.kind === 'text' && before?.kind === 'word' && before.text === 'photo')
      evidence.photo = value.value;
    else if (value.kind === 'text') evidence.note = value.value;
  });
  return evidence;
}

/** The lower value of an attribute's quantity in SI units. */
export function amount(statement: Statement, key: string, dimension: Dimension): number | undefined {
  const found = quantity(statement, key);
  return found && measure(found, dimension)?.low;
}

export const amountOf = (value: Quantity, dimension: Dimension): number | undefined =>
  measure(value, dimension)?.low;

/** A name or label out of a list, with the place where it is written. */
export interface Named {
  readonly name: string;
  readonly source: Source;
}

const isItem = (value: Value): value is Item => value.kind === 'item';

/** Names with their vectors expanded, in order. A vector whose ends do not fit is reported and counts as its first. */
export function names(said: Said, values: readonly Value[], problems: Problems): Named[] {
  const list: Named[] = [];
  for (const item of values.filter(isItem)) {
    const source = sourceOf(said, item);
    if (item.last === undefined) {
      list.push({ name: item.first, source });
      continue;
    }
    const expanded = expandVector(item.first, item.last);
    if ('problem' in expanded) {
      problems.add(
        'range-mismatch',
        source,
        `found a range whose ends do not fit: ${expanded.problem}; write them as a list`,
      );
      list.push({ name: item.first, source });
    } else {
      const step = stepOf(item, source, problems);
      for (let i = 0; i < expanded.length; i += step) list.push({ name: expanded[i]!, source });
    }
  }
  return list;
}

/** The names of an attribute. */
export function namesOf(said: Said, key: string, problems: Problems): Named[] {
  return names(said, items(statementOf(said), key), problems);
}

/** The step of a range, 1 where none is said or it leads nowhere. */
export function stepOf({ step }: Item, source: Source, problems: Problems): number {
  if (step !== 0) return step ?? 1;
  problems.add('range-mismatch', source, 'found `step 0`, expected a step of 1 or more');
  return 1;
}

/** A contact out of a list, with the place where it is written. */
interface Contact {
  readonly index: number;
  readonly source: Source;
}

/** Contacts in the connector's own order; labels it does not have are reported, with what was likely meant. */
export function contacts(
  said: Said,
  values: readonly Value[],
  connector: Connector,
  problems: Problems,
): Contact[] {
  const list: Contact[] = [];
  for (const item of values.filter(isItem)) {
    const source = sourceOf(said, item);
    const first = contactNamed(connector, item.first, source, problems);
    const last = item.last === undefined ? first : contactNamed(connector, item.last, source, problems);
    if (first === undefined || last === undefined) continue;
    const step = stepOf(item, source, problems) * (first <= last ? 1 : -1);
    for (let index = first; step > 0 ? index <= last : index >= last; index += step)
      list.push({ index, source });
  }
  return list;
}

function contactNamed(
  connector: Connector,
  label: string,
  source: Source,
  problems: Problems,
): number | undefined {
  const index = connector.indexOf.get(label);
  if (index !== undefined) return index;
  const dash = /^(\w+)-(\w+)$/.exec(label);
  if (dash && connector.indexOf.has(dash[1] as string) && connector.indexOf.has(dash[2] as string)) {
    const text = `${dash[1]}..${dash[2]}`;
    const fix = { title: `write \`${text}\``, text, source };
    problems.add('pasted-form', source, `found \`${label}\`, expected \`${text}\` for a range of contacts`, {
      fix,
    });
    return undefined;
  }
  // A connector without a shape was reported where it is described.
  if (connector.labels.length === 0) return undefined;
  const [low, high] = [connector.labels[0], connector.labels.at(-1)];
  problems.add(
    'contact-unknown',
    source,
    `${connector.name} has no contact \`${label}\`; it has ${connector.labels.length}, from \`${low}\` to \`${high}\``,
  );
  return undefined;
}
