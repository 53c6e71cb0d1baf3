import { describe, expect, it } from 'vitest';
import { pastedTable } from '../../../src/editing/paste.ts';
import { opened } from '../../support/project.ts';

const BLOCK = `pinout 1
connector EDGE44 {
  shape    edge 2 x 22
  numbers  1..22, A..Z
}
bus MAIN on EDGE44 {
|
}
`;

function pasted(table: string, files = BLOCK): string[] | undefined {
  const { project, file, offset } = opened(files);
  return pastedTable(project.of(file)!, file, offset, table)
    ?.replace(/\n$/, '')
    .split('\n')
    .map((line) => line.replace(/ +/g, ' ').trimEnd());
}

describe('a table becomes contact lines', () => {
  it('from a spreadsheet, with headings and a vector', () => {
    const table =
      'Pin\tSignal\tNotes\n1\tGND\t\n2\t+5V\tred wire\n4\tD0\t\n5\tD1\t\n6\tD2\t\n7\t/RD\tactive low\n';
    expect(pasted(table)).toEqual([
      ' 1 = GND',
      ' 2 = +5V # red wire',
      ' 4..6 = D0..D2',
      ' 7 = /RD # active low',
    ]);
  });

  it('from separated values, quoted as they are', () => {
    expect(pasted('A,"GND"\nB,"+5V"\nC,"Data, low"\n')).toEqual([' A = GND', ' B = +5V', ' C = "Data, low"']);
    expect(pasted('1;GND\n2;+5V\n')).toEqual([' 1 = GND', ' 2 = +5V']);
  });

  it('from a wiki page', () => {
    const table =
      "{| class=\"wikitable\"\n! Pin !! Name\n|-\n| 1 || GND\n|-\n| 2 || '''+5V'''\n|-\n| 3\n| [[Reset|/RESET]]\n|}";
    expect(pasted(table)).toEqual([' 1 = GND', ' 2 = +5V', ' 3 = /RESET']);
  });

  it('from a Markdown table', () => {
    expect(pasted('| Contact | Line |\n| --- | --- |\n| 1 | GND |\n| A | `/RD` |\n')).toEqual([
      ' 1 = GND',
      ' A = /RD',
    ]);
  });

  it('with both sides of a card in one row', () => {
    const table = 'Pin\tComponent side\tPin\tSolder side\n1\tGND\tA\tGND\n2\t+5V\tB\t+5V\n3\tD0\tC\t\n';
    expect(pasted(table)).toEqual([
      ' 1 = GND',
      ' 2 = +5V',
      ' 3 = D0',
      ' A = GND',
      ' B = +5V',
      ' C = unknown',
    ]);
  });

  it('with a column for each row of a DIN connector', () => {
    const din = BLOCK.replace('shape    edge 2 x 22', 'shape    din 3 x 32').replace(
      '1..22, A..Z',
      'a1..a32, b1..b32, c1..c32',
    );
    const table = 'Pin\tRow a\tRow b\tRow c\n1\tD00\tBBSY*\tD08\n2\tD01\tBCLR*\tD09\n3\tD02\tACFAIL*\tD10\n';
    expect(pasted(table, din)).toEqual([
      ' a1..a3 = D00..D02',
      ' b1 = BBSY*',
      ' b2 = BCLR*',
      ' b3 = ACFAIL*',
      ' c1..c3 = D08..D10',
    ]);
  });

  it('with how it is known', () => {
    const table = 'pin\tname\tsource\n1\tGND\tsilk screen\n2\t+5V\tmeter\n3\t+12V\tasked around\n';
    expect(pasted(table)).toEqual([
      ' 1 = GND by silkscreen "silk screen"',
      ' 2 = +5V by meter',
      ' 3 = +12V by "asked around"',
    ]);
  });

  it('with what is not connected, unknown, spare, or a word of the language', () => {
    expect(pasted('1\tNC\n2\t?\n3\tspare\n4\tclock\n5\t−12V\n6\t/RD (active low)\n')).toEqual([
      ' 1 = unknown # NC',
      ' 2 = unknown',
      ' 3 = spare',
      ' 4 = "clock"',
      ' 5 = -12V',
      ' 6 = /RD # active low',
    ]);
  });

  it('with several contacts of one name as one line', () => {
    expect(pasted('1\tGND\n2\tGND\n3\tGND\n4\t+5V\n')).toEqual([' 1..3 = GND', ' 4 = +5V']);
  });

  it('losing nothing: what is no line is a remark', () => {
    expect(pasted('Pin\tSignal\n1\tGND\n\tsee sheet 2\n2\t+5V\n')).toEqual([
      ' 1 = GND',
      ' # see sheet 2',
      ' 2 = +5V',
    ]);
  });

  it('that the checker reads without error', () => {
    const { project, file, offset, texts } = opened(BLOCK);
    const lines = pastedTable(
      project.of(file)!,
      file,
      offset,
      'Pin\tName\n1\tGND\n2\tNC\n3\tDATA 7\n4\t"\n5\t{x}\n',
    )!;
    const text = texts.get(file)!;
    project.set(file, text.slice(0, offset) + lines + text.slice(offset));
    expect(project.document(file)!.problems).toEqual([]);
  });
});

describe('names keep what belongs to them', () => {
  const names = (cells: readonly string[]) =>
    pasted(cells.map((cell, i) => `${i + 1}\t${cell}`).join('\n'))!.map((line) => line.replace(/.* = /, ''));

  it('stars and strokes that are no emphasis', () => {
    expect(names(['IRQ**', '**GND**', "A'' ", '**RD***'])).toEqual(['IRQ**', 'GND', '"A\'\'"', 'RD*']);
  });

  it('the sign of a rail, by whatever stroke it is written', () => {
    expect(names(['–5V', '—12V', '－24V', '＋5V'])).toEqual(['-5V', '-12V', '-24V', '+5V']);
  });

  it('without marks that nobody sees', () => {
    expect(names(['\u202eGND\u202c', 'A0\u200b', '\ufeffA2'])).toEqual(['GND', 'A0', 'A2']);
  });

  it('and columns before the contacts that are no mere count', () => {
    const lines = pasted('Row\tColour\tPin\tSignal\n1\tred\t1\tGND\n2\tblue\t2\tA0\n')!;
    expect(lines).toEqual([' 1 = GND # red', ' 2 = A0 # blue']);
  });

  it('in time that grows with the cell', () => {
    const started = performance.now();
    pasted(['1', '2', '3'].map((pin) => `${pin}\t${'[['.repeat(20_000)}`).join('\n'));
    expect(performance.now() - started).toBeLessThan(2_000);
  });
});

describe('is pasted as it is', () => {
  it.each([
    ['a sentence', 'The connector is on the left, near the fan.'],
    ['code', 'if (a) {\n  b();\n}\n'],
    ['lines of the language', '  1 = GND\n  2 = +5V\n'],
    ['a table of something else', 'Item\tPrice in cents\nscrew\tcheap\nnut\tcheaper\n'],
    ['one word', 'GND'],
    ['nothing', ''],
  ])('%s', (_, text) => {
    expect(pasted(text)).toBeUndefined();
  });

  it('outside a table of contacts', () => {
    expect(pasted('1\tGND\n2\t+5V\n', 'pinout 1\n|\n')).toBeUndefined();
  });
});
