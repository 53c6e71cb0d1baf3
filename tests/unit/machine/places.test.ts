import { expect, test } from 'vitest';
import { findingsOf, machineOf } from '../../support/machine.ts';

const rack = (more: string): string => `connector E {
  shape edge 1 x 7
}
bus B on E {
  1 = GND by meter
  2 = D0
}
backplane CAGE {
  slots 1..7 step 2 on B
}
card X {
  edge on B
  receives D0 with 74LS
}
fitted CAGE {
  1 = X
}
${more}
`;

const rulesOf = (more: string): string[] => findingsOf(rack(more)).map(({ rule }) => rule);

test('slots by steps', () => {
  expect(machineOf(rack('')).machine.backplanes[0]!.slots.map(({ label }) => label)).toEqual([
    '1',
    '3',
    '5',
    '7',
  ]);
});

test.each([
  ['a contact that the board does not have', 'readings {\n  X.edge.99 to CAGE.1.1 = open\n}'],
  ['a connector that the board does not have', 'readings {\n  X.egde.1 to CAGE.1.1 = open\n}'],
])('a reading at %s is refused', (_, text) => {
  expect(rulesOf(text)).toContain('name-unknown');
});

test('a reading at a chip of the board is not', () => {
  expect(rulesOf('readings {\n  X.U3.4 to X.edge.2 = open\n}')).not.toContain('name-unknown');
});

test('a ribbon that ends at a card of which there are two boards asks which', () => {
  const text = rack('ribbon W1 2 way {\n  end RAM\n  end CAGE.P1\n}')
    .replaceAll('X', 'RAM')
    .replace('  1 = RAM', '  1 = RAM as RAM-A\n  3 = RAM as RAM-B');
  const { message } = findingsOf(text).find(({ rule }) => rule === 'name-unknown')!;
  expect(message).toContain('there are 2 boards of card RAM: `RAM-A` and `RAM-B`; say which one');
});

test('one bus twice in a slot is refused', () => {
  const text = rack('').replace('step 2 on B', 'on P1 B, P2 B');
  expect(findingsOf(text).map(({ rule }) => rule)).toContain('duplicate');
});

test('aliases that do not pair off are refused', () => {
  const text = rack('').replace('2 = D0', '2..3 = D0..D1 also X0..X2');
  expect(findingsOf(text).map(({ rule }) => rule)).toContain('range-mismatch');
});

test('an active-low mark before a digit is no rail', () => {
  const text = rack('').replace('2 = D0', '2 = D0\n  3 = -2CLK');
  expect(machineOf(text).machine.buses[0]!.pins.claims[2]!.kind).toBe('signal');
});

test('a board called like its backplane is refused', () => {
  const text = rack('').replace('card X', 'card CAGE').replace('1 = X', '1 = CAGE');
  expect(findingsOf(text).filter(({ rule }) => rule === 'duplicate')).toHaveLength(1);
});
