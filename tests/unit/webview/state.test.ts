import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readKept } from '../../../src/drawing/to-host.ts';
import { FRESH, readState, type State } from '../../../src/webview/state.ts';

const KEPT: State = {
  ...FRESH,
  root: '/machine/main.pinout',
  wanted: { view: 'connector', of: 'CPU.J2' },
  marks: 'current',
  filter: { text: 'a', group: 'data', evidence: 'unsaid', finding: 'chain-broken' },
  side: 'wiring',
  scale: '1:1',
  selected: { row: 3, column: 1 },
  left: 12.5,
  top: 300,
};

it.each([FRESH, KEPT])('reads what a page kept, as it comes back from JSON', (kept) => {
  expect(readState(JSON.parse(JSON.stringify(kept)))).toEqual(kept);
});

it('tells the host the machine and the drawing, and nothing else', () => {
  expect(readKept(JSON.parse(JSON.stringify(KEPT)))).toEqual({ root: KEPT.root, wanted: KEPT.wanted });
});

it.each<[string, object]>([
  ['other marks', { marks: 'weight' }],
  ['another view', { wanted: { view: 'card', of: 'CPU' } }],
  ['a filter by an unknown group', { filter: { group: 'spare' } }],
  ['a side that there is not', { side: 'top' }],
  ['a cell that is none', { selected: { row: '1', column: 1 } }],
  ['a place that is no number', { top: null }],
])('begins afresh after %s', (_, change) => {
  expect(readState({ ...KEPT, ...change })).toEqual(FRESH);
});

it('begins afresh after anything else', () => {
  fc.assert(
    fc.property(fc.anything(), (kept) => {
      expect(readState(kept)).toEqual(FRESH);
    }),
  );
});

it('has no drawing for the host in anything else', () => {
  fc.assert(
    fc.property(fc.anything(), (kept) => {
      expect(readKept(kept)).toBeUndefined();
    }),
  );
});
