import { parseDocument } from './blocks.ts';
import { type Form, formNamed } from './forms.ts';
import type { Attribute, Document, Line, Statement, Value } from './tree.ts';
import { canonicalUnit } from './units.ts';

const INDENT = '  ';
/** Saved by some editors in front of a file. */
const BYTE_ORDER_MARK = '\ufeff';
/** Column at which remarks start, unless the line is longer. */
const REMARK = 40;

/**
 * The text in its canonical form: fixed column stops for each line form, never aligned to neighbours, so that a
 * change of one line changes one line. Lines that cannot be read stay as they are. Idempotent; drops nothing.
 */
export function format(text: string): string {
  if (text.startsWith(BYTE_ORDER_MARK)) return BYTE_ORDER_MARK + format(text.slice(1));
  return formatDocument(parseDocument(text));
}

function formatDocument(document: Document): string {
  const { lines } = document;
  return formattedLines(document, 0, lines.length - 1)
    .map((text, index) => text + lines[index]!.eol)
    .join('');
}

/** Some lines of a text in canonical form, from the first to the last by index, without their line breaks. */
export function formattedLines(document: Document, first: number, last: number): string[] {
  // Where braces are in doubt, indentation tells which block a line belongs to: it stays as it is.
  const doubtful = bracesInDoubt(document);
  return document.lines.slice(first, last + 1).map((line, i) => {
    const own = /^\s*/.exec(line.text)![0];
    const indent = doubtful ? own : INDENT.repeat(document.depths[first + i] ?? 0);
    return formatLine(document, line, first + i, indent);
  });
}

/** Whether a brace is missing, too many or misplaced, or opens a block that cannot be told. */
function bracesInDoubt({ problems, lines }: Document): boolean {
  if (problems.some(({ rule }) => rule === 'brace-misplaced' || rule === 'block-unclosed')) return true;
  // Both lists are in the order of the text: one pass over each.
  let at = 0;
  for (const { pieces, start, text } of lines) {
    while (at < problems.length && problems[at]!.from < start) at++;
    const problem = problems[at];
    if (problem && problem.from <= start + text.length && pieces.some(({ opens }) => opens)) return true;
  }
  return false;
}

function formatLine(document: Document, line: Line, index: number, indent: string): string {
  const remark = line.comment < 0 ? '' : line.text.slice(line.comment).trimEnd();
  const [piece] = line.pieces;
  if (piece === undefined) return remark === '' ? '' : indent + remark;
  let code: string;
  if (line.pieces.length === 1 && piece.kind === 'close') code = `${indent}}`;
  else {
    const statement = document.whole[index];
    if (statement === undefined || line.pieces.length > 1) return line.text;
    code = indent + printStatement(statement) + (piece.opens ? ' {' : '');
  }
  return remark === '' ? code : `${code.padEnd(REMARK - 2)}  ${remark}`;
}

/** One statement in canonical form, without indentation. */
export function printStatement(statement: Statement): string {
  const form = formNamed(statement.form);
  const fields = form.word === '=' ? tableFields(statement) : [form.word, ...subjectField(statement)];
  return columns([...fields, ...printAttributes(form, statement)], form.stops);
}

/** Fields put at their stops; a field that comes too late for its stop follows after two spaces. */
function columns(fields: readonly string[], stops: readonly number[]): string {
  if (stops.length === 0) return fields.join(' ');
  let text = fields[0] as string;
  for (let i = 1; i < fields.length; i++) {
    const stop = stops[i - 1] ?? 0;
    const field = fields[i] as string;
    // `=` and what follows it belong together; elsewhere a gap of two sets fields apart.
    const gap = field === '=' || fields[i - 1] === '=' ? 1 : 2;
    text = text.padEnd(Math.max(stop, text.length + gap)) + field;
  }
  return text;
}

function subjectField({ form, subject, attributes }: Statement): string[] {
  if (subject.length === 0) return [];
  // `use published "ieee-696"` is the one line with an attribute before its subject.
  const before = form === 'use' && attributes.some(({ key }) => key === 'published') ? 'published ' : '';
  return [before + printValues(subject)];
}

