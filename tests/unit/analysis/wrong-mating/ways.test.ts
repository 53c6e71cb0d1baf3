import { describe, expect, test } from 'vitest';
import { movesBetween } from '../../../../src/analysis/wrong-mating/ways.ts';
import type { Connector } from '../../../../src/machine/types.ts';
import { machineOf } from '../../../support/machine.ts';
import { wayText } from '../../../support/mating-reference-cases.ts';

const connector = (shape: string, numbers = ''): Connector =>
  machineOf(`connector C {\n  shape ${shape}\n${numbers}\n}`).machine.connectors[0]!;

const ways = (plug: Connector, socket = plug): string[] =>
  movesBetween(plug, socket).map(({ way: { turned, shift, over } }) => wayText(turned, shift, over));

/** What meets in a way: `1-26` for plug contact 1 on socket contact 26. */
function meets(way: string, plug: Connector, socket = plug): string {
  const move = movesBetween(plug, socket).find(
    ({ way: { turned, shift, over } }) => wayText(turned, shift, over) === way,
  );
  const pairs: string[] = [];
  for (let k = 0; move && k < move.pairs.length; k += 2)
    pairs.push(`${plug.labels[move.pairs[k]!]}-${socket.labels[move.pairs[k + 1]!]}`);
  return pairs.join(' ');
}

const EDGE = connector('edge 2 x 4', '  numbers 1..8');
const HEADER = connector('header 2 x 4', '  numbers zigzag');
const LONGER = connector('header 2 x 6', '  numbers zigzag');
const ROW = connector('row 4');
const DIP = connector('dip 8', '  numbers around');

describe('which ways there are', () => {
  test.each([
    ['an edge: turned, shifted by up to two, both, and skewed by half a position', EDGE, 2 * 5 + 2],
    ['two rows of pins: all of these but the skew, and one row over', HEADER, 2 * 5 * 3],
    ['one row of pins: turned, shifted, both', ROW, 2 * 5],
    ['a DIP plug: turned', DIP, 2],
    ['a D-shell: straight only', connector('dshell 9'), 1],
    ['DIN 41612: straight only', connector('din 3 x 4'), 1],
  ])('%s', (_, shape, count) => {
    const all = ways(shape);
    expect(all).toHaveLength(count);
    expect(new Set(all).size).toBe(count);
    expect(all[0]).toBe('straight 0 0');
  });

  test('on a longer socket both ends are reached, and two positions more', () => {
    const shifts = movesBetween(HEADER, LONGER).map(({ way }) => way.shift);
    expect([Math.min(...shifts), Math.max(...shifts)]).toEqual([-2, 4]);
    const back = movesBetween(LONGER, HEADER).map(({ way }) => way.shift);
    expect([Math.min(...back), Math.max(...back)]).toEqual([-4, 2]);
  });

  test('a plug so far off that nothing meets is no way', () => {
    const small = connector('header 2 x 2', '  numbers zigzag');
    expect(ways(small)).not.toContain('straight 2 0');
    expect(ways(small)).toContain('straight 1 0');
  });
});

describe('what meets', () => {
  test.each([
    ['straight 0 0', '1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8'],
    ['turned 0 0', '1-8 2-7 3-6 4-5 5-4 6-3 7-2 8-1'],
    ['straight 1 0', '1-3 2-4 3-5 4-6 5-7 6-8'],
    ['straight -1 0', '3-1 4-2 5-3 6-4 7-5 8-6'],
    ['turned 1 0', '3-8 4-7 5-6 6-5 7-4 8-3'],
    ['straight 0 1', '1-2 3-4 5-6 7-8'],
    ['straight 0 -1', '2-1 4-3 6-5 8-7'],
    ['turned 0 1', '2-8 4-6 6-4 8-2'],
    ['turned 0 -1', '1-7 3-5 5-3 7-1'],
  ])('two rows of pins, numbered in zigzag: %s', (way, pairs) => {
    expect(meets(way, HEADER)).toBe(pairs);
  });

  test.each([
    ['turned 0 0', '1-8 2-7 3-6 4-5 5-4 6-3 7-2 8-1'],
    ['straight 0.5 0', '1-1 1-2 2-2 2-3 3-3 3-4 4-4 5-5 5-6 6-6 6-7 7-7 7-8 8-8'],
    ['straight -0.5 0', '1-1 2-1 2-2 3-2 3-3 4-3 4-4 5-5 6-5 6-6 7-6 7-7 8-7 8-8'],
  ])('an edge numbered row by row: %s', (way, pairs) => {
    expect(meets(way, EDGE)).toBe(pairs);
  });

  test('a DIP plug turned: n and n + N/2 change places', () => {
    expect(meets('turned 0 0', DIP)).toBe('1-5 2-6 3-7 4-8 5-1 6-2 7-3 8-4');
  });

  test('one row turned', () => {
    expect(meets('turned 0 0', ROW)).toBe('1-4 2-3 3-2 4-1');
  });

  test('a short plug on long pins: flush with the first position, and turned there', () => {
    expect(meets('straight 2 0', HEADER, LONGER)).toBe('1-5 2-6 3-7 4-8 5-9 6-10 7-11 8-12');
    expect(meets('turned 0 0', HEADER, LONGER)).toBe('1-8 2-7 3-6 4-5 5-4 6-3 7-2 8-1');
  });

  test('contacts meet by where they are, however each connector is numbered', () => {
    const rows = connector('header 2 x 4', '  numbers 1..8');
    expect(meets('straight 0 0', HEADER, rows)).toBe('1-1 2-5 3-2 4-6 5-3 6-7 7-4 8-8');
  });
});
