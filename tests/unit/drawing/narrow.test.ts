import { describe, expect, test } from 'vitest';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { type BusFilter, narrowed } from '../../../src/drawing/narrow.ts';
import { opened } from '../../support/project.ts';

const { project, file } = opened(`pinout 1
supply PSU {
  rail    +5V    5 V     max 3 A
  ground  GND
}
connector E {
  shape    edge 2 x 6
  ends     closed
  numbers  1..6, A..F
}
connector H {
  shape    header 2 x 2
  numbers  zigzag
}
bus MAIN on E {
  1             = GND           by silkscreen
  2             = +5V           by meter
  3..6          = D0..D3        by trace
  A             = /IRQ          by guess
  B             = SYNC
  C             = LONE          by manual
}
backplane CAGE {
  slots        1..2               on MAIN  guides
  feed         +5V                from PSU    at 2
  feed         GND                from PSU    at 1
  port FRONT on H {
    1           = SYNC          by trace
  }
}
card CPU {
  edge         on MAIN
  takes        +5V                4 A
  drives       SYNC               with 74LS04
  transceives  D0..D3             with 74LS245
  untouched    rest
}
card IO {
  edge         on MAIN
  pulls        /IRQ               with 7406
  transceives  D0..D3             with 74LS245
  untouched    rest
}
fitted CAGE {
  1    = CPU
  2    = IO
}
`);
const { view, findings } = project.analysis(file)!;
const picture = busPictures(view, findings)[0]!;
const DATA = ['D0', 'D1', 'D2', 'D3'];

const names = (filter?: BusFilter): string[] =>
  narrowed(picture, filter).map((row) => picture.lines[row]!.name);

describe('the lines of a bus that are wanted', () => {
  test('all where nothing is said', () => {
    expect(names()).toHaveLength(picture.lines.length);
    expect(names({ text: '  ' })).toHaveLength(picture.lines.length);
  });

  test.each<[string, BusFilter, string[]]>([
    ['a line, in any case', { text: 'sYn' }, ['SYNC']],
    ['a contact, or a name', { text: '2' }, ['+5V', 'D2']],
    ['a place, as findings name it', { text: 'cage.2.2' }, ['+5V']],
    ['a contact elsewhere', { text: 'FRONT.1' }, ['SYNC']],
    ['a board that does something there', { text: 'cpu' }, ['GND', '+5V', ...DATA, 'SYNC']],
    ['a board, but not where it leaves the line alone', { text: 'IO' }, ['GND', ...DATA, '/IRQ']],
    ['a group', { group: 'data' }, DATA],
    ['how it is known', { evidence: 'guess' }, ['/IRQ']],
    ['lines of which nobody says how', { group: 'control', evidence: 'unsaid' }, ['SYNC']],
    ['all that is asked together', { group: 'data', text: 'D2' }, ['D2']],
    ['none', { group: 'chains' }, []],
  ])('%s', (_, filter, wanted) => {
    expect(names(filter)).toEqual(wanted);
  });

  test('by severity, by rule, by any finding', () => {
    expect(picture.findings.map(({ severity, rule }) => `${severity} ${rule}`)).toEqual([
      'error supply-overload',
      'warning line-no-pull-up',
      'warning line-unheard',
      'note neighbour-hazard',
      'note line-unheard',
    ]);
    expect(names({ finding: 'any' })).toEqual(['GND', '+5V', '/IRQ', 'SYNC']);
    expect(names({ finding: 'warning' })).toEqual(['/IRQ']);
    expect(names({ finding: 'line-unheard' })).toEqual(['/IRQ', 'SYNC']);
    expect(names({ finding: 'no-such-rule' })).toEqual([]);
  });
});
