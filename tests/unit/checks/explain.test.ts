import { expect, test } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { stepAt } from '../../../src/checks/explain.ts';
import { lineAt, machineOf } from '../../support/machine.ts';
import { rack } from './rail-machine.ts';

test('a rail or ground of a supply is explained by its own line', () => {
  const text = rack({
    supply: 'supply PSU {\n  rail +5V 5 V by meter 2026-05-02\n  rail +12V 12 V\n  ground GND\n}',
  });
  const { machine } = machineOf(text);
  const view = { machine, nets: indexNets(machine) };
  const step = (node: number) => {
    const { contact, signal, evidence, source } = stepAt(view, node, machine.buses[0]!.source);
    return [contact, signal, evidence, lineAt(text, source.from)];
  };
  const at = (rail: string) => step(machine.railSources.find((one) => one.rail === rail)!.node);
  expect(at('+5V')).toEqual(['PSU.+5V', '+5V', 'meter 2026-05-02', 3]);
  expect(at('+12V')).toEqual(['PSU.+12V', '+12V', 'not said', 4]);
  expect(step(machine.supplyGrounds[0]!.node)).toEqual(['PSU.GND', 'GND', 'not said', 5]);
});
