import type { Form } from './forms.ts';
import { asWritten, withoutNumbers, withoutOneQuote, withoutSlips } from './mend.ts';
import { parse } from './pinout.peggy';
import { code, type Expectation, expectedWords, foundExpected, spoken, wordAt } from './problems.ts';
import type { Attribute, Item, Parsed, Piece, Problem, Quantity, Statement } from './tree.ts';
import {
  canonicalUnit,
  type Dimension,
  dimensionOf,
  examples,
  likelyUnit,
  printedCode,
  units,
  usual,
} from './units.ts';

/**
 * What a piece of a line was last read as. Lines that a change leaves alone keep their pieces, so that a keystroke costs
 * one line.
 */
const readBefore = new WeakMap<Piece, { readonly form: Form; readonly parsed: Parsed }>();

/** Reads statements; equal texts of one form are read once. */
export class Reader {
  private readonly kept = new Map<string, Parsed>();

  /** One statement's text, read as the given form. Never throws. */
  read(form: Form, text: string): Parsed {
    const key = `${form.id}\n${text}`;
    const known = this.kept.get(key);
    if (known !== undefined) return known;
    const parsed = read(form, text);
    this.kept.set(key, parsed);
    return parsed;
  }

  /** The same of a piece of a line, of which this is the text. */
  readPiece(form: Form, text: string, piece: Piece): Parsed {
    const before = readBefore.get(piece);
    if (before?.form === form) return before.parsed;
    const parsed = this.read(form, text);
    readBefore.set(piece, { form, parsed });
    return parsed;
  }
}

function read(form: Form, text: string): Parsed {
  const whole = attempt(form, text);
  if (!('expected' in whole)) return checked(form, whole, []);
  return fromPaste(form, text) ?? fromPrefix(form, text, whole);
}

/** Where the grammar stopped, and what it was ready for there. */
export interface Failure {
  readonly expected: readonly Expectation[];
  readonly offset: number;
}

/** One statement's text, read as the given form. Never throws. */
export function attempt(form: Form, text: string): Statement | Failure {
  try {
    const read = parse(text, form.id) as Pick<Statement, 'subject' | 'attributes'> | Failure;
    if ('expected' in read) return read;
    return { form: form.id, subject: read.subject, attributes: read.attributes, from: 0, to: text.length };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    // The parser recurses only within one line; a line long enough to exhaust the stack is refused like any other.
    return { expected: [{ type: 'other', description: 'a shorter line' }], offset: 0 };
  }
}

// ---- text as other programs paste it ----

/** The statement, where replacing what other programs paste makes it one. */
function fromPaste(form: Form, text: string): Parsed | undefined {
  const mended = withoutSlips(text) ?? (form.id === 'numbers' ? withoutNumbers(text) : undefined);
  for (const { text: candidate, problems } of mended ? [mended] : withoutOneQuote(text)) {
    const statement = attempt(form, candidate);
    if ('expected' in statement) continue;
    const read = asWritten(
      checked(form, statement, []),
      problems.flatMap(({ fix }) => fix ?? []),
    );
    return { ...read, problems: [...problems, ...read.problems] };
  }
  return undefined;
}

// ---- text of which the beginning makes sense ----

function fromPrefix(form: Form, text: string, failure: Failure): Parsed {
  const problem = unreadable(form, text, failure);
  const end = wordStart(text, failure.offset);
  const prefix = text.slice(0, end).trimEnd();
  if (prefix !== '' && prefix !== text) {
    const statement = attempt(form, prefix);
    if (!('expected' in statement)) {
      const parsed = checked(form, statement, [problem]);
      return { ...parsed, rest: end };
    }
  }
  const stub = headerStub(form, text);
  return stub === undefined ? { problems: [problem] } : { statement: stub, problems: [problem] };
}

/** Where the word that holds this offset begins. */
function wordStart(text: string, offset: number): number {
  let start = offset;
  while (start > 0 && !/\s/.test(text[start - 1] as string)) start--;
  return start;
}

