import { expect, test } from 'vitest';
import type { Machine } from '../../../src/machine/types.ts';
import { machineOf } from '../../support/machine.ts';

const text = `
connector E {
  shape row 4
}

bus B on E {
  1 = SYNC in 1..2
  1 = ALARM in 3..4
  2 = PAIR in 1..2
  2 = private in 3..4
  3 = spare
}

backplane CAGE {
  slots 1..4 on B
}

card X {
  edge on B
  drives ALARM with 74LS
}

fitted CAGE {
  4 = X
}
`;

function net(machine: Machine, path: string): number {
  const dot = path.lastIndexOf('.');
  const instance = machine.instances.find((one) => one.path === path.slice(0, dot))!;
  return machine.nets.of[instance.base + instance.pins.connector.indexOf.get(path.slice(dot + 1))!]!;
}

test('a contact carries one line in some slots and another in the others', () => {
  const { machine } = machineOf(text);
  expect(machine.problems).toEqual([]);
  expect(net(machine, 'CAGE.1.1')).toBe(net(machine, 'CAGE.2.1'));
  expect(net(machine, 'CAGE.3.1')).toBe(net(machine, 'CAGE.4.1'));
  expect(net(machine, 'CAGE.2.1')).not.toBe(net(machine, 'CAGE.3.1'));
});

test('a board takes over what its own slot says', () => {
  const { machine } = machineOf(text);
  expect(machine.nets.of[machine.uses[0]!.node]).toBe(net(machine, 'CAGE.3.1'));
});

test('a contact that is private in a slot is on no line there', () => {
  const { machine } = machineOf(text);
  expect(net(machine, 'CAGE.1.2')).toBe(net(machine, 'CAGE.2.2'));
  expect(net(machine, 'CAGE.3.2')).not.toBe(net(machine, 'CAGE.2.2'));
  expect(net(machine, 'CAGE.3.2')).not.toBe(net(machine, 'CAGE.4.2'));
  expect(net(machine, 'CAGE.1.3')).toBe(net(machine, 'CAGE.4.3'));
});
