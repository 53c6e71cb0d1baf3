import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { cage } from './mating-machine.ts';

const RULE = 'mate-turned';
const KEY = 'key between 1, 2';
const KEYED = `  edge on B {\n    ${KEY}\n  }`;
const marked = (severity: string): string => `  1 = CPU #! ${severity} ${RULE}\n  2 = empty`;

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe(RULE, () => {
  test('a board that nothing keeps out, told in one sentence', () => {
    expectMarked(RULE, cage({ fitted: marked('warning') }));
    expect(told(cage({}))).toEqual([
      'CPU turned in any slot of CAGE: GND of CPU stands on +12V of PSU, up to 1 A: all its other contacts then lie below its ground (CPU.edge.1 on CAGE.1.D); nothing that the file says prevents it',
    ]);
  });

  test('boards of one card are told together', () => {
    expectMarked(RULE, cage({ fitted: `  1 = CPU as A #! warning ${RULE}\n  2 = CPU as B` }));
    expect(told(cage({ fitted: '  1 = CPU as A\n  2 = CPU as B' }))).toEqual([
      expect.stringMatching(/^A and B turned in any slot of CAGE: /),
    ]);
  });

  test('what it destroys may be on another board', () => {
    const bus = `  1, D = GND by meter
  2, C = +5V by meter
  3 = D0
  B = spare
  4, A = +12V by meter`;
    // Turned, the link between these fingers takes +5 V, which it meets on one of them, to the line on the other.
    const rest = 'card LINK {\n  edge on B\n  wire edge.B to edge.2 by trace\n  untouched rest\n}';
    const text = cage({ bus, rest, fitted: `  1 = CPU #! ${RULE}\n  2 = LINK #! warning ${RULE}` });
    expectMarked(RULE, text);
    expect(told(text)).toContain(
      'LINK turned in CAGE.2: +5V of PSU, up to 5 A, meets D0 of CPU (74LS244), whose output pulls against it (LINK.edge.B on CAGE.2.3); nothing that the file says prevents it',
    );
  });

  test('silent behind guides, and behind a key off the middle that both halves have', () => {
    expectSilent(RULE, cage({ slots: ' guides' }));
    expectSilent(RULE, cage({ socket: `  ends closed\n  ${KEY}` }));
    expectSilent(RULE, cage({ slots: ` ${KEY}`, edge: KEYED }));
  });

  test('a key in the middle keeps nothing out', () => {
    expectMarked(RULE, cage({ socket: '  ends closed\n  key between 2, 3', fitted: marked('warning') }));
  });

  test('a half that nobody says is a question, whichever it is', () => {
    expectMarked(RULE, cage({ slots: ` ${KEY}`, fitted: marked('question') }));
    expectMarked(RULE, cage({ edge: KEYED, fitted: marked('question') }));
    const moved = KEYED.replace('1, 2', '2, 3');
    expectMarked(RULE, cage({ slots: ` ${KEY}`, edge: moved, fitted: marked('question') }));
    const [finding] = findingsOf(cage({ slots: ` ${KEY}` })).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toMatch(
      /; prevented only if socket and board are keyed alike, which nobody says$/,
    );
    expect(finding?.fix).toBe(
      'look for the slot in the tongue of CPU.edge that lets the key of CAGE.1 pass, and write `key between` for the board too',
    );
  });

  test('a slot of which nobody says the key is a question for every board that has a slot for it', () => {
    const text = cage({ edge: KEYED, slots: '' }).replace(
      '  slots 1..2 on B',
      `  slots 1 on B ${KEY}\n  slots 2 on B`,
    );
    expectMarked(RULE, text.replace('1 = CPU', `1 = CPU #! question ${RULE}`));
  });

  test('silent in connectors that go in one way only', () => {
    expectSilent(RULE, cage({ socket: '' }).replace('shape edge 2 x 4', 'shape din 2 x 4'));
  });

  test('silent where outputs fight, and nothing worse', () => {
    const bus = `  1, D = GND by meter
  2, C = +5V by meter
  3 = D0
  B = D1
  4, A = +12V by meter`;
    const text = cage({ bus });
    // Ground and rails face themselves; only the lines meet.
    expectSilent(RULE, text);
  });

  test('contacts that nobody knows are never silent where it can go in', () => {
    const bus = `  1, D = GND by meter
  2, C = +5V by meter
  3 = D0
  B = unknown
  4, A = +12V by meter`;
    const text = (mark: string): string => cage({ bus, fitted: `  1 = CPU${mark}\n  2 = empty` });
    expectMarked(RULE, text(` #! question ${RULE}`));
    expect(told(text(''))).toEqual([
      'CPU turned in any slot of CAGE meets 1 unknown contact: whether that does harm nobody can tell',
    ]);
    expectSilent(RULE, cage({ bus, slots: ' guides' }));
  });

  test('an allow line by board, card or slot silences it', () => {
    for (const place of ['CPU', 'CAGE.1'])
      expectSilent(
        [RULE, 'allow-unused'],
        cage({ rest: `allow ${RULE} at ${place} "the handle shows the way"` }),
      );
  });
});
