import { code } from './problems.ts';
import type { Fix, Parsed, Problem, Span, Value } from './tree.ts';

/** A text with what other programs paste, or a finger slips in, replaced; and what was replaced. */
export interface Mended {
  readonly text: string;
  readonly problems: readonly Problem[];
}

interface Slip {
  readonly pattern: RegExp;
  readonly says: string;
  readonly instead: string;
}

const slips: readonly Slip[] = [
  { pattern: /[\u2212\u2010\u2011\u2012\u2013\u2014]/g, says: 'a dash', instead: '-' },
  { pattern: /[\u201c\u201d\u201e\u00ab\u00bb]/g, says: 'a curly quote', instead: '"' },
  { pattern: /[\u00a0\u2000-\u200a\u202f\u3000]/g, says: 'a no-break space', instead: ' ' },
  { pattern: /[\u200b-\u200f\u2060\ufeff]/g, says: 'an invisible character', instead: '' },
  { pattern: /\u2026/g, says: 'an ellipsis', instead: '..' },
  { pattern: /(?<=\d),(?=\d+ ?[\p{L}%]+(?:\s|,|$))/gu, says: 'a decimal comma', instead: '.' },
  { pattern: /(?<=\s)(?:->|=>|\u2192)(?=\s)|:=/g, says: 'an arrow', instead: '=' },
  { pattern: /[{}]/g, says: 'a brace amid the line', instead: '' },
  { pattern: /(?<=between +\w+) +and +(?=\w)/g, says: '`and`', instead: ', ' },
  {
    pattern: /(?<=^feed\s[^"]*\sat +)(?:contacts?|pins?) +(?=\S)/g,
    says: 'a word for the contact',
    instead: '',
  },
  {
    pattern: /(?<== *)(?:OL|O\.L\.?|0L|inf)(?=\s|$)/g,
    says: 'the meter\u2019s sign for no connection',
    instead: 'open',
  },
];

/** What is quoted stays as it is: a note may hold any character. */
const QUOTED = /"[^"]*"/g;

/** The text with all slips outside quotes replaced; undefined where there are none. */
export function withoutSlips(text: string): Mended | undefined {
  const quoted = [...text.matchAll(QUOTED)].map(
    (found) => [found.index, found.index + found[0].length] as const,
  );
  const outside = (at: number): boolean => !quoted.some(([from, to]) => at > from && at < to);
  const found: { from: number; to: number; slip: Slip }[] = [];
  for (const slip of slips) {
    for (const one of text.matchAll(slip.pattern)) {
      if (outside(one.index)) found.push({ from: one.index, to: one.index + one[0].length, slip });
    }
  }
  if (found.length === 0) return undefined;
  found.sort((a, b) => a.from - b.from);
  let mended = '';
  let at = 0;
  for (const { from, to, slip } of found) {
    if (from < at) continue;
    mended += text.slice(at, from) + slip.instead;
    at = to;
  }
  return {
    text: mended + text.slice(at),
    problems: found.map(({ from, to, slip }) => slipped(from, to, slip)),
  };
}

function slipped(from: number, to: number, { says, instead }: Slip): Problem {
  const gone = instead.trim() === '';
  const title = gone ? (instead === '' ? 'take it out' : 'write a plain space') : `write ${code(instead)}`;
  const expected = gone ? (instead === '' ? 'nothing' : 'a plain space') : code(instead);
  return {
    rule: 'pasted-form',
    from,
    to,
    message: `found ${says}, expected ${expected}`,
    fix: { from, to, text: instead, title },
  };
}

/** The text without one of its quotes, where their number is odd: one candidate a quote, the last first. */
export function* withoutOneQuote(text: string): Iterable<Mended> {
  const quotes = [...text.matchAll(/"/g)].map((found) => found.index);
  if (quotes.length % 2 === 0 || quotes.length > 5) return;
  for (const from of quotes.reverse()) {
    const to = from + 1;
    if (/\d/.test(text[from - 1] ?? '')) yield inches(text, from);
    const fix = { from, to, text: '', title: 'take the quote out' };
    const message = 'found a quote without its partner, expected `"` on both sides of a text';
    yield {
      text: text.slice(0, from) + text.slice(to),
      problems: [{ rule: 'pasted-form', from, to, message, fix }],
    };
  }
}

const NUMBERED = /^numbers\s+(?=(?:\S+\s+)*?(zigzag|around)(?:\s|$))([^\s"]+(?:\s+(?!by\b)[^\s"]+)*)/;

/** `numbers zigzag 1..20`, either way round, without the list: a scheme numbers all contacts of the shape. */
export function withoutNumbers(text: string): Mended | undefined {
  const found = NUMBERED.exec(text);
  const [all, scheme, said] = found ?? [];
  if (all === undefined || scheme === undefined || said === undefined || said === scheme) return undefined;
  const [from, to] = [all.length - said.length, all.length];
  const write = code(`numbers ${scheme}`);
  const fix = { from, to, text: scheme, title: `write ${write}` };
  const message = `found ${code(said)}, expected ${code(scheme)} alone, which numbers all contacts of the shape; write ${write}`;
  return {
    text: text.slice(0, from) + scheme + text.slice(to),
    problems: [{ rule: 'line-unreadable', from, to, message, fix }],
  };
}

/** `0.156"` is a length in inches. */
function inches(text: string, from: number): Mended {
  const to = from + 1;
  const fix = { from, to, text: ' in', title: 'write `in`' };
  const message = 'found `"` behind a number, expected `in` for inches';
  return {
    text: `${text.slice(0, from)} in${text.slice(to)}`,
    problems: [{ rule: 'pasted-form', from, to, message, fix }],
  };
}

// ---- back to the text as it was written ----

/** What was read in a mended text, with positions of the text as written. `fixes` are what was mended there, in order. */
export function asWritten(
  { statement, problems, rest }: Parsed,
  fixes: readonly Pick<Fix, 'from' | 'to' | 'text'>[],
): Parsed {
  const at = backFrom(fixes);
  const moved = <T extends Span>(span: T): T => ({ ...span, from: at(span.from), to: at(span.to) });
  const value = (one: Value): Value =>
    one.kind === 'quantity' ? { ...moved(one), unitFrom: at(one.unitFrom) } : moved(one);
  return {
    problems: problems.map((one) => ({ ...moved(one), ...(one.fix ? { fix: moved(one.fix) } : {}) })),
    ...(statement && {
      statement: {
        ...moved(statement),
        subject: statement.subject.map(value),
        attributes: statement.attributes.map((one) => ({ ...moved(one), values: one.values.map(value) })),
      },
    }),
    ...(rest === undefined ? {} : { rest: at(rest) }),
  };
}

/** An offset of the mended text → the offset of the text as written. Logarithmic: a line may hold thousands of slips. */
function backFrom(fixes: readonly Pick<Fix, 'from' | 'to' | 'text'>[]): (offset: number) => number {
  // Where each fix stands in the mended text, what it ends at as written, and how much longer the text is behind it.
  const steps: { from: number; to: number; end: number; grown: number }[] = [];
  for (const { from, to, text } of fixes) {
    const { end = 0, grown = 0 } = steps.at(-1) ?? {};
    if (from < end) continue;
    const start = from + grown;
    steps.push({ from: start, to: start + text.length, end: to, grown: grown + text.length - (to - from) });
  }
  return (offset) => {
    let [low, high] = [0, steps.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (steps[middle]!.from < offset) low = middle + 1;
      else high = middle;
    }
    const step = steps[low - 1];
    if (step === undefined) return offset;
    return offset < step.to ? step.end : offset - step.grown;
  };
}
