import { describe, expect, it, test } from 'vitest';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import type { Crossing } from '../../../src/drawing/picture.ts';
import { cellsIn, drawingOf } from '../../../src/editing/drawings/drawing.ts';
import { opened } from '../../support/project.ts';

/** Machines as small as they can be, in which the names on a card say one thing and its copper another. */

const BUS = ` 1 = GND by meter
 A = GND by guess
 2 = +5V by meter
 B = +5V by guess
 3 = SYNC by trace
 4 = FOO by trace
 C = +12V
 D = -5V
 7 > H = GRANT > GRANTED
`;

interface Parts {
  readonly bus?: string;
  readonly cage?: string;
  readonly cards: string;
  readonly fitted: string;
  readonly rest?: string;
}

const machine = ({ bus = BUS, cage = '', cards, fitted, rest = '' }: Parts): string => `pinout 1
supply PSU {
 rail +5V 5 V max 3 A
 rail +12V 12 V max 1 A
 ground GND
}
connector E {
 shape edge 2 x 7
 numbers 1..7, A..H
}
bus MAIN on E {
${bus}}
backplane CAGE {
 slots 1..4 on MAIN
 feed +5V from PSU at 2
 feed +12V from PSU at C
 feed GND from PSU at 1
${cage}}
${cards}
fitted CAGE {
${fitted}}
${rest}`;

function analysed(text: string) {
  const { project, file } = opened(text);
  return { analysis: project.analysis(file)!, file };
}

function line(text: string, name: string, at = 0): readonly (Crossing | undefined)[] {
  const { analysis } = analysed(text);
  const picture = busPictures(analysis.view, analysis.findings)[at]!;
  return picture.lines.find((one) => one.name === name)!.crossings;
}

/** Role, mA, and resistors: `takes 1000`, `holds -4.25 pull-up`. */
const read = (one: Crossing | undefined): string =>
  one === undefined
    ? '.'
    : [one.role, one.amps === undefined ? [] : Number((one.amps * 1000).toFixed(3)), one.biases ?? []]
        .flat(2)
        .join(' ');
const does = (text: string, name: string, at = 0): string[] => line(text, name, at).map(read);

/** Where the statement stands to which a crossing leads first. */
const leadsTo = (text: string, name: string, slot: number): string => {
  const { from, to } = line(text, name)[slot]!.origin.spots[0];
  return text.slice(from, to).trim();
};

const CPU = (lines: string): string => `card CPU {\n edge on MAIN\n${lines} untouched rest\n}\n`;
const ALONE = ' 1 = CPU\n 2 = empty\n 3 = empty\n 4 = empty\n';
const alone = (lines: string, cage = '', fitted = ALONE): string =>
  machine({ cage, cards: CPU(lines), fitted });

describe('a finger that is not there, or cut off', () => {
  const pulled = (fingers: string, lines: string): string =>
    machine({
      cards: `card CPU {\n edge on MAIN {\n  pulled ${fingers}\n }\n${lines} untouched rest\n}\n`,
      fitted: ALONE,
    });
  const cut = (fingers: string, lines: string): string =>
    alone(
      lines,
      '',
      ALONE.replace('CPU', `CPU {\n${fingers.replaceAll(/\S+/g, '  cut edge.$&\n').replaceAll(', ', '')} }`),
    );

  test.each([pulled('2, B', ' takes +5V 1 A\n'), cut('2 B', ' takes +5V 1 A\n')])('takes nothing', (text) =>
    expect(does(text, '+5V')[0]).toBe('untouched'),
  );

  it('takes what the other of the two takes', () =>
    expect(does(pulled('2', ' takes +5V 1 A\n'), '+5V')[0]).toBe('takes 1000'));

  it('makes nothing', () => {
    const makes = ' takes +12V 1 A\n makes -5V from +12V with 7905\n';
    expect(does(alone(makes), '-5V')[0]).toBe('makes');
    expect(does(cut('D', makes), '-5V')[0]).toBe('untouched');
  });

  test.each([pulled('1, A', ''), cut('1 A', ''), alone(' untouched GND\n')])('is no ground', (text) =>
    expect(does(text, 'GND')[0]).toBe('untouched'),
  );

  it('is ground on all other cards', () => expect(does(alone(''), 'GND')[0]).toBe('ground'));

  it('is known to do nothing, also on a card of which more may be said; its cell leads to the cut', () => {
    const text = machine({
      cards: 'card CPU {\n edge on MAIN\n cut edge.3\n}\n',
      fitted: ALONE,
    });
    expect([...does(text, 'SYNC'), does(text, 'FOO')[0]]).toEqual([
      'untouched',
      'open',
      'open',
      'open',
      'unknown',
    ]);
    expect(leadsTo(text, 'SYNC', 0)).toBe('cut edge.3');
  });

  it('does what a wire to it does', () => {
    const wired = alone(
      ' drives SYNC with 74LS04\n',
      '',
      ALONE.replace('CPU', 'CPU {\n  cut edge.3\n  wire SYNC to edge.4\n }'),
    );
    expect([does(wired, 'SYNC')[0], does(wired, 'FOO')[0]]).toEqual(['untouched', 'drives 0']);
  });

  it('may do anything where a wire leads to a pin of a chip', () => {
    const wired = alone('', '', ALONE.replace('CPU', 'CPU {\n  wire edge.4 to U3.4\n }'));
    expect(does(wired, 'FOO')[0]).toBe('unknown');
    expect(leadsTo(wired, 'FOO', 0)).toBe('wire edge.4 to U3.4');
  });
});

