import { describe, expect, it } from 'vitest';
import { formatChanges } from '../../../src/editing/formatting.ts';
import { parseDocument } from '../../../src/language/blocks.ts';

const UGLY = 'supply PSU{\n rail +5V   5V\n   ground GND\r\n}\n  title "x"\n';

/** The new text of each line that changes, by its number. */
const changed = (first?: number, last?: number): string[] =>
  formatChanges(parseDocument(UGLY), first, last).map(({ from, to, text }) => {
    const line = UGLY.slice(0, from).split('\n').length;
    expect(UGLY.slice(from, to)).toBe(UGLY.split(/\r?\n/)[line - 1]);
    return `${line}:${text}`;
  });

describe('formatting', () => {
  it('changes the lines that are not in their form', () => {
    expect(changed()).toEqual(['1:supply PSU {', '2:  rail    +5V    5 V', '3:  ground  GND', '5:title "x"']);
  });

  it('of some lines knows the block they are in, and leaves the others', () => {
    expect(changed(1, 2)).toEqual(['2:  rail    +5V    5 V', '3:  ground  GND']);
    expect(changed(4, 99)).toEqual(['5:title "x"']);
  });
});
