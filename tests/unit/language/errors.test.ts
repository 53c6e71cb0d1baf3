import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { statementsOf } from '../../support/damage.ts';
import { findingsOf } from '../../support/machine.ts';

/** The text with the place of its first problem marked, the message, and the text after its fix. */
function first(text: string): { rule: string; at: string; message: string; fixed?: string } {
  const [problem] = parseDocument(text).problems;
  if (problem === undefined) throw new Error('no problem found');
  const { rule, from, to, message, fix } = problem;
  const fixed = fix && text.slice(0, fix.from) + fix.text + text.slice(fix.to);
  return { rule, at: text.slice(from, to), message, ...(fixed === undefined ? {} : { fixed }) };
}

const supply = (line: string): string => `supply PSU {\n  ${line}\n}`;
const card = (line: string): string => `card C {\n  ${line}\n}`;

describe('every error says where, what was found, what was expected, and how to mend it', () => {
  test.each([
    ['a missing unit', supply('rail +5V 5 V max 12'), 'unit-wrong', '12', supply('rail +5V 5 V max 12 A')],
    [
      'a wrong unit',
      supply('rail +5V 5 V max 12 amps'),
      'unit-wrong',
      'amps',
      supply('rail +5V 5 V max 12 A'),
    ],
    ['Mohm', card('pull-up X 1 Mohm to +5V'), 'unit-wrong', 'Mohm', card('pull-up X 1 megohm to +5V')],
    ['4k7', card('pull-up X 4k7 to +5V'), 'unit-wrong', '4k7', card('pull-up X 4.7 kohm to +5V')],
    [
      'inches by their sign',
      'connector C {\n  pitch 0.156"\n}',
      'pasted-form',
      '"',
      'connector C {\n  pitch 0.156 in\n}',
    ],
    [
      '`and` between contacts',
      'connector C {\n  key between 4 and 5\n}',
      'pasted-form',
      ' and ',
      'connector C {\n  key between 4, 5\n}',
    ],
    [
      'a list behind `zigzag`',
      'connector C {\n  numbers zigzag 1..20 by meter\n}',
      'line-unreadable',
      'zigzag 1..20',
      'connector C {\n  numbers zigzag by meter\n}',
    ],
    [
      'a list before `zigzag`',
      'connector C {\n  numbers 1..20 zigzag\n}',
      'line-unreadable',
      '1..20 zigzag',
      'connector C {\n  numbers zigzag\n}',
    ],
    [
      'the meter\u2019s sign for open',
      'readings {\n  A.1 to A.2 = OL\n}',
      'pasted-form',
      'OL',
      'readings {\n  A.1 to A.2 = open\n}',
    ],
    ['a decimal comma', card('takes +5V 2,5 A'), 'pasted-form', ',', card('takes +5V 2.5 A')],
    [
      'a minus sign',
      supply('rail \u221212V \u221212 V'),
      'pasted-form',
      '\u2212',
      supply('rail -12V \u221212 V'),
    ],
    ['curly quotes', 'title \u201cRack 2\u201d', 'pasted-form', '\u201c', 'title "Rack 2\u201d'],
    ['a no-break space', supply('rail +5V 5\u00a0V'), 'pasted-form', '\u00a0', supply('rail +5V 5 V')],
    [
      'a word of the language as a name',
      'bus B on C {\n  1 = key\n}',
      'line-unreadable',
      'key',
      'bus B on C {\n  1 = "key"\n}',
    ],
    ['a mistyped word', card('tkaes +5V 1 A'), 'word-unknown', 'tkaes', card('takes +5V 1 A')],
    [
      'a missing brace',
      'card C\n  takes +5V 1 A\n}',
      'brace-misplaced',
      'card C',
      'card C {\n  takes +5V 1 A\n}',
    ],
    ['a brace too many', 'title "x"\n}', 'brace-misplaced', '}', 'title "x"\n'],
    [
      'text behind a brace',
      'card C { takes +5V 1 A\n}',
      'brace-misplaced',
      'takes +5V 1 A',
      'card C { \ntakes +5V 1 A\n}',
    ],
    ['a lone quote', 'title "Rack" 2"', 'pasted-form', '"', 'title "Rack 2"'],
  ])('%s', (_, text, rule, at, fixed) => {
    const problem = first(text);
    expect(problem).toMatchObject({ rule, at, fixed });
    expect(problem.message).toMatch(/expected|write|remove/);
  });

  test.each([
    ['an unknown word', 'frobnicate 7', 'word-unknown', 'frobnicate'],
    ['a line of another block', 'takes +5V 1 A', 'line-misplaced', 'takes'],
    ['an attribute twice', supply('rail +5V 5 V max 1 A max 2 A'), 'attribute-twice', 'max 2 A'],
    ['an attribute missing', 'bus B {\n}', 'attribute-missing', 'bus B'],
    ['a reason of no words', 'allow rail-unused at +24V "  "', 'attribute-missing', '"  "'],
    ['a reason missing', 'allow rail-unused at +24V', 'attribute-missing', 'allow rail-unused at +24V'],
    ['a unit of something else', supply('rail +5V 5 V max 12 V'), 'unit-wrong', 'V'],
    ['a file that ends in a block', 'card C {', 'block-unclosed', 'card C'],
    [
      'a block in a block in a block',
      'card C {\nport J on X {\nport K on X {\n}\n}\n}',
      'block-unclosed',
      'port K on X',
    ],
  ])('%s', (_, text, rule, at) => {
    expect(first(text)).toMatchObject({ rule, at });
  });

  test.each([
    [
      'a day that the calendar does not have',
      'bus B on C {\n  1 = X by meter 2026-13-40\n}',
      'line-unreadable',
      '2026-13-40',
    ],
    [
      'a date in another order',
      'bus B on C {\n  1 = X by meter 14/3/2026\n}',
      'line-unreadable',
      '14/3/2026',
    ],
    ['another version of the language', 'pinout 2', 'line-unreadable', '2'],
    ['a unit that nobody knows', 'connector C {\n  pitch 156 furlongs\n}', 'unit-wrong', 'furlongs'],
  ])('%s: refused without a guess at what was meant', (_, text, rule, at) => {
    expect(first(text)).toMatchObject({ rule, at });
    expect(first(text).fixed).toBeUndefined();
  });

  test('a kind of block is spoken with its article', () => {
    const text = 'card C {\n  edge on B {\n    slots 1..2\n  }\n}';
    expect(parseDocument(text).problems[0]?.message).toContain(
      'belongs in a backplane block; in an edge block expected',
    );
  });

  test('rows and positions may be written together', () => {
    expect(parseDocument('connector C {\n  shape edge 2x22\n}').problems).toEqual([]);
  });

  test('nothing is concluded from a value without a unit', () => {
    const text = `supply P {
  rail +12V 12 V max 2 A
  ground GND
}
connector E {
  shape edge 1 x 2
  ends closed
  contact 1 A
}
bus B on E {
  1 = GND by meter
  2 = +12V by meter
}
backplane K {
  slots 1 on B guides
  feed GND from P at 1
  feed +12V from P at 2
}
card C {
  edge on B
  takes +12V 200
  untouched rest
}
fitted K {
  1 = C
}`;
    expect(
      findingsOf(text)
        .filter(({ severity }) => severity !== 'note')
        .map(({ rule }) => rule),
    ).toEqual(['unit-wrong']);
    expect(findingsOf(text.replace('+12V 200', '+12V 200 A')).map(({ rule }) => rule)).toContain(
      'supply-overload',
    );
  });

  test('the value is kept where its unit is wrong', () => {
    expect([...statementsOf(supply('rail +5V 5 V max 12 amps')).keys()]).toContain(
      'supply: rail    +5V    5 V     max 12 amps',
    );
  });

  test('what could follow is told in the trade\u2019s words', () => {
    expect(first(supply('rail +5V 5 V bax 12 A')).message).toContain('`max`');
    expect(first(card('takes 5 A')).message).not.toContain('peg');
  });

  test('two statements on one line are both kept', () => {
    const statements = [...statementsOf('fitted F {\n  1 = CPU 2 = RAM\n}').keys()].map((one) =>
      one.replace(/ {2,}/g, ' '),
    );
    expect(statements).toEqual(['file: fitted F', 'fitted: 1 = CPU', 'fitted: 2 = RAM']);
  });
});
