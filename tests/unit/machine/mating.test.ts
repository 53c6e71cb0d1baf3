import { expect, test } from 'vitest';
import { machineOf } from '../../support/machine.ts';

/** Sockets of slot 1 that a card with these edges is plugged into. */
function sockets(slots: string, ...edges: readonly string[]): string[] {
  const { machine } = machineOf(`connector E {
  shape din 2 x 4
}
bus LOW on E {
  1 = A0
}
bus HIGH on E {
  1 = B0
}
backplane CAGE {
  slots 1 on ${slots}
}
card X {
${edges.map((edge) => `  edge ${edge}`).join('\n')}
}
fitted CAGE {
  1 = X
}
`);
  expect(machine.problems).toEqual([]);
  const { from, to, cause, causes } = machine.joins;
  const met = machine.instances.filter(
    ({ kind, base }) =>
      kind === 'slot' && to.some((node, j) => node === base && causes[cause[j]!]!.kind === 'finger'),
  );
  expect(from.length).toBeGreaterThan(0);
  return met.map(({ path }) => path);
}

test.each([
  ['the only socket', 'LOW', ['on LOW'], ['CAGE.1']],
  ['the only socket, made for another bus', 'LOW', ['on HIGH'], ['CAGE.1']],
  ['of two the one of its name', 'J1 LOW, J2 HIGH', ['J2 on HIGH'], ['CAGE.1.J2']],
  ['of two the one of its bus', 'J1 LOW, J2 HIGH', ['P2 on HIGH'], ['CAGE.1.J2']],
  ['each edge its own', 'J1 LOW, J2 HIGH', ['J1 on LOW', 'J2 on HIGH'], ['CAGE.1.J1', 'CAGE.1.J2']],
])('a board goes into %s', (_, slots, edges, expected) => {
  expect(sockets(slots, ...edges)).toEqual(expected);
});
