import { describe, expect, it } from 'vitest';
import { neighboursOf } from '../../../src/analysis/neighbours.ts';
import type { Connector } from '../../../src/machine/types.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf, machineOf } from '../../support/machine.ts';

const RULE = 'neighbour-hazard';

const cage = (table: string, mark = '', shape = 'edge 1 x 8', more = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V max 10 A
  rail +12V 12 V max 2 A
  rail -12V -12 V max 800 mA
  ground GND
}
connector C8 {
  shape ${shape}
}
bus B on C8 { ${mark}
${table}
}
backplane CAGE {
  slots 1..6 on B
}
${more}
`;

const hazard = (text: string) => findingsOf(text).find(({ rule }) => rule === RULE);

describe('neighbour-hazard fires', () => {
  it('once for a bus, worst pair first', () => {
    const text = cage(
      '  1 = GND\n  2 = +5V\n  3 = +12V\n  4 = D0\n  5 = -12V\n  6 = D1',
      '#! note neighbour-hazard',
    );
    expectMarked(RULE, text);
    expect(hazard(text)?.message).toBe(
      '5 pairs of neighbours on bus B do harm under a slipping probe; the worst, CAGE.1.3 (+12V) beside CAGE.1.4 (D0), kills what hangs on the line: 12 V, up to 2 A',
    );
    expect(hazard(text)?.path.map(({ contact }) => contact)).toEqual(['CAGE.1.3', 'CAGE.1.4']);
  });

  it('on contacts back to back, and on rows of a DIN connector', () => {
    expectMarked(RULE, cage('  1 = +5V\n  5 = GND', '#! neighbour-hazard', 'edge 2 x 4'));
    expectMarked(RULE, cage('  1 = +12V\n  3 = D0', '#! neighbour-hazard', 'din 4 x 2'));
  });

  it('with the worst pair alone on its path, however many there are', () => {
    const table = Array.from({ length: 20 }, (_, i) => `  ${i + 1} = ${i % 2 === 0 ? '+5V' : 'GND'}`).join(
      '\n',
    );
    const text = cage(table, '', 'edge 1 x 20');
    expect(hazard(text)?.message).toContain('19 pairs');
    expect(hazard(text)?.path).toHaveLength(2);
  });

  it('on a port with a ribbon in it, once for two boards of one card', () => {
    const card = `card DISPLAY {
  port J1 on C8 { #! neighbour-hazard
    1 = GND
    2 = +5V
  }
}
loose DISPLAY as D-A
loose DISPLAY as D-B
ribbon W1 8 way {
  end D-A.J1 stripe 1
  end D-B.J1 stripe 1
}`;
    expectMarked(RULE, cage('  1 = GND', '', 'edge 1 x 8', card));
  });

  it('at the backplane, where the table is one that ships with the product', () => {
    expectMarked(
      RULE,
      'pinout 1\nuse published "vme-j1"\nbackplane CRATE { #! note neighbour-hazard\n  slots 1..9 on VME-J1\n}\n',
    );
  });
});

describe('neighbour-hazard is silent', () => {
  it('on +5V beside signals, and on rails apart', () => {
    expectSilent(
      RULE,
      cage('  1 = GND\n  2 = D0\n  3 = +5V\n  4 = D1\n  5 = spare\n  6 = +12V\n  7 = unknown'),
    );
  });

  it('on one rail on two contacts, on rails of one voltage, and on straps', () => {
    expectSilent(RULE, cage('  1..2 = +5V, +5V\n  3 = +5VB'));
    expectSilent(RULE, cage('  1 = +5V\n  2 = +12V').replace('  slots', '  strap +5V, +12V\n  slots'));
  });

  it('on a loose board with nothing plugged in, and on a bus without a backplane', () => {
    expectSilent(
      RULE,
      cage(
        '  1 = GND',
        '',
        'edge 1 x 8',
        'card D {\n  port J1 on C8 {\n    1 = GND\n    2 = +5V\n  }\n}\nloose D',
      ),
    );
    expectSilent(RULE, cage('  1 = GND\n  2 = +5V').replace(/backplane[\s\S]*/, ''));
  });

  it('across the rows of a D-shell or a DIP plug', () => {
    expectSilent(RULE, cage('  1 = +5V\n  6 = GND', '', 'dshell 9'));
    expectSilent(RULE, cage('  1 = +5V\n  5 = GND', '', 'dip 2 x 4').replace('dip 2 x 4', 'dip 8'));
  });
});

describe('neighboursOf', () => {
  const pairs = (shape: string, numbers = ''): string[] => {
    const text = `pinout 1\nconnector C {\n  shape ${shape}\n${numbers}\n}\n`;
    const connector = machineOf(text).machine.connectors[0] as Connector;
    return [...neighboursOf(connector)].map((pair) => pair.map((i) => connector.labels[i]).join('-'));
  };

  it('lists each pair once', () => {
    expect(pairs('row 4')).toEqual(['1-2', '2-3', '3-4']);
    expect(pairs('header 2 x 2', '  numbers zigzag')).toEqual(['1-3', '1-2', '2-4', '3-4']);
    expect(pairs('edge 2 x 2', '  numbers 1..2, A..B')).toEqual(['1-2', '1-A', '2-B', 'A-B']);
  });
});
