import { describe, expect, it } from 'vitest';
import { definitionAt, highlightsAt, type Location, referencesAt } from '../../../src/editing/navigation.ts';
import { loggerAt } from '../../support/logger.ts';
import { opened, shown } from '../../support/project.ts';

/** Places as `file: line of the text`, the name itself in brackets. */
function lines(texts: ReadonlyMap<string, string>, places: readonly Location[]): string[] {
  return places.map(({ file, from, to }) => {
    const text = texts.get(file)!;
    const start = text.lastIndexOf('\n', from - 1) + 1;
    const end = text.indexOf('\n', to);
    const line = `${text.slice(start, from)}[${text.slice(from, to)}]${text.slice(to, end)}`;
    return `${file.slice('/machine/'.length, -'.pinout'.length)}: ${line.replace(/\s+/g, ' ').trim()}`;
  });
}

const follow = (files: Record<string, string>): string[] => {
  const { project, file, offset, texts } = opened(files);
  const found = definitionAt(project, file, offset);
  return lines(texts, found?.targets ?? []);
};

const all = (files: Record<string, string>, declarations = true): string[] => {
  const { project, file, offset, texts } = opened(files);
  return lines(texts, referencesAt(project, file, offset, declarations));
};

describe('definition', () => {
  it.each([
    ['a connector', 'J1 on IDC|10', ['main: connector [IDC10] {']],
    ['a bus in another file', 'edge         on MA|IN', ['bus: bus [MAIN] on EDGE14 {']],
    ['a supply', 'from P|SU', ['main: supply [PSU] {']],
    ['a card in its slot', '1    = C|PU', ['main: card [CPU] "Processor" {']],
    ['a board in a path', 'end  GAUGE|-A.J1', ['main: 2 = GAUGE as [GAUGE-A]']],
    ['a port in a path', 'end  GAUGE-A.J|1', ['main: port [J1] on IDC10 {']],
    ['a port behind `at`', 'at J|1\n', ['main: port [J1] on IDC10 {']],
    ['a line of the bus', 'receives     /I|RQ', ['bus: C = [/IRQ] wired-or']],
    ['a vector of the bus', 'transceives  D0|..D2', ['bus: 4..6 = [D0..D2] by trace']],
    ['one line of a vector', 'transceives  D0, D|1, D2', ['bus: 4..6 = [D0..D2] by trace']],
    ['a line of a port', 'drives       Q|0..Q2', ['main: 2..4 = [Q0..Q2]']],
    ['a rail', 'takes        +5|V                1.2 A', ['main: rail [+5V] 5 V max 3 A']],
    ['a backplane', 'fitted CA|GE', ['main: backplane [CAGE] {']],
    ['a slot', '4    = empty'.replace('4', '|4'), ['main: slots [1..4] on MAIN']],
    ['the contact of a slot', 'CAGE.3.|4 ', ['bus: [4..6] = D0..D2 by trace']],
    ['the contact of a port', 'GAUGE-A.J1.|5', ['main: [5] = STROBE']],
    ['the contact of a backplane wire', 'wire         1.|D', ['bus: [D..F] = unknown']],
    ['the contact of a feed', 'from PSU    at |3', ['bus: [3] = +12V by guess']],
  ])('of %s', (_, marked, expected) => {
    expect(follow(loggerAt(marked))).toEqual(expected);
  });

  it('is found where it stands itself', () => {
    expect(follow(loggerAt('bus MA|IN', 'bus.pinout'))).toEqual(['bus: bus [MAIN] on EDGE14 {']);
  });

  it('leads into a published table', () => {
    const { project, file, offset } = opened(
      'pinout 1\nuse published "isa-8"\nbackplane CAGE {\n  slots 1..4 on ISA|8\n}\n',
    );
    expect(definitionAt(project, file, offset)?.targets.map((one) => one.file)).toEqual(['published:isa-8']);
  });

  it('is not there for words, numbers and parts of the trade', () => {
    expect(follow(loggerAt('ca|rd CPU "Processor"'))).toEqual([]);
    expect(follow(loggerAt('1.2| A'))).toEqual([]);
    expect(follow(loggerAt('with 74LS|14'))).toEqual([]);
  });
});

describe('references', () => {
  it('of a line of a bus: its bus, its backplane, the cards on it', () => {
    expect(all(loggerAt('C             = /I|RQ', 'bus.pinout'))).toEqual([
      'bus: C = [/IRQ] wired-or',
      'main: pull-up [/IRQ] 1 kohm to +5V after 4',
      'main: receives [/IRQ] with 74LS14',
      'main: pulls [/IRQ] with 7406',
    ]);
  });

  it('of one line: the vectors that hold it too', () => {
    expect(all(loggerAt('transceives  D0, D|1, D2'))).toEqual([
      'bus: 4..6 = [D0..D2] by trace',
      'main: transceives [D0..D2] with 74LS245',
      'main: transceives D0, [D1], D2 with 74LS245',
    ]);
  });

  it('without the declarations', () => {
    expect(all(loggerAt('transceives  D0, D|1, D2'), false)).toEqual([
      'main: transceives [D0..D2] with 74LS245',
      'main: transceives D0, [D1], D2 with 74LS245',
    ]);
  });

  it('of a line of one board only', () => {
    expect(all(loggerAt('2..4          = Q|0..Q2'))).toEqual([
      'main: 2..4 = [Q0..Q2]',
      'main: drives [Q0..Q2] with 74LS244 at J1',
    ]);
  });

  it('of equal names on two cards that share no bus: each by itself', () => {
    const card = (name: string, cursor = ''): string =>
      `card ${name} {\n  port J1 on P4 {\n    1 = PULSE${cursor}\n  }\n  drives PULSE with 74LS244\n}\n`;
    const text = `pinout 1\nconnector P4 {\n  shape row 4\n}\n${card('A', '|')}${card('B')}`;
    const { project, file, offset, texts } = opened(text);
    expect(shown(texts.get(file)!, referencesAt(project, file, offset))).toEqual(['7:9 PULSE', '9:10 PULSE']);
  });

  it('reach every machine that uses the file', () => {
    const files = {
      ...loggerAt('receives     /I|RQ'),
      'other.pinout': 'pinout 1\nuse "bus.pinout"\ncard X {\n  edge on MAIN\n  pulls /IRQ with 7406\n}\n',
    };
    expect(all(files)).toContain('other: pulls [/IRQ] with 7406');
  });
});

describe('highlights', () => {
  it('are the places of this file', () => {
    const { project, file, offset, texts } = opened(loggerAt('receives     /I|RQ'));
    expect(lines(texts, highlightsAt(project, file, offset))).toEqual([
      'main: pull-up [/IRQ] 1 kohm to +5V after 4',
      'main: receives [/IRQ] with 74LS14',
      'main: pulls [/IRQ] with 7406',
    ]);
  });

  it('tell a declaration apart', () => {
    const { project, file, offset } = opened(loggerAt('connector IDC|10'));
    expect(highlightsAt(project, file, offset).map(({ declares }) => declares)).toEqual([true, false]);
  });
});