function tableFields(statement: Statement): string[] {
  const of = (key: string): string | undefined => {
    const found = statement.attributes.find((one) => one.key === key);
    return found && printValues(found.values);
  };
  const [out, to, isout] = [of('out'), of('to'), of('isout')];
  let left = printValues(statement.subject);
  if (out !== undefined) left += ` > ${out}`;
  if (to !== undefined) left += ` to ${to}`;
  return [left, '=', (of('is') ?? '') + (isout === undefined ? '' : ` > ${isout}`)];
}

/** Attributes that the fields before them already hold. */
const IN_FIELDS = new Set(['out', 'is', 'isout']);

function printAttributes(form: Form, statement: Statement): string[] {
  const order = form.order ?? [];
  const rank = ({ key }: Attribute): number => {
    if (key === 'by') return order.length + 1;
    const at = order.indexOf(key);
    return at < 0 ? order.length : at;
  };
  return statement.attributes
    .filter(
      ({ key }) => form.word !== '=' || !(IN_FIELDS.has(key) || (form.id === 'reading' && key === 'to')),
    )
    .filter(({ key }) => form.id !== 'use' || key !== 'published')
    .map((one, index) => ({ one, index }))
    .sort((a, b) => rank(a.one) - rank(b.one) || a.index - b.index)
    .map(({ one }) => printAttribute(one, form));
}

/** Keys that are not written: their values say what they are. */
const SILENT = new Set([
  'grid',
  'text',
  'legs',
  'need',
  'way',
  'date of readings',
  'voltage',
  'current',
  'resistance',
  'length',
  'gauge',
  'percent',
  'capacitance',
  'time',
  'capacitance per length',
  'inductance per length',
  'delay',
]);

function printAttribute({ key, values }: Attribute, form: Form): string {
  const list =
    (key === 'by' || key === 'found' ? values.map(printValue).join(' ') : undefined) ??
    printNamed(key, values);
  if (SILENT.has(key) || (key === 'date' && form.id === 'readings')) return list;
  const word = key === 'along' ? 'at' : key === 'key' ? 'key between' : key;
  return list === '' ? word : `${word} ${list}`;
}

/** Values in the way of their attribute: most are lists, some have words between. */
function printNamed(key: string, values: readonly Value[]): string {
  if (key === 'grid') {
    const [kind, rows, positions] = values.map(printValue);
    return positions === undefined ? `${kind} ${rows}` : `${kind} ${rows} x ${positions}`;
  }
  if (key === 'way') return `${values.map(printValue).join('')} way`;
  if (key === 'with') return values.map(printValue).join(' x ');
  if (key === 'need') return values.map(printValue).join(' ');
  if (key === 'legs') return pairs(values, ' to ');
  if (key === 'on') return values.map(printValue).join(' ').replace(/ ;$/, '').replaceAll(' ; ', ', ');
  return printValues(values);
}

function pairs(values: readonly Value[], between: string): string {
  const printed = values.map(printValue);
  const legs: string[] = [];
  for (let i = 0; i < printed.length; i += 2) legs.push(`${printed[i]}${between}${printed[i + 1]}`);
  return legs.join(', ');
}

const printValues = (values: readonly Value[]): string => values.map(printValue).join(', ');

export function printValue(value: Value): string {
  switch (value.kind) {
    case 'item': {
      const name = value.quoted ? `"${value.first}"` : value.first;
      const range = value.last === undefined ? name : `${name}..${value.last}`;
      return value.step === undefined ? range : `${range} step ${value.step}`;
    }
    case 'quantity': {
      const number = value.high === undefined ? value.low : `${value.low}..${value.high}`;
      return `${number} ${canonicalUnit(value.unit) ?? value.unit}`;
    }
    case 'text':
      return `"${value.value}"`;
    default:
      return value.text;
  }
}
