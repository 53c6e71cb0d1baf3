import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { isMap, parseDocument } from 'yaml';

interface Expression {
  readonly pattern: string;
  readonly flags: string;
}
type Written = string | Expression;

const text = readFileSync('syntaxes/language-configuration.json', 'utf8');
const configuration = JSON.parse(text) as {
  readonly wordPattern: Written;
  readonly indentationRules: {
    readonly increaseIndentPattern: Written;
    readonly decreaseIndentPattern: Written;
  };
  readonly onEnterRules: readonly {
    readonly beforeText: Written;
    readonly afterText: Written;
    readonly action: { readonly indent: string; readonly appendText?: string };
  }[];
};

const expression = (written: Written, flags = ''): RegExp =>
  typeof written === 'string'
    ? new RegExp(written, flags)
    : new RegExp(written.pattern, written.flags + flags);

describe('a double click takes a name as it is printed on the board', () => {
  test.each([
    ['  12 = /I|RQ', '/IRQ'],
    ['  takes +|5V 850 mA', '+5V'],
    ['  rail -5|.2V', '-5.2V'],
    ['  rail -5.|2V', '-5.2V'],
    ['  4..11 = D|0..D7', 'D0'],
    ['  4..11 = D0..D|7', 'D7'],
    ['  IRQ|7*..IRQ1*', 'IRQ7*'],
    ['  FRA|ME#  # remark', 'FRAME#'],
    ['  wire U3.|4 to J1.18', '4'],
    ['  wire RAM-|B.edge.19', 'RAM-B'],
    ['  220 k|Ω to GND', 'kΩ'],
    ['  drei|ßig = Ä', 'dreißig'],
    ['  self-|bridging', 'self-bridging'],
    ['  receives ~R|D, $A!', '~RD'],
  ])('%s', (marked, word) => {
    const at = marked.indexOf('|');
    const found = [...marked.replace('|', '').matchAll(expression(configuration.wordPattern, 'g'))].find(
      (one) => one.index <= at && one.index + one[0].length >= at,
    );
    expect(found?.[0]).toBe(word);
  });

  test('the pattern takes no empty word, which would hang an editor', () => {
    expect(expression(configuration.wordPattern).test('')).toBe(false);
    expect(expression(configuration.wordPattern).test('  ,"{}= ')).toBe(false);
  });
});

describe('Enter, where | is', () => {
  const pressed = (marked: string): string => {
    const [before = '', after = ''] = marked.split('|');
    const rule = configuration.onEnterRules.find(
      (one) => expression(one.beforeText).test(before) && expression(one.afterText).test(after),
    );
    return rule === undefined
      ? 'as ever'
      : [rule.action.indent, rule.action.appendText].filter(Boolean).join(' ');
  };

  test.each([
    ['bus MAIN on EDGE44 {|}', 'indentOutdent'],
    ['bus MAIN on EDGE44 { | }', 'indentOutdent'],
    ['bus MAIN on EDGE44 {|', 'indent'],
    ['edge on MAIN {|   ', 'indent'],
    ['edge on MAIN {  # what this card adds|', 'indent'],
    ['card C "a {" |', 'as ever'],
    ['# as in supply PSU {|', 'as ever'],
    ['  1 = GND|  # the outer row', 'as ever'],
    ['  1 = GND  # the outer| row', 'none # '],
    ['# a long remark,| that goes on', 'none # '],
    ['# a remark|', 'as ever'],
    ['#| a remark', 'as ever'],
    ['  3 = FRAME#| also F', 'as ever'],
    ['  title "rack # 2|, as found"', 'as ever'],
  ])('%s', (marked, does) => {
    expect(pressed(marked)).toBe(does);
  });
});

test.each([
  ['card CPU {', 'in'],
  ['  port J1 on IDC26 {   # to the display', 'in'],
  ['  1 = "{"', ''],
  ['  # {', ''],
  ['  3 = FRAME# {', 'in'],
  ['}', 'out'],
  ['  }', 'out'],
  ['  1 = GND  # }', ''],
])('the line after, or this line, stands further %s', (line, direction) => {
  const { increaseIndentPattern, decreaseIndentPattern } = configuration.indentationRules;
  expect(expression(increaseIndentPattern).test(line)).toBe(direction === 'in');
  expect(expression(decreaseIndentPattern).test(line)).toBe(direction === 'out');
});

test('the file is plain JSON without a key said twice', () => {
  const document = parseDocument(text, { uniqueKeys: true });
  expect(document.errors).toEqual([]);
  expect(isMap(document.contents)).toBe(true);
});

test('expressions take time linear in the line', () => {
  for (const line of [
    `"${'a" "'.repeat(5_000)}`,
    `x${' x#'.repeat(5_000)}`,
    '{'.repeat(10_000),
    ' '.repeat(10_000),
  ]) {
    const start = performance.now();
    for (const { beforeText, afterText } of configuration.onEnterRules) {
      expression(beforeText).test(line);
      expression(afterText).test(line);
    }
    expect(performance.now() - start).toBeLessThan(500);
  }
});
