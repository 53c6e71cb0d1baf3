import { describe, expect, it } from 'vitest';
import { selectionsAt } from '../../../src/editing/selection.ts';
import { parseDocument } from '../../../src/language/blocks.ts';

function selections(marked: string): string[] {
  const offset = marked.indexOf('|');
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  return selectionsAt(parseDocument(text), offset).map(({ from, to }) => text.slice(from, to));
}

describe('selectionsAt', () => {
  it('grows from a value to its attribute, statement, line, block and file', () => {
    const block = 'card RAM {\n  takes +5V 1.1 A peak 2 A by meter  # cold\n}';
    expect(selections('pinout 1\ncard RAM {\n  takes +5V 1.1 A peak 2| A by meter  # cold\n}\n')).toEqual([
      '2 A',
      'peak 2 A',
      'takes +5V 1.1 A peak 2 A by meter',
      'takes +5V 1.1 A peak 2 A by meter  # cold',
      '  takes +5V 1.1 A peak 2 A by meter  # cold\n',
      block,
      `pinout 1\n${block}\n`,
    ]);
  });

  it('takes a text first without, then with its quotes', () => {
    expect(selections('title "Tide| gauge"').slice(0, 2)).toEqual(['Tide gauge', '"Tide gauge"']);
  });

  it('takes a remark as a whole', () => {
    expect(selections('pinout 1  # the ra|ck')).toEqual(['# the rack', 'pinout 1  # the rack']);
  });

  it('grows through both blocks of a nested one', () => {
    const port = '  port J1 on IDC26 {\n    1 = GND\n  }\n';
    expect(selections('card A {\n  port J1 on IDC26 {\n    1 = G|ND\n  }\n}')).toEqual([
      'GND',
      '1 = GND',
      '    1 = GND\n',
      'port J1 on IDC26 {\n    1 = GND\n  }',
      port,
      `card A {\n${port}}`,
    ]);
  });
});
