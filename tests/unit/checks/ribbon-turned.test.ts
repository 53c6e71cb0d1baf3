import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { LINES, lead } from './mating-machine.ts';

const RULE = 'ribbon-turned';
const BUMPS = ['stripe 1 bump', 'stripe 1 bump'] as const;
const WALL = '  shroud notch';

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

/** Behind the first end of the ribbon. */
const marked = (end: string, mark: string): readonly [string, string] => [`${end} #! ${mark} ${RULE}`, end];

describe(RULE, () => {
  test('a plug in a wall without a notch', () => {
    expectMarked(RULE, lead({ header: '  shroud', ends: marked('stripe 1', 'warning') }));
    expect(told(lead({ header: '  shroud' }))).toEqual([
      'W1 turned at GAUGE.J1 and LAMPS.J1: Q0 of GAUGE (74LS244) drives against Q1 of GAUGE (74LS244) (W1 conductor 7 on GAUGE.J1.4); nothing that the file says prevents it',
    ]);
  });

  test('on open pins it can be shifted or over too', () => {
    expect(told(lead({}))).toEqual([
      expect.stringMatching(/nothing that the file says prevents it; 4 other ways do harm too$/),
    ]);
  });

  test('silent with notch and bump, and where a plugged hole meets a pin', () => {
    expectSilent(RULE, lead({ header: WALL, ends: BUMPS }));
    expectSilent(RULE, lead({ header: '  shroud\n  pulled 8\n  plugged 8' }));
  });

  test('a half that nobody says is a question', () => {
    expectMarked(RULE, lead({ header: WALL, ends: marked('stripe 1', 'question') }));
    expectMarked(RULE, lead({ header: WALL, ends: ['stripe 1 bump', `stripe 1 #! question ${RULE}`] }));
    expectMarked(RULE, lead({ header: '  shroud\n  pulled 8', ends: marked('stripe 1', 'question') }));
    expectMarked(RULE, lead({ header: '  shroud\n  plugged 8', ends: marked('stripe 1', 'question') }));
    expect(told(lead({ header: WALL }))).toEqual([
      expect.stringMatching(
        /; prevented only if the plug has a bump and the wall a notch for it, which nobody says$/,
      ),
    ]);
  });

  test('a bump tells of a wall that nobody says: a question of what it would prevent', () => {
    const text = lead({ ends: BUMPS });
    const severities = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(severities.map(({ severity }) => severity).sort()).toEqual(['question', 'warning']);
    expect(severities.find(({ severity }) => severity === 'question')?.fix).toBe(
      'look whether the wall round GAUGE.J1 has a notch, and write `shroud notch` for it, or `shroud` where the wall has none',
    );
  });

  test('open collectors and inputs held to ground: a note that it does no harm', () => {
    const uses = ['receives Q0..Q2 with 74LS at J1', 'pulls Q0..Q2 with 7438 at J1'] as const;
    expectMarked(RULE, lead({ header: '  shroud', uses, ends: marked('stripe 1', 'note') }));
    expect(told(lead({ header: '  shroud', uses }))).toEqual([
      'W1 can be plugged in turned; it will not work so, but does no harm: all its lines that meet ground are pulled by open collectors, or are inputs',
    ]);
    expectSilent(RULE, lead({ header: WALL, uses, ends: BUMPS }));
  });

  test('a harness with a rail', () => {
    const power = LINES.replace('8, 10 = spare', '8, 10 = +5V');
    const ports = `  port P2 on H10 {\n${power}\n  }`;
    const text = lead({
      ports,
      near: power,
      far: power,
      header: '  shroud',
      uses: ['receives Q0..Q2 with 74LS at J1', 'takes +5V 100 mA at J1'],
    }).replace('end GAUGE.J1', 'end PSU.P2');
    expect(told(text)).toEqual([
      expect.stringMatching(
        /^W1 turned at PSU\.P2 and LAMPS\.J1: GND of LAMPS stands on \+5V of PSU, up to 5 A/,
      ),
    ]);
  });

  test('contacts that nobody knows', () => {
    const near = '    1..10 = unknown';
    const uses = ['receives', 'receives'].map(() => 'untouched rest') as unknown as readonly [string, string];
    const text = lead({ near, far: near, uses: [uses[0], uses[1]], header: '  shroud' });
    expect(told(text.replaceAll('  untouched rest\n  untouched rest', '  untouched rest'))).toEqual([
      'W1 turned at GAUGE.J1 and LAMPS.J1 meets 10 unknown contacts: whether that does harm nobody can tell',
    ]);
  });

  test('two connectors turned on the ribbon undo each other', () => {
    const both = ['stripe 10 bump', 'stripe 10 bump'] as const;
    const text = lead({ header: WALL, ends: both });
    expect(told(text)).toEqual([
      'the connectors of W1 at GAUGE.J1 and LAMPS.J1 are all turned on the ribbon: they undo each other, and the stripe is at the last contact',
    ]);
    const one = lead({ header: WALL, ends: ['stripe 1 bump', 'stripe 10 bump'] });
    expectSilent(RULE, one);
    expect(findingsOf(one).map(({ rule }) => rule)).toContain('ribbon-crossed');
  });

  test('silent in shells, which go in one way only', () => {
    const shell = lead({}).replace('shape header 2 x 5\n  numbers zigzag', 'shape dshell 10');
    expectSilent(RULE, shell);
  });
});
