import { describe, expect, it, test } from 'vitest';
import { linesOf } from '../../../src/analysis/line.ts';
import { dutiesOf, legsOf, worst } from '../../../src/analysis/loading.ts';
import { indexNets } from '../../../src/analysis/nets.ts';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import type { Crossing } from '../../../src/drawing/picture.ts';
import { machineFromDisk, machineOf } from '../../support/machine.ts';

const HEAD = `pinout 1
supply PSU {
  rail    +5V    5 V     max 9 A
  rail    -12V   -12 V   max 1 A
  ground  GND
}
part LOAD {
  input     low 2 mA  high 20 uA
}
connector E {
  shape    edge 1 x 9
  numbers  1..9
}
bus MAIN on E {
  1 = GND
  2 = +5V
  3 = -12V
  4 = -5V
  5 = D0
  6 = D1
  7 = D2
  8 = +5V
}
backplane CAGE {
  slots  1..4  on MAIN
  feed   +5V   from PSU  at 2
  feed   -12V  from PSU  at 3
  feed   GND   from PSU  at 1
}
`;
const CARDS = `card A {
  edge       on MAIN
  takes      +5V   1.5 A
  takes      -12V  200 mA
  makes      -5V   from -12V  with LM7905CT
  drives     D0    with 74LS244
  drives     D1    with XYZ123
}
card B {
  edge       on MAIN
  takes      -5V   30 mA
  takes      +5V
  receives   D0    with LOAD
  receives   D1    with LOAD
  pull-up    D0    1 kohm to +5V
}
card C {
  edge       on MAIN
  takes      -5V   20 mA
  receives   D0    with XYZ123
  receives   D2    with LOAD
  pull-down  D2    1 kohm to GND
}
fitted CAGE {
  1 = A
  2 = B
  3 = C
  4 = empty
}
`;

function crossings(text: string, line: string): readonly (Crossing | undefined)[] {
  const { machine } = machineOf(text);
  const [picture] = busPictures({ machine, nets: indexNets(machine) }, []);
  return picture!.lines.find(({ name }) => name === line)!.crossings;
}
const milliamps = (line: string): (number | undefined)[] =>
  crossings(HEAD + CARDS, line).map((one) =>
    one?.amps === undefined ? undefined : Math.round(one.amps * 1e5) / 100,
  );

describe('currents', () => {
  test.each<[string, string, (number | undefined)[]]>([
    ['what is said to be taken', '+5V', [1500, undefined, undefined, undefined]],
    ['the same of a rail below ground', '-12V', [200, undefined, undefined, undefined]],
    ['a board that makes a rail gives what the others take', '-5V', [-50, 30, 20, undefined]],
    ['how ground divides it, nobody knows', 'GND', [undefined, undefined, undefined, undefined]],
    // 2 mA of the input, and 4.5 mA of the resistor from 5 V to the 0.5 V at which the driver is rated.
    ['the driver sinks what inputs and resistors give', 'D0', [6.5, -6.5, undefined, undefined]],
    ['a driver that nobody knows, and what hears it', 'D1', [undefined, -2, undefined, undefined]],
    // 0.5 V, the most that passes for low, over 1 kohm goes the other way.
    ['a resistor to ground takes', 'D2', [undefined, undefined, -1.5, undefined]],
  ])('%s', (_, line, wanted) => expect(milliamps(line)).toEqual(wanted));

  it('are those of the rules, for every driver that is worst off', () => {
    const { machine } = machineFromDisk('examples/tide-gauge/as-found.pinout');
    const nets = indexNets(machine);
    const all = busPictures({ machine, nets }, []).flatMap(({ lines, slots }) =>
      lines.flatMap((line) =>
        line.crossings.map((one, slot) => ({
          net: one?.origin.net,
          amps: one?.amps,
          board: slots[slot]!.board,
        })),
      ),
    );
    let compared = 0;
    for (const line of linesOf(machine, nets)) {
      const low = worst(dutiesOf(line, legsOf(line)), 'low');
      const drawn = all.find(
        ({ net, board }) => net === line.view.net && board === low?.driver.use.board.name,
      );
      if (low === undefined || drawn === undefined) continue;
      expect(drawn.amps).toBeCloseTo(Math.max(0, low.demand), 9);
      compared++;
    }
    expect(compared).toBeGreaterThan(20);
  });
});

describe('the last reading', () => {
  const read = (line: string, ...blocks: string[]): (string | undefined)[] =>
    crossings(HEAD + CARDS + blocks.join('\n'), line).map((one) => one?.reading);
  const block = (day: string, ...lines: string[]): string =>
    `readings ${day} cards in power on {\n${lines.join('\n')}\n}\n`;

  test.each<[string, string, string]>([
    ['volts', 'CAGE.1.2 to GND = 5.02 V', '5.02V'],
    ['volts with the leads exchanged', 'CAGE.1.1 to CAGE.1.2 = -5.02 V', '5.02V'],
    ['ohms', 'CAGE.1.2 to CAGE.1.5 = 470 ohm', '470'],
    ['ohms below one', 'CAGE.1.2 to CAGE.1.5 = 0.25 ohm', '0.25'],
    ['no connection', 'CAGE.1.5 to CAGE.1.2 = open', 'open'],
    ['a diode', 'CAGE.1.2 to GND = 612 mV diode', 'D0.61'],
    ['at the finger of the board', 'A.edge.2 to GND = 4.98 V', '4.98V'],
    ['at another contact of the line', 'CAGE.1.8 to GND = 4.97 V', '4.97V'],
  ])('%s', (_, line, wanted) =>
    expect(read('+5V', block('2026-05-02', line))).toEqual([wanted, undefined, undefined, undefined]),
  );

  it('is told of what was measured, not of the ground that it was measured against', () => {
    expect(read('GND', block('2026-05-02', 'CAGE.1.2 to CAGE.1.1 = 5 V'))[0]).toBeUndefined();
    expect(read('GND', block('2026-05-02', 'CAGE.1.1 to CAGE.4.1 = 20 mV'))[0]).toBe('20mV');
  });

  it('is the last by its day, of one day the later in the text, of all contacts of the line', () => {
    const [early, late] = ['CAGE.1.2 to GND = 4 V', 'CAGE.1.8 to GND = 5 V'];
    expect(read('+5V', block('2026-05-03', late), block('2026-05-02', early))[0]).toBe('5V');
    expect(read('+5V', block('2026-05-03', early, late))[0]).toBe('5V');
    expect(read('+5V', block('2026-05-03', late, early))[0]).toBe('4V');
    expect(read('+5V', block('2026-05-03', early), block('', late))[0]).toBe('5V');
    expect(read('+5V', block('2026-05-02', early), block('', late), block('2026-05-03', early))[0]).toBe(
      '4V',
    );
  });
});
