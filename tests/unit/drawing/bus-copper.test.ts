import { describe, expect, test } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { busSvg } from '../../../src/drawing/bus-svg.ts';
import { machineOf } from '../../support/machine.ts';

const HEAD = `pinout 1
connector E {
  shape    edge 1 x 5
  numbers  1..5
}
bus MAIN on E {
  1 = GND
  2 = SYNC
  3 = FOO in 1, 3
  4 > 5 = GRANT
}
bus AUX on E {
  1 = GND
  3 = X
}
`;

function pictures(backplane: string) {
  const { machine } = machineOf(`${HEAD}backplane CAGE {\n${backplane}}\n`);
  return busPictures({ machine, nets: indexNets(machine) }, []);
}

const lineOf = (backplane: string, name: string, bus = 0) =>
  pictures(backplane)[bus]!.lines.find((line) => line.name === name)!;

/** A dash where the trace passes a gap. */
const links = (backplane: string, name: string): string =>
  lineOf(backplane, name)
    .links.map((linked) => (linked ? '-' : '.'))
    .join('');

/** The bars of cuts: two each. */
const bars = (backplane: string): number =>
  [...busSvg(pictures(backplane)[0]!, { marks: 'role' }).matchAll(/class="copper [^/]*/g)]
    .map(([path]) => path.split('v8').length - 1)
    .reduce((a, b) => a + b, 0);

const FOUR = '  slots 1..4 on MAIN\n';
const MIXED = '  slots 1..2 on MAIN\n  slots 3 on AUX\n  slots 4..5 on MAIN\n';

describe('the copper of a line', () => {
  test('leads past a slot that does not carry it', () => {
    expect(links(FOUR, 'FOO')).toBe('--.');
    expect(links(MIXED, 'SYNC')).toBe('----');
    expect(links(MIXED, 'GRANT')).toBe('----');
  });

  test('is cut where it is cut, also beside a slot that does not carry it', () => {
    expect(links(`${MIXED}  cut SYNC between 3, 4\n`, 'SYNC')).toBe('--.-');
    // What nobody has said of a contact is not known to lead on.
    expect(bars(`${MIXED}  cut SYNC between 3, 4\n`) - bars(MIXED)).toBe(2);
    expect(links(`${FOUR}  cut GRANT between 2, 3\n`, 'GRANT')).toBe('-.-');
  });

  test('is cut though a wire joins the ends', () => {
    expect(links(`${FOUR}  cut SYNC between 2, 3\n  wire 1.2 to 4.2\n`, 'SYNC')).toBe('-.-');
  });

  test('is none between contacts of one slot each that a wire joins', () => {
    const bare = `${HEAD.replace('  2 = SYNC\n', '')}backplane CAGE {\n${FOUR}  wire 1.2 to 2.2\n}\n`;
    const { machine } = machineOf(bare);
    const [picture] = busPictures({ machine, nets: indexNets(machine) }, []);
    expect(picture!.lines.find(({ contacts }) => contacts === '2')!.links).toEqual([false, false, false]);
  });
});

describe('what lies elsewhere on the net of a line', () => {
  test('a line of another bus of the backplane, once', () => {
    const wired = `${MIXED}  wire 1.2 to 3.3\n`;
    expect(lineOf(wired, 'SYNC').beyond).toEqual(['CAGE.3.3']);
    expect(lineOf(wired, 'X', 1).beyond).toEqual(['CAGE.1.2']);
    expect(lineOf(MIXED, 'SYNC').beyond).toEqual([]);
  });
});
