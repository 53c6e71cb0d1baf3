import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { format } from '../../../src/language/format.ts';
import { forms } from '../../../src/language/forms.ts';
import { damages, statementsOf } from '../../support/damage.ts';
import { generatedText } from '../../support/generate.ts';

const UGLY = `pinout 1
  supply   PSU{
rail +5V   max 12 A 5V 2% by meter   "at the lugs" # main rail
     # a remark of its own
 ground GND
}
bus MAIN on E {
1,A=GND
  4..11=D0..D7 by trace
   this line is broken "and stays
14>15=GRANT
}
`;

const TIDY = `pinout 1
supply PSU {
  rail    +5V    5 V     2 %   max 12 A  by meter "at the lugs"  # main rail
  # a remark of its own
  ground  GND
}
bus MAIN on E {
  1, A          = GND
  4..11         = D0..D7        by trace
   this line is broken "and stays
  14 > 15       = GRANT
}
`;

describe('format', () => {
  test('one way to write each line, and broken lines as they stand', () => {
    expect(format(UGLY)).toBe(TIDY);
  });

  test('line breaks of every kind stay', () => {
    expect(format('title "a"\r\n\ttitle "b"\r title "c"')).toBe('title "a"\r\ntitle "b"\rtitle "c"');
  });

  test('a longer name in one line leaves the others as they are', () => {
    const lines = (name: string): string[] =>
      format(`bus B on E {\n1 = ${name}\n2 = D1 by trace\n}`).split('\n');
    expect(lines('AVERYVERYLONGNAMEINDEED').filter((_, i) => i !== 1)).toEqual(
      lines('D0').filter((_, i) => i !== 1),
    );
  });

  const example = generatedText({ slots: 2, contacts: 40 });

  test('is idempotent and loses no statement and no remark on damaged text', () => {
    for (const { text, what } of damages(`${example}# remark\n`, 17)) {
      const once = format(text);
      expect(format(once), what).toBe(once);
      expect([...statementsOf(once)], what).toEqual([...statementsOf(text)]);
      expect(visible(once), what).toBe(visible(text));
    }
  });

  test('is idempotent and keeps every visible character of any text', () => {
    const words = forms.flatMap((form) => form.example.split(' '));
    const piece = fc.oneof(
      fc.constantFrom(...words, '{', '}', '#', '"', '\n', '\n', '=', '5 V', '\u2212'),
      fc.string({ maxLength: 6 }),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 60 }), (pieces) => {
        const text = pieces.join(' ');
        const once = format(text);
        expect(format(once)).toBe(once);
        expect(visible(once)).toBe(visible(text));
      }),
      { numRuns: 500 },
    );
  });
});

test('lines of every form and braces in any order: idempotent, and every statement stays what it was', () => {
  const openers = forms.filter((form) => form.opens).map((form) => form.example.replace(/ \{$/, ''));
  const line = fc.constantFrom(
    ...forms.map((form) => form.example),
    ...openers,
    '}',
    '}',
    '} x',
    'x {',
    '{',
    '# r',
    '',
  );
  const indented = fc.tuple(fc.nat({ max: 3 }), line).map(([depth, text]) => '  '.repeat(depth) + text);
  fc.assert(
    fc.property(fc.array(indented, { maxLength: 10 }), (lines) => {
      const text = lines.join('\n');
      const once = format(text);
      expect(format(once)).toBe(once);
      expect([...statementsOf(once)].sort()).toEqual([...statementsOf(text)].sort());
    }),
    { numRuns: 1500 },
  );
});

test('a byte order mark stays', () => {
  expect(format('\ufefftitle   "x"')).toBe('\ufefftitle "x"');
});

/** The characters that a person sees, in order of their code, without those whose spelling or order is canonical. */
function visible(text: string): string {
  return [...text.replace(/[\s\u200b\u03a9\u2126\u00b5\u03bc\ufeff]|ohm|uA/gu, '').replaceAll('\u00d7', 'x')]
    .sort()
    .join('');
}

test('the tree gives the text back', () => {
  const { lines } = parseDocument(UGLY);
  expect(lines.map((line) => line.text + line.eol).join('')).toBe(UGLY);
});
