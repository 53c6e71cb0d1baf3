import { describe, expect, test } from 'vitest';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import type { LineRow } from '../../../src/drawing/picture.ts';
import { opened } from '../../support/project.ts';

const HEAD = `pinout 1
supply PSU {
  rail    +5V    5 V     max 3 A
  ground  GND
}
connector E {
  shape    edge 2 x 7
  numbers  1..7, A..H
}
bus MAIN on E {
  1, A          = GND           by silkscreen
  2             = +5V           by meter
  3..6          = D0..D3        by trace
  B             = /IRQ          wired-or  by guess
  C             = SYNC          in 1..2
  7 > H         = GRANT
  D             = unknown
}
backplane CAGE {
  slots        1..4               on MAIN
  feed         +5V                from PSU    at 2
  feed         GND                from PSU    at 1
  pull-up      /IRQ               1 kohm to +5V  after 4
  terminate    SYNC               220 ohm to +5V, 330 ohm to GND  before 1
  cut          D3                 between 2, 3
}
card CPU {
  edge         on MAIN
  takes        +5V                1 A
  drives       SYNC               with 74LS04
  transceives  D0..D3             with 74LS245
  receives     /IRQ               with 74LS14
  starts       GRANT
  untouched    rest
}
card IO {
  edge         on MAIN
  takes        +5V
  pulls        /IRQ               with 7406
  passes       GRANT
}
`;

/** A row as one reads it: a crossing each slot, with what leads to the next. */
function read({ name, contacts, group, crossings, links, ends }: LineRow): string {
  const through = crossings.map((one, i) => `${one?.role ?? '.'}${links[i] ? '-' : ' '}`).join('');
  const marks = ends.map(({ kind, gap }) => ` ${kind}@${gap}`).join('');
  return `${group}: ${name} (${contacts}) ${through.trim()}${marks}`;
}

function drawn(fitted: string) {
  const { project, file } = opened(`${HEAD}fitted CAGE {\n${fitted}}\n`);
  const analysis = project.analysis(file)!;
  return busPictures(analysis.view, analysis.findings)[0]!;
}

const FITTED = '  1    = CPU\n  2    = empty\n  3    = IO as IO-A\n  4    = IO as IO-B\n';

describe('the picture of a bus', () => {
  const { lines, slots } = drawn(FITTED);

  test('sorts lines into groups and tells who does what on each', () => {
    expect(lines.map(read)).toEqual([
      'power: GND (1 A) ground-open-ground-ground feed@0',
      'power: +5V (2) takes-open-takes-takes feed@0',
      'data: D0 (3) both-open-unknown-unknown',
      'data: D1 (4) both-open-unknown-unknown',
      'data: D2 (5) both-open-unknown-unknown',
      'data: D3 (6) both-open unknown-unknown',
      'control: /IRQ (B) receives-open-pulls-pulls pull-up@4',
      'control: SYNC (C) drives-open . . terminate@0',
      'chains: GRANT (7 > H) starts-stops-passes-passes',
      expect.stringMatching(/^unknown: /),
      expect.stringMatching(/^unknown: /),
      expect.stringMatching(/^unknown: /),
      expect.stringMatching(/^unknown: /),
    ]);
  });

  test('two boards of one kind have names of their own', () => {
    expect(slots.map(({ label, board, state }) => `${label} ${board || state}`)).toEqual([
      '1 CPU',
      '2 empty',
      '3 IO-A',
      '4 IO-B',
    ]);
  });

  test('tells a guess from what was metered, and gives the current of a rail', () => {
    const [irq, rail] = ['/IRQ', '+5V'].map((name) => lines.find((line) => line.name === name)!);
    expect(irq!.crossings.map((one) => one?.evidence)).toEqual(['guess', 'guess', 'guess', 'guess']);
    expect(rail!.crossings.map((one) => [one?.evidence, one?.amps])).toEqual([
      ['meter', 1],
      ['meter', undefined],
      ['meter', undefined],
      ['meter', undefined],
    ]);
  });

  test('shows a finding on the crossing that it concerns', () => {
    const chain = lines.find(({ chain }) => chain)!;
    expect(chain.crossings.map((one) => one?.finding)).toEqual([undefined, 'error', 'error', undefined]);
  });

  test('a bridge closes the chain', () => {
    const chain = drawn(FITTED.replace('empty', 'empty  bridge GRANT')).lines.find(({ chain }) => chain)!;
    expect(read(chain)).toBe('chains: GRANT (7 > H) starts-bridge-passes-passes');
  });

  test('behind the last board a chain may end', () => {
    const boards = '  1    = CPU\n  2    = IO\n  3    = empty\n  4    = empty\n';
    const chain = drawn(boards).lines.find(({ chain }) => chain)!;
    expect(read(chain)).toBe('chains: GRANT (7 > H) starts-passes-open-open');
  });

  test('is plain data', () => {
    const picture = drawn(FITTED);
    expect(structuredClone(picture)).toEqual(picture);
  });
});
