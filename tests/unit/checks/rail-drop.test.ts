import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'rail-drop';

interface Options {
  readonly rail?: string;
  readonly contact?: string;
  readonly header?: string;
  readonly takes?: string;
  readonly uses?: string;
  readonly display?: string;
  readonly more?: string;
}

const machine = ({
  rail = 'rail +5V 5 V 2 %',
  contact = 'contact 5 A 20 mohm',
  header = 'contact 5 A',
  takes = 'takes +5V 1 A',
  uses = 'receives /RD with 74LS',
  display = 'takes +5V 100 mA at J1',
  more = '',
}: Options): string => `pinout 1
supply PSU {
  ${rail}
  ground GND
}
connector E8 {
  shape edge 1 x 8
  ${contact}
}
connector H4 {
  shape header 1 x 4
  ${header}
}
bus B on E8 {
  1 = GND by meter
  3 = +5V by meter
  5 = /RD by trace
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1 by "lugs"
  feed +5V from PSU at 3 by "lugs"
}
card CPU {
  edge on B
  takes +5V 500 mA
  drives /RD with 74LS244 three-state
  port J1 on H4 {
    1..2 = GND
    3..4 = +5V
  }
}
card RAM {
  edge on B
  ${takes}
  ${uses}
}
card DISPLAY {
  ${display}
  part U1 with 74LS04
  port J1 on H4 {
    1..2 = GND
    3..4 = +5V
  }
}
fitted CAGE {
  1 = CPU
  2 = RAM as RAM-A
  3 = RAM as RAM-B
}
loose DISPLAY
${more}`;

const message = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe('fires', () => {
  test('where tolerance, way and return add up to too much; once for two boards of a card', () => {
    // 5 V − 2 % = 4.9 V; 4 A × 20 mΩ = 80 mV there and 80 mV back.
    const text = machine({ takes: 'takes +5V 4 A  #! warning rail-drop' });
    expectMarked(RULE, text);
    expect(message(text)).toBe(
      '+5V may be 4.74 V at RAM-A, and 74LS wants 4.75 V: 4.9 V at PSU (5 V less 2 %), less 80 mV on the way and 80 mV in the ground return; likewise RAM-B',
    );
  });

  test('over a thin ribbon, whose conductors count once and whose contacts count at both ends', () => {
    // 28 AWG is 0.2129 Ω/m: 3 m and two contacts of 10 mΩ are 0.659 Ω, over 2 conductors 0.329 Ω, at 200 mA 66 mV each way.
    const text = machine({
      contact: 'contact 5 A',
      header: 'contact 5 A 10 mohm',
      display: 'takes +5V 300 mA at J1  #! warning rail-drop',
      more: 'ribbon W1 4 way 28 AWG 3000 mm {\n  end CPU.J1 stripe 1\n  end DISPLAY.J1 stripe 1\n}',
    });
    expectMarked(RULE, text);
    expect(message(text)).toContain('less 98.8 mV on the way and 98.8 mV in the ground return');
  });

  test('as one note where the tolerance alone reaches the limit', () => {
    const text = machine({ rail: 'rail +5V 5 V 5 %  #! note rail-drop' });
    expectMarked(RULE, text);
    expect(message(text)).toContain('likewise');
  });

  test('at a family of one’s own', () => {
    const text = machine({
      takes: 'takes +5V 1 A  #! warning rail-drop',
      uses: 'receives /RD with PICKY',
      more: 'family PICKY {\n  supply 4.88..5.12 V\n}',
    });
    expectMarked(RULE, text);
  });
});

describe('stays silent', () => {
  test.each([
    ['where enough is left', machine({})],
    ['where no resistance is said', machine({ contact: 'contact 5 A', takes: 'takes +5V 30 A' })],
    ['where no current is said', machine({ takes: 'takes +5V' })],
    ['where no family is known', machine({ takes: 'takes +5V 4 A', uses: 'receives /RD' })],
    [
      'for a family that works from less',
      machine({ takes: 'takes +5V 4 A', uses: 'receives /RD with 74HC' }),
    ],
    ['for a board on a shelf', machine({ display: 'takes +5V 40 A at J1' })],
    [
      'for a rail that a regulator makes on the board',
      machine({
        rail: 'rail +8V 8..10 V',
        takes: 'takes +8V 4 A\n  makes +5V from +8V with 7805',
      }).replaceAll(/(=|feed) \+5V/g, '$1 +8V'),
    ],
  ])('%s', (_, text) => expectSilent(RULE, text));

  test('without a supply', () => {
    expectSilent(RULE, machine({ takes: 'takes +5V 9 A' }).replace(/supply PSU \{[\s\S]*?\n\}\n/, ''));
  });
});
