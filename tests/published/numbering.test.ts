import { describe, expect, test } from 'vitest';
import { machineOf } from '../support/machine.ts';

function connector(lines: string) {
  const { machine } = machineOf(`connector C {\n${lines}\n}`);
  expect(machine.problems).toEqual([]);
  return machine.connectors[0]!;
}

/** Labels that conductors 1, 2, 3 … of a ribbon meet. */
function crimped(lines: string): string[] {
  const { labels, conductors } = connector(lines);
  return conductors!.map((index) => labels[index]!);
}

describe('which contact each ribbon conductor meets', () => {
  test('a zigzag header: conductor k is contact k (common practice of 2.54 mm insulation-displacement headers, no source)', () => {
    expect(crimped('shape header 2 x 13\nnumbers zigzag')).toEqual(
      Array.from({ length: 26 }, (_, i) => String(i + 1)),
    );
  });

  test('a 25-way D-shell: odd k meets (k + 1)/2, even k meets 13 + k/2 (common practice of insulation-displacement D-shells, no source)', () => {
    const wanted = Array.from({ length: 25 }, (_, i) => i + 1).map((k) =>
      String(k % 2 === 1 ? (k + 1) / 2 : 13 + k / 2),
    );
    expect(crimped('shape dshell 25\nnumbers 1..25')).toEqual(wanted);
  });

  test('a DIP plug: odd k meets (k + 1)/2, even k meets N + 1 − k/2 (common practice, no source)', () => {
    const n = 16;
    const wanted = Array.from({ length: n }, (_, i) => i + 1).map((k) =>
      String(k % 2 === 1 ? (k + 1) / 2 : n + 1 - k / 2),
    );
    expect(crimped(`shape dip ${n}\nnumbers around`)).toEqual(wanted);
  });

  test('a 50-way micro-ribbon: 1, 26, 2, 27 … (from memory)', () => {
    expect(crimped('shape dshell 2 x 25\nnumbers 1..50').slice(0, 6)).toEqual([
      '1',
      '26',
      '2',
      '27',
      '3',
      '28',
    ]);
  });

  test('DIN 41612 in three rows must say its order', () => {
    expect(connector('shape din 3 x 32\nnumbers a1..a32, b1..b32, c1..c32').conductors).toBeUndefined();
  });
});

describe('labels', () => {
  test('a lettered edge leaves out G, I, O and Q: 22 letters (common practice of 44-contact edges, no source)', () => {
    const { labels } = connector('shape edge 2 x 22\nnumbers 1..22, A..Z');
    expect(labels.slice(22).join('')).toBe('ABCDEFHJKLMNPRSTUVWXYZ');
  });

  test('past Z an explicit list, read until every contact has its label', () => {
    const { labels } = connector('shape edge 2 x 36\nnumbers 1..36, A..Z, AA..RR');
    expect(labels.slice(-14)).toEqual([
      'AA',
      'BB',
      'CC',
      'DD',
      'EE',
      'FF',
      'HH',
      'JJ',
      'KK',
      'LL',
      'MM',
      'NN',
      'PP',
      'RR',
    ]);
  });

  test('DIN 41612: rows a, b, c of 32', () => {
    const { labels, row, position } = connector('shape din 3 x 32\nnumbers a1..a32, b1..b32, c1..c32');
    expect([labels[0], labels[32], labels[95]]).toEqual(['a1', 'b1', 'c32']);
    expect([row[95], position[95]]).toEqual([2, 31]);
  });

  test('IEEE 696: contact 1 lies opposite 51, 50 opposite 100 (J. Monahan, The S-100 bus pin designations)', () => {
    const { machine } = machineOf('use published "ieee-696"');
    const { indexOf, row, position } = machine.connectors[0]!;
    for (const [a, b] of [
      ['1', '51'],
      ['50', '100'],
    ]) {
      const [i, j] = [indexOf.get(a!)!, indexOf.get(b!)!];
      expect(position[i]).toBe(position[j]);
      expect(row[i]).not.toBe(row[j]);
    }
  });
});