describe('copper that is joined', () => {
  test.each(['wire SYNC to FOO', 'strap SYNC, FOO'])('on the backplane lends nothing: %s', (join) => {
    const text = alone(' drives SYNC with 74LS04\n untouched FOO\n', ` ${join}\n`);
    expect([does(text, 'SYNC')[0], does(text, 'FOO')[0]]).toEqual(['drives 0', 'untouched']);
    const [spot] = line(text, 'FOO')[0]!.origin.spots;
    expect(text.slice(0, spot.to).endsWith('untouched FOO')).toBe(true);
  });

  it('on the board is used by each of its fingers, and nobody knows how it divides', () => {
    const bus = BUS.replace('4 = FOO', '4 = +5VB');
    const text = machine({ bus, cards: CPU(' strap +5V, +5VB\n takes +5V 1 A\n'), fitted: ALONE });
    expect([does(text, '+5V')[0], does(text, '+5VB')[0]]).toEqual(['takes', 'takes']);
  });

  it('comes by the edge to what is taken at a connector with nothing in it', () => {
    const text = alone(' port J1 on E {\n  2 = +5V\n }\n takes +5V 1 A at J1\n');
    expect(does(text, '+5V')[0]).toBe('takes 1000');
  });

  it('feeds regulators, chips and resistors', () => {
    expect(does(alone(' makes -5V from +12V with 7905\n'), '+12V')[0]).toBe('takes');
    expect(does(alone(' pull-up FOO 1 kohm to +5V\n'), '+5V')[0]).toBe('takes');
    expect(does(alone(' pull-down FOO 1 kohm to GND\n'), 'GND')[0]).toBe('ground');
  });

  it('is held by a resistor where the board does nothing else', () => {
    const cards = `${CPU(' pull-up FOO 1 kohm to +5V\n')}card IO {\n edge on MAIN\n drives FOO with 74LS04\n untouched rest\n}\n`;
    const text = machine({ cards, fitted: ALONE.replace('2 = empty', '2 = IO') });
    expect(does(text, 'FOO').slice(0, 2)).toEqual(['holds -4.5 pull-up', 'drives 4.5']);
  });

  it('has all resistors and verbs of the board', () => {
    const text = alone(
      ' pulls FOO with 7406\n drives FOO with 74LS04\n pull-up FOO 1 kohm to +5V\n pull-down FOO 2 kohm to GND\n',
    );
    expect(does(text, 'FOO')[0]).toMatch(/^drives \S+ pull-up pull-down$/);
    expect(line(text, 'FOO')[0]!.origin.spots.length).toBeGreaterThan(4);
  });

  it('divides a current between two connectors of one board', () => {
    const text = `${machine({ cards: '', fitted: '' })
      .replace('slots 1..4 on MAIN', 'slots 1..2 on P1 MAIN, P2 AUX')
      .replace('backplane', 'bus AUX on E {\n 1 = GND\n 2 = +5V\n}\nbackplane')
      .replace('at 2', 'at P1.2')
      .replace('at C', 'at P1.C')
      .replace('at 1', 'at P1.1')
      .replace(
        'fitted CAGE {',
        'card TWO {\n edge P1 on MAIN\n edge P2 on AUX\n TAKES\n untouched rest\n}\nfitted CAGE {\n 1 = TWO\n 2 = empty',
      )}`;
    const both = (takes: string): string[] =>
      [0, 1].map((at) => does(text.replace('TAKES', takes), '+5V', at)[0]!);
    expect(both('takes +5V 2 A')).toEqual(['takes', 'takes']);
    expect(both('takes +5V 2 A at P1')).toEqual(['takes 2000', 'takes']);
  });
});

