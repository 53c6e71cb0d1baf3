import { describe, expect, it } from 'vitest';
import { type OutlineEntry, outlineOf } from '../../../src/editing/outline.ts';
import { opened } from '../../support/project.ts';

/** `card CPU | Processor`, children indented. */
function outline(text: string): string[] {
  const { project, file } = opened(text);
  const lines = (entries: readonly OutlineEntry[], indent: string): string[] =>
    entries.flatMap(({ form, name, detail, children }) => [
      `${indent}${form}: ${name}${detail === '' ? '' : ` | ${detail}`}`,
      ...lines(children, `${indent}  `),
    ]);
  return lines(outlineOf(project.of(file)!, file), '');
}

describe('outlineOf', () => {
  it('shows blocks with their lines, each with what matters of it', () => {
    const text = `pinout 1
title "Tide gauge"
supply PSU {
  rail +5V 5 V 2 % max 12 A by silkscreen
  ground GND, AGND
}
connector EDGE44 {
  shape edge 2 x 4
  numbers 1..4, A..D
  ends closed
}
bus MAIN on EDGE44 {
  1, A   =  GND by silkscreen
  2 > 3  = GRANT
  4      = unknown
}
backplane CAGE {
  slots 1..3 on MAIN pitch 25.4 mm
  feed GND from PSU at 1
}
card CPU "Processor" {
  edge on MAIN
  drives D0..D7, /RD with 74LS244 three-state by trace
}
fitted CAGE {
  1 = CPU date 8327
  2 = CPU as SPARE {
    without U5
  }
}
loose CPU as LAST "on the shelf"
cable C1 {
  CAGE.1.1..2 = CAGE.2.1..2
}
readings 2026-05-02 cards out {
  CAGE.1.3 to CAGE.2.3 = 0.2 ohm
}
`;
    expect(outline(text)).toEqual([
      'title: title "Tide gauge"',
      'supply: PSU | +5V',
      '  rail: +5V | 5 V  2 %  max 12 A',
      '  ground: ground GND, AGND',
      'connector: EDGE44 | edge 2 x 4',
      '  shape: shape | edge 2 x 4',
      '  numbers: numbers 1..4, A..D',
      '  ends: ends closed',
      'bus: MAIN | 8 contacts, 1 unknown, 3 unsaid',
      '  entry: GND | 1, A',
      '  entry: GRANT | 2 > 3',
      '  entry: unknown | 4',
      'backplane: CAGE | 2 of 3 slots fitted',
      '  slots: slots 1..3 | on MAIN  pitch 25.4 mm',
      '  feed: feed GND | from PSU  at 1',
      'card: CPU | Processor',
      '  edge: edge | on MAIN',
      '  drives: drives D0..D7, /RD | with 74LS244  three-state',
      'fitted: fitted CAGE | 2 of 3 slots fitted',
      '  slot: CPU | slot 1',
      '  slot: SPARE | CPU, slot 2',
      '    without: without U5',
      'loose: CPU | as LAST  "on the shelf"',
      'cable: C1 | CAGE.1 to CAGE.2',
      '  join: CAGE.1.1..2 = CAGE.2.1..2',
      'readings: readings 2026-05-02 | 1 reading',
      '  reading: CAGE.1.3 to CAGE.2.3 | 0.2 ohm',
    ]);
  });

  it('holds a block to its closing brace, and what names it within', () => {
    const text = 'card A "x" {\n  edge on B\n}  # end\npinout 1';
    const { project, file } = opened(text);
    const [{ from, to, nameFrom, nameTo }] = outlineOf(project.of(file)!, file) as [OutlineEntry];
    expect(text.slice(from, to)).toBe('card A "x" {\n  edge on B\n}  # end');
    expect(text.slice(nameFrom, nameTo)).toBe('A');
  });

  it('does not turn its writing direction with a note', () => {
    const [, card] = outline('pinout 1\ntitle "x"\ncard CPU "\u202eDNG" {\n}\n');
    expect(card).toBe('card: CPU | ?DNG');
  });
});
