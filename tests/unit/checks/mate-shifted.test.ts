import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { cage } from './mating-machine.ts';

const RULE = 'mate-shifted';
const OPEN = '  ends open';
const marked = (severity: string): string => `  1 = CPU #! ${severity} ${RULE}\n  2 = empty`;

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe(RULE, () => {
  test('open ends let a board in beside its place', () => {
    expectMarked(RULE, cage({ socket: OPEN, fitted: marked('warning') }));
    expect(told(cage({ socket: OPEN }))).toEqual([
      'CPU skewed by half a contact in any slot of CAGE: +12V of PSU, up to 1 A, meets D1 of CPU (74LS244), which stands 5.5 V (CPU.edge.C on CAGE.1.B); nothing that the file says prevents it; 2 other ways do harm too',
    ]);
  });

  test('guides hold it in its place, but let it skew', () => {
    expectMarked(RULE, cage({ socket: OPEN, slots: ' guides', fitted: marked('warning') }));
    expect(told(cage({ socket: OPEN, slots: ' guides' }))).toEqual([
      expect.not.stringContaining('other way'),
    ]);
  });

  test('silent where walls close the ends', () => {
    expectSilent(RULE, cage({}));
    expectSilent(RULE, cage({ slots: ' guides' }));
  });

  test('whether the ends are closed is a question where nobody says it', () => {
    expectMarked(RULE, cage({ socket: '', fitted: marked('question') }));
    expect(told(cage({ socket: '' }))).toEqual([
      expect.stringMatching(/; prevented only if the ends of the socket are closed, which nobody says/),
    ]);
  });

  test('silent where a key on both halves stands in the way; where one half is unsaid it is a question', () => {
    const key = 'key between 2, 3';
    const [said, unsaid] = [`  edge on B {\n    ${key}\n  }`, '  edge on B'];
    expectSilent(RULE, cage({ socket: OPEN, slots: ` guides ${key}`, edge: said }));
    const half = { socket: OPEN, slots: ` guides ${key}`, edge: unsaid, fitted: marked('question') };
    expectMarked(RULE, cage(half));
  });

  test('a key near the end leaves ways past it', () => {
    const text = cage({ socket: `${OPEN}\n  key between 1, 2`, fitted: marked('warning') });
    expectMarked(RULE, text);
    expect(told(text)).toEqual([expect.stringMatching(/^CPU skewed by half a contact /)]);
  });

  test('silent where nothing is harmed', () => {
    const bus = '  1..4, A..D = spare';
    const cpu = '  untouched rest';
    expectSilent(RULE, cage({ socket: OPEN, bus, cpu }).replace(/ {2}feed.*\n/g, ''));
  });
});