describe('a line with several contacts', () => {
  it('is known by the weakest of them', () => {
    const text = alone(' takes +5V 1 A\n');
    for (const name of ['+5V', 'GND'])
      expect(line(text, name).map((one) => one?.evidence)).toEqual(['guess', 'guess', 'guess', 'guess']);
  });

  it('is marked from the statement of each', () => {
    const text = alone(' takes +5V 1 A\n');
    const { analysis, file } = analysed(text);
    const drawing = drawingOf(analysis.view, analysis.findings, { view: 'bus', of: 'CAGE.MAIN' })!;
    for (const said of ['2 = +5V', 'B = +5V', 'takes +5V']) {
      const from = text.indexOf(said);
      const cells = cellsIn(drawing, file, { from, to: from + said.length });
      expect(cells).toContainEqual({ row: 1, column: 1 });
    }
  });
});

describe('a daisy chain', () => {
  const START = 'card CPU {\n edge on MAIN\n starts GRANT with 7406\n untouched rest\n}\n';
  const CARDS = `${START}card IO {\n edge on MAIN\n passes GRANT with 74LS04\n untouched rest\n}
card MEM {\n edge on MAIN\n untouched rest\n}
connector Q {\n shape edge 2 x 3\n numbers 1..3, A..C\n}
bus OTHER on Q {\n 1 = X\n}
card WRONG {\n edge on OTHER\n untouched rest\n}\n`;
  const chain = (fitted: string, cards = CARDS): string => machine({ cards, fitted });
  const roles = (...boards: string[]): string =>
    line(chain(boards.map((one, i) => ` ${i + 1} = ${one}\n`).join('')), 'GRANT')
      .map((one) => one!.role)
      .join(' ');

  test.each([
    [['empty', 'CPU', 'IO', 'MEM'], 'open starts passes untouched'],
    [['CPU', 'empty', 'MEM', 'IO'], 'starts stops stops passes'],
    [['MEM', 'empty', 'MEM as M', 'IO'], 'untouched open untouched passes'],
    [['CPU', 'WRONG', 'IO', 'empty'], 'starts stops passes open'],
    [['CPU', 'IO', 'WRONG', 'empty'], 'starts passes untouched open'],
  ])('stops where it arrives and one behind waits: %s', (boards, wanted) =>
    expect(roles(...boards)).toBe(wanted),
  );

  it('meets nothing on any line where an edge does not fit', () =>
    expect(does(chain(' 1 = WRONG\n 2 = empty\n 3 = empty\n 4 = empty\n'), 'SYNC')[0]).toBe('untouched'));

  it('is sunk by what starts it, with its own resistor', () => {
    const pulled = CARDS.replace('starts GRANT', 'pull-up GRANTED 1 kohm to +5V\n starts GRANT');
    const [starter, passer] = does(chain(' 1 = CPU\n 2 = IO\n 3 = empty\n 4 = empty\n', pulled), 'GRANT');
    expect(starter).toMatch(/^starts [1-9]\S* pull-up$/);
    expect(passer).toMatch(/^passes -\S+$/);
  });

  it('leaves a slot on another net than it came on', () => {
    const [first, second] = line(chain(' 1 = CPU\n 2 = IO\n 3 = empty\n 4 = empty\n'), 'GRANT');
    expect(first!.out).toBe(second!.net);
    expect(second!.out).not.toBe(second!.net);
  });

  it('leads from a bridge to the line that says it', () => {
    const text = chain(' 1 = CPU\n 2 = empty  bridge GRANT\n 3 = IO\n 4 = empty\n');
    expect(line(text, 'GRANT')[1]!.role).toBe('bridge');
    expect(leadsTo(text, 'GRANT', 1)).toBe('GRANT');
  });
});

describe('a reading', () => {
  const readings = (...lines: string[]): string =>
    `${alone(' takes +5V 1 A\n')}readings 2026-05-02 cards in power on {\n${lines.join('\n')}\n}\n`;

  it('in volts between two rails is the voltage of neither', () => {
    const text = readings(' CAGE.1.2 to GND = 5.02 V', ' CAGE.1.2 to CAGE.1.C = -7 V');
    expect(['+5V', '+12V'].map((name) => line(text, name)[0]!.reading)).toEqual(['5.02V', undefined]);
  });

  it('of a diode, as of ohms, is told of both its places, but not of ground', () => {
    const text = readings(' CAGE.1.2 to CAGE.1.C = 600 mV diode', ' CAGE.1.3 to GND = 500 mV diode');
    const told = ['+5V', '+12V', 'SYNC', 'GND'].map((name) => line(text, name)[0]!.reading);
    expect(told).toEqual(['D0.60', 'D0.60', 'D0.50', undefined]);
  });
});
