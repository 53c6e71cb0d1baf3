import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { cage, lead } from './mating-machine.ts';

const RULE = 'key-pointless';

describe(RULE, () => {
  test('a key in the middle, told where the connector is described', () => {
    const text = cage({ socket: '  ends closed\n  key between 2, 3', slots: ' guides' });
    expectMarked(RULE, text.replace('connector E8 {', `connector E8 { #! warning ${RULE}`));
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'the key of E8 at 2|3 keeps nothing out: wherever the plug goes in straight, it goes in turned or shifted too',
    );
  });

  test('two keys that lie alike when the board is turned', () => {
    const keys = '  key between 1, 2\n  key between 3, 4';
    const text = cage({ socket: `  ends closed\n${keys}` });
    expectMarked(RULE, text.replace('connector E8 {', `connector E8 { #! warning ${RULE}`));
  });

  test('said of slots and edges', () => {
    const key = 'key between 2, 3';
    const text = cage({ slots: ` ${key}`, edge: `  edge on B {\n    ${key}\n  }` });
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.about).toContain('CPU');
  });

  test('silent where it keeps a turned board out, guides or not', () => {
    for (const slots of ['', ' guides'])
      expectSilent(RULE, cage({ socket: '  ends closed\n  key between 1, 2', slots }));
  });

  test('silent where it keeps a shifted board out of a socket with open ends', () => {
    expectSilent(RULE, cage({ socket: '  ends open\n  key between 2, 3' }));
  });

  test('silent where it keeps a board out of the slot of another bus', () => {
    const rest = 'bus X on E8 {\n  1 = spare\n}\nbackplane AUX {\n  slots 1 on X key between 3, 4\n}';
    const key = 'key between 2, 3';
    const text = cage({ slots: ` ${key}`, edge: `  edge on B {\n    ${key}\n  }`, rest });
    expectSilent(RULE, text);
  });

  test('silent where one half is unsaid: that is another question', () => {
    expectSilent(RULE, cage({ slots: ' key between 1, 2' }));
  });

  test('silent for plugged holes that keep a ribbon from being turned or beside its place', () => {
    expectSilent(RULE, lead({ header: '  pulled 8\n  plugged 8' }));
    expectSilent(RULE, lead({ header: '  shroud\n  pulled 8\n  plugged 8' }));
  });

  test('silent: a plugged hole behind a notch, which is a second guard against a bump that wears', () => {
    const ends = ['stripe 1 bump', 'stripe 1 bump'] as const;
    expectSilent(RULE, lead({ header: '  shroud notch\n  pulled 8\n  plugged 8', ends }));
  });
});