/** A block whose heading is damaged keeps its name where there is one, so that what it holds stays its own. */
function headerStub(form: Form, text: string): Statement | undefined {
  if (!form.opens && !form.mayOpen) return undefined;
  const found = /^\S+\s+([\p{L}\p{N}_+*/~#$!-]+)/u.exec(text);
  const subject: Item[] = [];
  if (found?.[1] !== undefined && form.word !== '=') {
    const from = found[0].length - found[1].length;
    subject.push({ kind: 'item', first: found[1], from, to: found[0].length });
  }
  return { form: form.id, subject, attributes: [], from: 0, to: text.length };
}

/** What could stand where the text fails; where only a space could, what could follow it. */
function expectations(form: Form, text: string, { expected, offset }: Failure): readonly Expectation[] {
  if (offset < text.length || expected.some(({ description }) => description !== 'space')) return expected;
  const spaced = attempt(form, `${text} `);
  return 'expected' in spaced ? spaced.expected : expected;
}

/** The last word of a line that ends too early: there is nothing behind it to point at. */
function lastWord(text: string): { from: number; to: number } {
  const to = text.trimEnd().length;
  return { from: Math.min(wordStart(text, to), Math.max(0, to - 1)), to };
}

function unreadable(form: Form, text: string, failure: Failure): Problem {
  const found = wordAt(text, failure.offset);
  const expected = expectedWords(form, expectations(form, text, failure));
  const span = found === '' ? lastWord(text) : { from: failure.offset, to: failure.offset + found.length };
  const wantsName = failure.expected.some((one) =>
    ['name', 'place, such as CAGE.3.14'].includes(one.description ?? ''),
  );
  if (wantsName && /^[a-z][a-z-]*$/.test(found)) {
    const quoted = `"${found}"`;
    const fix = {
      from: failure.offset,
      to: failure.offset + found.length,
      text: quoted,
      title: `write ${code(quoted)}`,
    };
    const message = `${foundExpected(found, expected)}; ${code(found)} is a word of the language: as a name it is written in quotes`;
    return { rule: 'line-unreadable', ...span, message, fix };
  }
  const hint = form.example === '' ? '' : `; for example ${code(form.example)}`;
  return { rule: 'line-unreadable', ...span, message: `${foundExpected(found, expected)}${hint}` };
}

// ---- what the grammar leaves open ----

/** Names each bare quantity by what it measures, and reports units, doubles and omissions. */
function checked(form: Form, statement: Statement, mended: readonly Problem[]): Parsed {
  const problems = [...mended];
  const attributes: Attribute[] = [];
  const seen = new Set<string>();
  for (const one of statement.attributes) {
    const attribute = one.key === '' ? classified(form, one, seen, problems) : one;
    if (one.key !== '') checkUnits(form, one, problems);
    checkDates(one.values, problems);
    if (seen.has(attribute.key) && !form.repeats?.includes(attribute.key)) {
      const message = `${code(attribute.key)} is said twice on one line; keep one`;
      problems.push({ rule: 'attribute-twice', from: one.from, to: one.to, message });
    }
    seen.add(attribute.key);
    attributes.push(attribute);
  }
  for (const need of form.needs ?? []) {
    const blank = need === 'text' ? blankText(attributes) : undefined;
    if (blank !== undefined) {
      const message = `there is nothing in the quotes, expected the reason; for example ${code(form.example)}`;
      problems.push({ rule: 'attribute-missing', from: blank.from, to: blank.to, message });
    }
    if (seen.has(need) || (need === 'legs' && seen.has('by'))) continue;
    problems.push({
      rule: 'attribute-missing',
      from: statement.from,
      to: statement.to,
      message: `the line ends, expected ${needed(need)}; for example ${code(form.example)}`,
    });
  }
  const asRead = statement.attributes.every((one, i) => one === attributes[i]);
  return { statement: asRead ? statement : { ...statement, attributes }, problems };
}

/** The words in quotes where there are none. */
const blankText = (attributes: readonly Attribute[]): Attribute | undefined =>
  attributes.find(
    ({ key, values: [value] }) => key === 'text' && value?.kind === 'text' && value.value.trim() === '',
  );

const needed = (key: string): string => {
  if (key === 'text') return 'the reason in quotes';
  if (key === 'legs') return 'a value to a rail, such as `220 ohm to +5V`';
  return key in examples ? `${key} such as ${examples[key as Dimension]}` : code(key);
};

function classified(form: Form, bare: Attribute, seen: ReadonlySet<string>, problems: Problem[]): Attribute {
  const value = bare.values[0] as Quantity;
  const wanted = form.bare ?? [];
  const measured = dimensionOf(value);
  if (measured !== undefined && wanted.includes(measured)) return { ...bare, key: measured };
  const likely = likelyUnit(value.unit) ?? printedCode(value)?.unit;
  const guess = likely === undefined ? undefined : units.get(likely)?.dimension;
  const dimension =
    guess !== undefined && wanted.includes(guess)
      ? guess
      : (wanted.find((one) => !seen.has(one)) ?? wanted[0] ?? 'voltage');
  problems.push(wrongUnit(value, [...wanted], dimension));
  return { ...bare, key: dimension };
}

function checkUnits(form: Form, attribute: Attribute, problems: Problem[]): void {
  for (const value of attribute.values) {
    if (value.kind !== 'quantity') continue;
    const wanted = wantedBehind(form, attribute.key);
    const measured = dimensionOf(value);
    if (measured === undefined || !wanted.includes(measured)) {
      problems.push(wrongUnit(value, wanted, wanted[0] as Dimension));
    }
  }
}

function wantedBehind(form: Form, key: string): Dimension[] {
  const keyed = form.keyed?.[key];
  if (keyed !== undefined) return [keyed];
  if (key === 'legs') return ['resistance'];
  if (key === 'need') return ['current'];
  return ['resistance', 'voltage', 'current'];
}

function wrongUnit(value: Quantity, wanted: readonly Dimension[], dimension: Dimension): Problem {
  const range = value.high === undefined ? value.low : `${value.low}..${value.high}`;
  const expected = spoken(wanted.map((one) => `${one} such as ${examples[one]}`));
  const coded = printedCode(value);
  if (coded) {
    const text = `${coded.low} ${coded.unit}`;
    const message = `found ${code(value.low + value.unit)}, expected ${expected}; write ${code(text)}`;
    const fix = { from: value.from, to: value.to, text, title: `write ${code(text)}` };
    return { rule: 'unit-wrong', from: value.from, to: value.to, message, fix };
  }
  const likely = likelyUnit(value.unit);
  const right =
    likely !== undefined && wanted.includes(units.get(likely)?.dimension as Dimension) ? likely : undefined;
  const known =
    canonicalUnit(value.unit) === undefined ? '' : ` (${code(value.unit)} measures ${dimensionOf(value)})`;
  const found = value.unit === '' ? `${code(range)} without a unit` : `the unit ${code(value.unit)}`;
  const { from, to } = value.unit === '' ? value : { from: value.unitFrom, to: value.to };
  const says = `found ${found}${known}, expected ${expected}`;
  const problem = { rule: 'unit-wrong', from, to };
  if (right !== undefined) {
    const text = `${range} ${right}`;
    const fix = { from: value.from, to: value.to, text, title: `write ${code(text)}` };
    return { ...problem, message: `${says}; write ${code(text)}`, fix };
  }
  // Only the writer knows what was meant by a unit that measures something else, or by one that nobody knows.
  if (value.unit !== '' || wanted.length > 1)
    return { ...problem, message: `${says}; write the number with the unit it was read in` };
  const text = `${range} ${usual[dimension]}`;
  const fix = {
    from: value.from,
    to: value.to,
    text,
    title: `write the unit it was read in: ${code(text)}, if that is it`,
  };
  return { ...problem, message: says, fix };
}

/** Days that the calendar does not have. */
function checkDates(values: Attribute['values'], problems: Problem[]): void {
  for (const value of values) {
    if (value.kind !== 'date' || !/^\d{4}-\d\d-\d\d$/.test(value.text)) continue;
    const day = new Date(`${value.text}T00:00:00Z`);
    if (!Number.isNaN(day.getTime()) && day.toISOString().startsWith(value.text)) continue;
    const message = `found ${code(value.text)}, which is no day of the calendar; dates are written year-month-day`;
    problems.push({ rule: 'line-unreadable', from: value.from, to: value.to, message });
  }
}
