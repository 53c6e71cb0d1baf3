/**
 * The syntax tree: plain data, every physical line in it exactly once, so that printing the lines gives the
 * text back. A statement's positions count from the first character of its own piece of text, which is why a
 * parsed statement can be kept and used again wherever the same words stand.
 */

/** Where a value stands: offsets of UTF-16 units, `to` exclusive. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * A name, contact label or dotted path, alone or as the two ends of a range (`D0..D7`, `A..Z`,
 * `1..19 step 2`, `PSU.P1.1..3`). Ranges are expanded by the machine, which knows the connector's order.
 */
export interface Item extends Span {
  readonly kind: 'item';
  readonly first: string;
  readonly last?: string;
  readonly step?: number;
  readonly quoted?: true;
}

/** A number with its unit, or a range of one (`7..11 V`). `unit` is as written; empty where it is missing. */
export interface Quantity extends Span {
  readonly kind: 'quantity';
  readonly low: string;
  readonly high?: string;
  readonly unit: string;
  readonly unitFrom: number;
}

export interface Text extends Span {
  readonly kind: 'text';
  readonly value: string;
}

/** A word of the language that stands as a value: `empty`, `zigzag`, `open`. */
export interface Word extends Span {
  readonly kind: 'word';
  readonly text: string;
}

/** A calendar date or a date code, as written. */
export interface DateText extends Span {
  readonly kind: 'date';
  readonly text: string;
}

export type Value = Item | Quantity | Text | Word | DateText;

/** What stands behind the subject. A quantity without a word before it is keyed by its dimension. */
export interface Attribute extends Span {
  readonly key: string;
  readonly values: readonly Value[];
}

export interface Statement extends Span {
  readonly form: string;
  readonly subject: readonly Value[];
  readonly attributes: readonly Attribute[];
}

/** A change that mends a problem: replace this span of the file's text. */
export interface Fix extends Span {
  readonly title: string;
  readonly text: string;
}

/** Something wrong with the text itself. Positions count from the start of the file. */
export interface Problem extends Span {
  readonly rule: string;
  readonly message: string;
  readonly fix?: Fix;
}

/** One run of code on a line. Every well-formed line has at most one. */
export interface Piece extends Span {
  /** `}` closes a block; `code` is a statement, which may open one. */
  readonly kind: 'code' | 'close';
  readonly opens: boolean;
}

/** A physical line; its positions count from the line's own start. */
export interface Line {
  /** Offset of the line in the file. */
  readonly start: number;
  readonly text: string;
  /** The line break as it stood in the file; empty on the last line. */
  readonly eol: string;
  readonly pieces: readonly Piece[];
  /** Where the comment's `#` stands, or -1. */
  readonly comment: number;
}

/** A statement in its place, with the block that it opened. */
export interface Entry {
  /** Index into the document's lines. */
  readonly line: number;
  /** Offset in the file that the statement's own positions count from. */
  readonly offset: number;
  readonly statement: Statement;
  readonly block?: Block;
}

export interface Block {
  readonly kind: string;
  readonly entries: readonly Entry[];
  /** Index of the line that closes it; of the last line that may belong to it where nothing does. */
  readonly end: number;
}

export interface Document {
  readonly text: string;
  readonly lines: readonly Line[];
  /** How deep the line's first piece stands: what its indentation should be. One number a line. */
  readonly depths: readonly number[];
  /** The statement parsed from each line's first piece, where it parsed whole. One a line. */
  readonly whole: readonly (Statement | undefined)[];
  readonly root: Block;
  /** Outermost blocks with nothing wrong in them, by the index of their first line. */
  readonly sound: ReadonlyMap<number, Entry>;
  readonly problems: readonly Problem[];
}

/** What became of one statement's text. Positions count from its start. */
export interface Parsed {
  /** The statement, also where a problem was mended to get it. Undefined where the text says nothing we know. */
  readonly statement?: Statement;
  readonly problems: readonly Problem[];
  /** Where a second statement may begin on the same line: everything before it was understood. */
  readonly rest?: number;
}

/** The first attribute of that key. */
export function attribute(statement: Statement, key: string): Attribute | undefined {
  for (const one of statement.attributes) if (one.key === key) return one;
  return undefined;
}

export function has(statement: Statement, key: string): boolean {
  return attribute(statement, key) !== undefined;
}

/** The items among an attribute's values (none where the attribute is absent). */
export function items(statement: Statement, key: string): readonly Item[] {
  return (attribute(statement, key)?.values ?? []).filter((v): v is Item => v.kind === 'item');
}

/** The quantity that an attribute holds. */
export function quantity(statement: Statement, key: string): Quantity | undefined {
  return attribute(statement, key)?.values.find((v): v is Quantity => v.kind === 'quantity');
}

/** The text or word or date that an attribute holds. */
export function said(statement: Statement, key: string): string | undefined {
  const value = attribute(statement, key)?.values[0];
  if (value === undefined) return undefined;
  if (value.kind === 'text') return value.value;
  if (value.kind === 'word' || value.kind === 'date') return value.text;
  return value.kind === 'item' ? value.first : undefined;
}

/** The items among a statement's subject. */
export function subjects(statement: Statement): readonly Item[] {
  return statement.subject.filter((v): v is Item => v.kind === 'item');
}
