import { describe, expect, it } from 'vitest';
import { applied } from '../../../src/editing/changes.ts';
import { refactorings } from '../../../src/editing/refactorings.ts';
import { opened } from '../../support/project.ts';

const HEAD = 'connector EDGE44 {\n  shape     edge 2 x 22\n  numbers   1..22, A..Z\n}\n';

/** What is offered at the cursor, by title; the text after the one that fits. */
function at(marked: string): { titles: string[]; after: (title: RegExp) => string } {
  const { project, file, offset, texts } = opened(HEAD + marked);
  const found = refactorings(project.of(file)!, file, { from: offset, to: offset });
  return {
    titles: found.map(({ title }) => title),
    after: (title) =>
      applied(texts.get(file)!, found.find((one) => title.test(one.title))?.changes ?? []).slice(HEAD.length),
  };
}

describe('lists and ranges', () => {
  it('names of a line become a vector, and back', () => {
    const list = 'card C {\n  receives     D0|, D1, D2, /RD    with 74LS\n}\n';
    const range = 'card C {\n  receives     D0..D2, /RD        with 74LS\n}\n';
    expect(at(list).titles).toEqual(['write as ranges']);
    expect(at(list).after(/ranges/)).toBe(
      list.replace('|', '').replace('D0, D1, D2, /RD    ', 'D0..D2, /RD        '),
    );
    expect(at(range.replace('D0', 'D|0')).titles).toEqual(['write the ranges out']);
    expect(at(range.replace('D0', 'D|0')).after(/out/)).toBe(list.replace('|', ''));
  });

  it('contacts go in the order of their connector', () => {
    const bus = (contacts: string): string => `bus MAIN on EDGE44 {\n  ${contacts} = GND\n}\n`;
    expect(at(bus('|F..J')).after(/out/)).toBe(bus('F, H, J      '));
    expect(at(bus('F|, H, J, K')).after(/as ranges/)).toBe(bus('F..K         '));
    expect(at(bus('1, 3, 5, 7|')).after(/as ranges/)).toBe(bus('1..7 step 2  '));
  });

  it('a falling vector stays one', () => {
    const bus = (names: string): string => `bus MAIN on EDGE44 {\n  1..3          = ${names}\n}\n`;
    expect(at(bus('IRQ7*..IRQ5*|')).after(/out/)).toBe(bus('IRQ7*, IRQ6*, IRQ5*'));
    expect(at(bus('IRQ7*|, IRQ6*, IRQ5*')).after(/as ranges/)).toBe(bus('IRQ7*..IRQ5*'));
  });

  it('are not offered off the list, nor where there is nothing to do', () => {
    expect(at('card C {\n  receives D0, D1, D2 with 74|LS\n}\n').titles).toEqual([]);
    expect(at('card C {\n  receives D0|, /RD with 74LS\n}\n').titles).toEqual([]);
    expect(at('card C {\n  untouched re|st\n}\n').titles).toEqual([]);
  });
});

describe('a bus from a card edge', () => {
  const CARD = `# the processor
card CPU {
  edge on EDG|E44 {                      # fingers
    # both ends
    1, 22         = GND           by trace
    2..3          = D0..D1
  }
  takes        +5V                1 A
}
`;

  it('has the lines of the table, with their remarks; the edge is made for it', () => {
    expect(at(CARD).after(/CPU-BUS/)).toBe(`bus CPU-BUS on EDGE44 {
  # both ends
  1, 22         = GND           by trace
  2..3          = D0..D1
}

# the processor
card CPU {
  edge         on CPU-BUS               # fingers
  takes        +5V                1 A
}
`);
  });

  it('leaves keys with the edge', () => {
    const after = at(CARD.replace('    2..3 ', '    key between 9, 10\n    2..3 ')).after(/CPU-BUS/);
    expect(after).toContain('on CPU-BUS {             # fingers\n    key between 9, 10\n  }\n');
    expect(after).toContain('2..3          = D0..D1\n}\n');
  });

  it('is not offered where the edge has a bus already', () => {
    const bus = 'bus MAIN on EDGE44 {\n  1 = GND\n}\n';
    expect(at(bus + CARD.replace('EDG|E44', 'MA|IN')).titles).toEqual([]);
  });
});

describe('a table', () => {
  it('is sorted by contact, remarks going with their lines', () => {
    const table =
      'bus MAIN on EDGE44 {\n  ground  GND\n  A             = D0|\n  # fed by lugs\n  1             = GND\n}\n';
    expect(at(table).after(/sort/)).toBe(
      'bus MAIN on EDGE44 {\n  ground  GND\n  # fed by lugs\n  1             = GND\n  A             = D0\n}\n',
    );
  });

  it('is left alone where it is in order', () => {
    expect(at('bus MAIN on EDGE44 {\n  1 = GN|D\n  2 = +5V\n}\n').titles).toEqual([]);
  });
});
