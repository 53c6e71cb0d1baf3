import { describe, expect, it } from 'vitest';
import { type HintKinds, inlayHints } from '../../../src/editing/inlay-hints.ts';
import type { TextRange } from '../../../src/editing/semantic-tokens.ts';
import { opened } from '../../support/project.ts';

const ALL: HintKinds = { ranges: true, unknown: true };

/** The lines that have hints, each with the hint in ‹› where it stands. */
function hinted(text: string, kinds = ALL, range?: TextRange): string[] {
  const { project, file } = opened(text);
  const hints = inlayHints(project.of(file)!, file, range ?? { from: 0, to: text.length }, kinds);
  let shown = text;
  for (const { offset, label } of [...hints].reverse())
    shown = `${shown.slice(0, offset)}‹${label}›${shown.slice(offset)}`;
  return shown
    .split('\n')
    .filter((line) => line.includes('‹'))
    .map((line) => line.trim());
}

const TEXT = `connector E44 {
  shape edge 2 x 22
  numbers 1..22, A..Z
}
connector IDC8 {
  shape header 2 x 4
  numbers zigzag
}
bus MAIN on E44 {
  A..J = A0..A7
  1..4 = D0..D3
  5..8 = D7..D4
  12..9 = C3..C0
  20..22 = unknown
}
card CPU {
  edge on MAIN
  drives A0..A7 with 74LS244
  untouched rest
  port J1 on IDC8 {
    2..8 step 2 = Q0..Q3
    1..7 step 2 = GND
  }
}
`;

describe('inlayHints', () => {
  it('says what lettered ranges skip, how crossed ranges pair off, and what is left open', () => {
    expect(hinted(TEXT)).toEqual([
      'numbers 1..22, A..Z‹skips G I O Q›',
      'A..J = A0..A7‹skips G I›',
      '5..8 = D7..D4‹5 = D7 … 8 = D4›',
      '}‹21 contacts unsaid, 3 unknown›',
      'untouched rest‹36 contacts›',
      '2..8 step 2 = Q0..Q3‹2 = Q0 … 8 = Q3›',
    ]);
  });

  it('counts as left what has no name, whatever else of the card has none', () => {
    expect(hinted(TEXT.replace('1..7 step 2 = GND', '1..7 step 2 = spare'))).toContain(
      'untouched rest‹36 contacts›',
    );
  });

  it('gives the kinds that are wanted alone', () => {
    expect(hinted(TEXT, { ranges: false, unknown: true })).toEqual([
      '}‹21 contacts unsaid, 3 unknown›',
      'untouched rest‹36 contacts›',
    ]);
    expect(hinted(TEXT, { ranges: false, unknown: false })).toEqual([]);
  });

  it('gives those that can be seen alone', () => {
    const from = TEXT.indexOf('A..J');
    expect(hinted(TEXT, ALL, { from, to: from + 14 })).toEqual(['A..J = A0..A7‹skips G I›']);
  });

  it('says nothing of letters that the connector has none of', () => {
    const text = 'connector E4 {\n shape row 4\n numbers 1..4\n}\nbus B on E4 {\n A..C = D0..D2\n}';
    expect(hinted(text, { ranges: true, unknown: false })).toEqual([]);
  });
});
