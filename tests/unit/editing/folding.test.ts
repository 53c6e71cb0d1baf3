import { expect, it } from 'vitest';
import { foldsIn } from '../../../src/editing/folding.ts';
import { parseDocument } from '../../../src/language/blocks.ts';

/** `4-9 block`, lines from 1. */
const folds = (text: string): string[] =>
  foldsIn(parseDocument(text)).map(({ from, to, kind }) => `${from + 1}-${to + 1} ${kind}`);

it('folds blocks up to their closing brace, runs of remarks, and runs of uses', () => {
  const text = `pinout 1
# A rack.
# Found in a cellar.
use "bus.pinout"
use published "isa-8"
allow rail-unused at +24V "spare"

card CPU {
  # one remark alone
  edge on MAIN {
    18 = TICK
  }
  takes +5V 1 A
}
`;
  expect(folds(text)).toEqual(['2-3 comment', '4-6 uses', '8-13 block', '10-11 block']);
});

it('folds a block that nothing closes up to where it ends, and no empty one', () => {
  expect(folds('bus B on E {\n}\nbus C on E {\n  1 = GND\n  2 = +5V')).toEqual(['3-5 block']);
});
