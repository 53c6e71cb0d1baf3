import { describe, expect, it } from 'vitest';
import type { Change } from '../../../src/checks/types.ts';
import { applied, textChanges } from '../../../src/editing/changes.ts';
import { parseDocument } from '../../../src/language/blocks.ts';

type Source = { readonly file: string; readonly from: number; readonly to: number };

/** The text after changes of the place marked `«…»` in it; undefined where they cannot be made. */
function changed(marked: string, changesAt: (at: Source) => Change[], file = 'm.pinout'): string | undefined {
  const from = marked.indexOf('«');
  const to = marked.indexOf('»') - 1;
  const text = marked.replace(/[«»]/g, '');
  const changes = textChanges(
    { title: 'do it', changes: changesAt({ file, from, to }) },
    new Map([[file, parseDocument(text)]]),
  );
  return changes.length === 0 ? undefined : applied(text, changes);
}

const places = (labels: string, ...at: string[]) => {
  const all = labels.split(' ');
  return { labels: all, places: at.map((label) => all.indexOf(label)) };
};

describe('a line added to a block', () => {
  const add = (line: string) => (into: Source) => [{ kind: 'add', line, into } as const];

  it('stands before its brace, at the columns of its form', () => {
    expect(
      changed(
        'backplane CAGE {\n  slots 1..4 on MAIN\n}\n'.replace('b', '«b').replace('CAGE', 'CAGE»'),
        add('feed +5V from PSU at 2'),
      ),
    ).toBe('backplane CAGE {\n  slots 1..4 on MAIN\n  feed         +5V                from PSU    at 2\n}\n');
  });

  it('stands behind its last line where nothing closes it', () => {
    expect(changed('«card CPU» {\n  edge         on MAIN\n\n', add('passes GRANT'))).toBe(
      'card CPU {\n  edge         on MAIN\n  passes       GRANT\n\n',
    );
  });

  it('opens the block that may be opened, and leaves the remark', () => {
    expect(changed('fitted C {\n  «3 = RAM»  # old\n}\n', add('without RN1'))).toBe(
      'fitted C {\n  3    = RAM {                          # old\n    without      RN1\n  }\n}\n',
    );
  });

  it('stands beside another, with the line breaks of the file', () => {
    const change = (beside: Source): Change[] => [{ kind: 'add', line: '5 = empty bridge A', beside }];
    expect(changed('fitted C {\r\n  «4    = CPU»\r\n}\r\n', change)).toBe(
      'fitted C {\r\n  4    = CPU\r\n  5    = empty     bridge A\r\n}\r\n',
    );
  });

  it('is not added to what opens no block', () => {
    expect(changed('card C {\n  «takes +5V 1 A»\n}\n', add('passes A'))).toBeUndefined();
  });
});

describe('a block', () => {
  const ribbon = (after: Source): Change[] => [
    { kind: 'block', lines: ['ribbon W1 10 way {', 'end A.J1', '}'], after },
  ];

  it('stands behind the outermost block around a place, a blank line on either side', () => {
    expect(changed('fitted C {\n  «1 = A»\n}\nloose B\n', ribbon)).toBe(
      'fitted C {\n  1 = A\n}\n\nribbon W1 10 way {\n  end  A.J1\n}\n\nloose B\n',
    );
  });

  it('stands at the end of a file without a last line break', () => {
    expect(changed('«loose B»', ribbon)).toBe('loose B\n\nribbon W1 10 way {\n  end  A.J1\n}');
  });
});

describe('a line taken out', () => {
  it('goes with its break and its block', () => {
    const remove = (source: Source): Change[] => [{ kind: 'remove', source }];
    expect(changed('title "x"\n«loose A» {\n  without R1\n}\nloose B\n', remove)).toBe(
      'title "x"\nloose B\n',
    );
  });
});

