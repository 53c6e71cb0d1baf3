import { describe, expect, test } from 'vitest';
import { busSvg } from '../../../src/drawing/bus-svg.ts';
import { sending } from '../../../src/drawing/send.ts';
import { readToPage } from '../../../src/drawing/to-page.ts';
import { drawingOf } from '../../../src/editing/drawings/drawing.ts';
import { opened } from '../../support/project.ts';

const HEAD = `pinout 1
supply PSU {
  rail    +5V    5 V     max 3 A
  rail    -12V   -12 V   max 1 A
  ground  GND
}
connector E {
  shape    edge 1 x 5
  numbers  1..5
}
bus MAIN on E {
  1 = GND   by meter
  2 = +5V   by EVIDENCE
  3 = SYNC  by trace
  4 = FOO   by trace
  5 = -12V  by meter
}
card IO {
  edge       on MAIN
  takes      +5V  1 A
  receives   SYNC, FOO  with 74LS04
  untouched  rest
}
`;

/** Where the findings of a rule stand: the line, and a slot, a gap or its name. */
function placed(backplane: string, rule: string, evidence = 'meter') {
  const { project, file } = opened(HEAD.replace('EVIDENCE', evidence) + backplane);
  const { view, findings } = project.analysis(file)!;
  const drawing = drawingOf(view, findings, { view: 'bus', of: 'CAGE.MAIN' })!;
  const { picture } = drawing.shown as Extract<typeof drawing.shown, { view: 'bus' }>;
  const cells = picture.findings.flatMap((one) => (one.rule === rule ? one.cells : []));
  const places = cells.map(({ row, column }) => {
    const where =
      column < 0 ? 'name' : column % 2 ? picture.slots[(column - 1) / 2]!.label : `gap ${column / 2}`;
    return `${picture.lines[row]!.name} ${where}`;
  });
  return { places, picture, told: cells.map(drawing.tell) };
}

const EMPTY = '  1 = empty\n  2 = empty\n  3 = empty\n  4 = IO\n';
const backplane = (rest: string, fitted = EMPTY): string =>
  `backplane CAGE {\n  slots 1..4 on MAIN\n  feed GND from PSU at 1\n${rest}}\nfitted CAGE {\n${fitted}}\n`;
const FED = '  feed +5V from PSU at 2\n';

describe('what is found of a line of the bus', () => {
  test('stands on its name where the path names only the first contact of a rail', () => {
    const { places, picture, told } = placed(backplane(''), 'rail-unfed');
    expect(places).toEqual(['+5V name']);
    expect(told[0]).toContain('nothing feeds');
    const line = picture.lines.find(({ name }) => name === '+5V')!;
    expect(line.finding).toBe('error');
    expect(line.crossings.map((one) => one?.finding)).not.toContain('error');
  });

  test('stands on the crossings of the boards that it is about', () => {
    const fitted = '  1 = empty\n  2 = IO as A\n  3 = empty\n  4 = IO as B\n';
    const { places } = placed(backplane(FED, fitted), 'guess-carries-power', 'guess');
    expect(places).toEqual(['+5V 2', '+5V 4']);
  });

  test('stands on the terminator that it is about', () => {
    const { places, told } = placed(
      backplane(`${FED}  terminate SYNC 220 ohm to +5V, 330 ohm to GND after 2\n`),
      'terminator-misplaced',
    );
    expect(places).toEqual(['SYNC gap 2']);
    expect(told[0]).toContain('in the middle of the line');
  });

  test('stands on the name of a rail that is asked too much', () => {
    const fitted = [1, 2, 3, 4].map((slot) => `  ${slot} = IO as B${slot}\n`).join('');
    const { places } = placed(backplane(FED, fitted), 'supply-overload');
    expect(places).toEqual(['+5V name']);
  });

  test('stands in the slot that a wire begins in, though nothing sits there', () => {
    const { places } = placed(
      backplane(`${FED}  feed -12V from PSU at 5\n  wire 1.5 to 2.3\n`),
      'rail-meets-signal',
    );
    expect(places).toEqual(['-12V 1', 'SYNC 2']);
  });

  test('does not stand on a line of the same name that a header of a board has for itself', () => {
    const { places } = placed(
      `card LONE {\n  edge on MAIN\n  port J1 on E {\n    1 = SYNC\n  }\n  receives SYNC with 74LS04 at J1\n  untouched rest\n}\n${backplane(
        FED,
        '  1 = LONE\n  2 = empty\n  3 = empty\n  4 = empty\n',
      )}`,
      'line-undriven',
    );
    expect(places.filter((place) => place === 'SYNC name')).toEqual([]);
  });

  test('travels to the page without what only its maker needs, and is ringed', () => {
    const { picture } = placed(backplane(''), 'rail-unfed');
    const { sent } = sending({ view: 'bus', picture }, 1, undefined);
    const message = {
      kind: 'drawing',
      version: 1,
      root: '',
      of: '',
      menu: { bus: [], connector: [], ribbon: [], 'what-if': [] },
      at: 0,
      sent,
    };
    expect(JSON.stringify(readToPage(message))).toContain('"finding":"error"');
    expect(JSON.stringify(sent)).not.toContain('origin');
    expect(busSvg(picture, { marks: 'role' })).toContain('class="ring error"');
  });
});
