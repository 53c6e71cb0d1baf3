// Where things stand in a line that is read as it was meant: positions are those of the text as written.
import { describe, expect, it } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import type { Document } from '../../../src/language/tree.ts';

/** Values of the statements within the first block, as they stand in the text. */
function valuesIn({ text, root }: Document): string[] {
  return root.entries.flatMap(({ block }) =>
    (block?.entries ?? []).flatMap(({ offset, statement: { subject, attributes } }) =>
      [...subject, ...attributes.flatMap((one) => one.values)].map(({ from, to }) =>
        text.slice(offset + from, offset + to),
      ),
    ),
  );
}

const mended = (document: Document, fix: { from: number; to: number; text: string }): string =>
  document.text.slice(0, fix.from) + fix.text + document.text.slice(fix.to);

describe('a pasted form', () => {
  it.each([
    ['an ellipsis', 'rail +5V 5\u20266 V 8 A', ['+5V', '5\u20266 V', '8 A']],
    ['an invisible character', 'rail \u200b+5V 5 V 8 A', ['+5V', '5 V', '8 A']],
    ['one within a name', 'sense +S for +5\u200bV', ['+S', '+5\u200bV']],
    ['a dash', 'rail -12V \u221212 V', ['-12V', '\u221212 V']],
  ])('moves nothing behind it: %s', (_, line, values) => {
    const found = valuesIn(parseDocument(`supply PSU {\n  ${line}\n}\n`));
    expect(found.map((one) => one.replace(/^\u200b/, ''))).toEqual(values);
  });

  it('leaves the change of a unit behind it where the unit stands', () => {
    const text = 'supply PSU {\n  rail +5V 5\u20266 v max 8 A\n}\n';
    const document = parseDocument(text);
    const unit = document.problems.find(({ rule }) => rule === 'unit-wrong')!;
    expect(text.slice(unit.from, unit.to)).toBe('v');
    expect(mended(document, unit.fix!)).toBe('supply PSU {\n  rail +5V 5..6 V max 8 A\n}\n');
  });
});

describe('a mistyped first word', () => {
  it.each([
    ['a letter short', 'rai +5V 5 V max 8 A', ['+5V', '5 V', '8 A']],
    ['a letter more', 'raill +5V 5 V max 8 A', ['+5V', '5 V', '8 A']],
    ['grown together with its name', 'rail+5V 5 V max 8 A', ['+5V', '5 V', '8 A']],
  ])('moves nothing behind it: %s', (_, line, values) => {
    expect(valuesIn(parseDocument(`supply PSU {\n  ${line}\n}\n`))).toEqual(values);
  });

  it('of a block leaves its name where it stands', () => {
    const { text, root } = parseDocument('suply PSU {\n  ground GND\n}\n');
    const { offset, statement } = root.entries[0]!;
    expect(statement.subject.map(({ from, to }) => text.slice(offset + from, offset + to))).toEqual(['PSU']);
  });
});