describe('what a statement says', () => {
  const say = (say: Record<string, string>, at?: ReturnType<typeof places>) => (source: Source) => [
    { kind: 'say', source, say, ...(at ? { at } : {}) } as const,
  ];

  it('is said anew, before how it is known', () => {
    expect(changed('ribbon W 4 way {\n  «end A.J1 by trace»\n}\n', say({ stripe: 'stripe 1' }))).toBe(
      'ribbon W 4 way {\n  end  A.J1         stripe 1  by trace\n}\n',
    );
  });

  it('is said otherwise, or not at all', () => {
    const after = { after: 'after 8', before: '' };
    expect(changed('backplane C {\n  «terminate D0 220 ohm to +5V before 1»\n}\n', say(after))).toBe(
      'backplane C {\n  terminate    D0                 220 ohm to +5V  after 8\n}\n',
    );
  });

  it('is said of one contact only: the others keep what the line says', () => {
    const at = places('1 2 3 4 5 6 7 8', '6');
    expect(changed('bus J on H {\n  1..8 = «D0..D7» by trace  # data\n}\n', say({ is: '/WR' }, at))).toBe(
      'bus J on H {\n  1..5, 7, 8    = D0..D4, D6, D7  by trace  # data\n  6             = /WR\n}\n',
    );
  });

  it('is said of every contact that a line has', () => {
    const line = 'bus J on H {\n  «1, 3 = GND by trace»\n}\n';
    expect(changed(line, say({ is: '+5V', by: 'by meter' }, places('1 2 3', '1', '3')))).toBe(
      'bus J on H {\n  1, 3          = +5V           by meter\n}\n',
    );
  });

  it('is said of one slot of several', () => {
    const at = places('1 2 3 4 5 6', '4');
    expect(changed('fitted C {\n  «3..6 = empty»\n}\n', say({ bridge: 'bridge A' }, at))).toBe(
      'fitted C {\n  3, 5, 6 = empty\n  4    = empty     bridge A\n}\n',
    );
  });

  it('keeps the steps of contacts that a line counts by two', () => {
    const at = places('1 2 3 4 5 6 7 8 9', '5');
    expect(changed('bus J on H {\n  «1..9 step 2 = GND»\n}\n', say({ is: 'X' }, at))).toBe(
      'bus J on H {\n  1, 3, 7, 9    = GND\n  5             = X\n}\n',
    );
  });

  it('is not said of one end of a chain', () => {
    const at = places('1 2', '1');
    expect(changed('bus B on H {\n  «1 > 2 = GRANT»\n}\n', say({ is: 'X' }, at))).toBeUndefined();
  });
});

describe('a list', () => {
  const list = (from: string[], to: string[]) => (source: Source) => [
    { kind: 'list', source, from, to } as const,
  ];
  const line = 'card C {\n  «receives D0..D3, /RD with 74LS»\n}\n';

  it('gets more names, vectors together', () => {
    expect(changed(line, list([], ['D4', '/WR']))).toBe(
      'card C {\n  receives     D0..D4, /RD, /WR   with 74LS\n}\n',
    );
  });

  it('loses names, and has others for some', () => {
    expect(changed(line, list(['/RD', 'D3'], ['/OE']))).toBe(
      'card C {\n  receives     D0..D2, /OE        with 74LS\n}\n',
    );
  });

  it('goes with its line where nothing is left', () => {
    expect(changed('card C {\n  «passes A»\n}\n', list(['A'], []))).toBe('card C {\n}\n');
  });

  it('is left alone where a name is not in it', () => {
    expect(changed(line, list(['D9'], []))).toBeUndefined();
  });
});

describe('an edit', () => {
  it('is not made in a table that ships with the product', () => {
    const remove = (source: Source): Change[] => [{ kind: 'remove', source }];
    expect(changed('«title "x"»\n', remove, 'published:isa-8')).toBeUndefined();
  });

  it('is not made where two of its changes overlap', () => {
    const both = (source: Source): Change[] => [
      { kind: 'replace', source, text: 'A' },
      { kind: 'replace', source, text: 'B' },
    ];
    expect(changed('card «C» {\n}\n', both)).toBeUndefined();
  });

  it('changes nothing but what it says, and the columns of that line', () => {
    const text = 'card C {\n takes   +5V 1 A\n   passes «A»\n}\n';
    expect(changed(text, (source) => [{ kind: 'replace', source, text: 'B' }])).toBe(
      'card C {\n takes   +5V 1 A\n  passes       B\n}\n',
    );
  });
});

describe('a letter of two units', () => {
  const [one, other, third] = ['\u{10400}', '\u{10401}', '\u{10801}'];
  it.each([
    [one, other],
    [other, third],
  ])('is changed as a whole', (from, to) => {
    const text = `card C {\n  receives     X${from}Y\n}\n`;
    const at = text.indexOf('X');
    const source = { file: 'm.pinout', from: at, to: at + 4 };
    const edit = { title: 'do it', changes: [{ kind: 'replace', source, text: `X${to}Y` } as const] };
    const [change] = textChanges(edit, new Map([['m.pinout', parseDocument(text)]]));
    expect(change?.text).toBe(to);
    expect(text.slice(change?.from, change?.to)).toBe(from);
  });
});
