import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { cage } from './mating-machine.ts';

const RULE = 'mate-wrong-slot';
const KEY = 'key between 1, 2';

/** A second backplane with rails exchanged on the same edge. */
const other = ({
  slots = ' guides',
  table = `  1, A = GND by meter
  2, B = +12V by meter
  3, C = spare
  4, D = +5V by meter`,
}): string => `bus X on E8 {
${table}
}
backplane AUX {
  slots 1 on X${slots}
  feed GND from PSU at 1
  feed +12V from PSU at 2
  feed +5V from PSU at 4
}
fitted AUX {
  1 = empty
}`;

const two = (parts: { slots?: string; aux?: string; table?: string; edge?: string; mark?: string }): string =>
  cage({
    slots: parts.slots ?? ' guides',
    ...(parts.edge === undefined ? {} : { edge: parts.edge }),
    fitted: `  1 = CPU${parts.mark ?? ''}\n  2 = empty`,
    rest: other({
      ...(parts.aux === undefined ? {} : { slots: parts.aux }),
      ...(parts.table === undefined ? {} : { table: parts.table }),
    }),
  });

describe(RULE, () => {
  test('a slot of another bus with the same socket', () => {
    expectMarked(RULE, two({ mark: ` #! warning ${RULE}` }));
    const [finding] = findingsOf(two({})).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'CPU put into AUX.1: +12V of PSU, up to 1 A, meets what CPU takes as +5V (CPU.edge.2 on AUX.1.2); nothing that the file says prevents it',
    );
    expect(finding?.fix).toBe(
      'a key between 1 and 2 of E8 on B, and a key between 2 and 3 of E8 on X prevent it; until then write the slot on the board and the board at its slot, and read both before it goes in',
    );
  });

  test('silent in another slot of its own bus', () => {
    expectSilent(RULE, cage({ slots: ' guides' }));
  });

  test('silent where each contact meets the line that it is made for', () => {
    const table = `  1, A = GND by meter
  2, B = +5V by meter
  3, C = spare
  4, D = +12V by meter`;
    const text = two({ table }).replace(
      'feed +12V from PSU at 2\n  feed +5V from PSU at 4',
      'feed +5V from PSU at 2\n  feed +12V from PSU at 4',
    );
    expectSilent(RULE, text);
  });

  test('silent where the two are keyed differently, on both halves', () => {
    const edge = `  edge on B {\n    ${KEY}\n  }`;
    expectSilent(RULE, two({ slots: ` guides ${KEY}`, aux: ' guides key between 2, 3', edge }));
  });

  test('the key of the other slot alone is a question only where the board’s half is unsaid', () => {
    // The socket says a key; the board at home in a slot that is keyed otherwise does not say its half.
    expectMarked(
      RULE,
      two({ slots: ` guides ${KEY}`, aux: ' guides key between 2, 3', mark: ` #! question ${RULE}` }),
    );
  });

  test('the same bus with other lines in some slots', () => {
    const bus = `  1, A = GND by meter
  2, B = +5V by meter
  3 = D0
  C = D1
  4, D = +12V in 1 by meter
  4, D = D2 in 2`;
    const rest = 'card MEM {\n  edge on B\n  takes +5V 100 mA\n  drives D2 with 74LS244\n  untouched rest\n}';
    expectMarked(
      RULE,
      cage({ bus, slots: ' guides', rest, fitted: `  1 = CPU\n  2 = MEM #! warning ${RULE}` }),
    );
  });
});
