import { describe, expect, test } from 'vitest';
import {
  BASE,
  behind,
  type Case,
  compared,
  labels,
  offered,
  taken,
  within,
} from '../../support/completion.ts';

const held = (cases: Record<string, Case>): void => {
  test.each(Object.entries(cases))('%s', (_, one) => {
    const { found, wanted } = compared(one);
    expect(found).toEqual(wanted);
  });
};

describe('contacts', () => {
  const table = (lines: string, numbers = '1..6, A..F'): string => `pinout 1
connector E {
  shape edge 2 x 6
  numbers ${numbers}
}
connector H {
  shape header 2 x 5
  numbers zigzag
}
bus B on E {
  ${lines}
}
`;
  held({
    'free ones in the order of the connector, the next run as a range that stays in its row': {
      text: table('1 = GND\n  2 = +5V\n  |'),
      first: ['3', '3..6', '4', '5', '6', 'A', 'B'],
      never: ['1', '2'],
    },
    'those of other lines and of this line are taken': {
      text: table('1 = GND\n  2, |'),
      first: ['3'],
      never: ['1', '2'],
    },
    'a line’s own contacts are free to it': { text: table('|1 = GND'), first: ['1'] },
    'the end of a range: as far as all are free': {
      text: table('5 = GND\n  1..|'),
      first: ['4', '3', '2'],
      never: ['1', '5'],
    },
    'behind a letter': { text: table('A..|'), first: ['F', 'E'] },
    'the out contact of a chain': { text: table('1 > |'), first: ['2'], never: ['1'] },
    'every second pin of a header': {
      text: table('1 = D0').concat('card C {\n  port J1 on H {\n    1..9 step 2 = GND\n    |\n  }\n}\n'),
      first: ['2', '2..10 step 2', '4'],
      never: ['1', '3'],
    },
    'what the edge adds may be any contact': {
      text: table('1 = GND').concat('card C {\n  edge on B {\n    3 = TICK\n    |\n  }\n}\n'),
      first: ['1', '1..2', '2', '4'],
      never: ['3'],
    },
    'where a rail enters: contacts that carry it': {
      text: within('backplane CAGE', 'feed +5V from PSU at 2, |'),
      first: ['B'],
      never: ['2'],
    },
    'a key lies between neighbours': { text: within('connector EDGE12', 'key between 3, |'), first: ['4'] },
    'a pulled pin': { text: within('connector IDC10', 'pulled |'), has: ['1', '10'], never: ['11'] },
    'labels of a connector as they are usual': {
      text: behind('connector X {\n  shape edge 2 x 6\n  numbers |\n}'),
      has: ['zigzag', '1..6, A..F', '1..12'],
    },
    'labels of a ribbon header: across its rows first': {
      text: behind('connector X {\n  shape header 2 x 10\n  numbers |\n}'),
      first: ['zigzag', '1..20'],
    },
    'labels of a DIP plug: round its body first': {
      text: behind('connector X {\n  shape dip 16\n  numbers |\n}'),
      first: ['around'],
    },
  });

  test('a free contact of an edge tells what the bus has there', () => {
    const text = table('1 = GND').concat('card C {\n  edge on B {\n    |\n  }\n}\n');
    expect(offered(text)[0]).toMatchObject({ label: '1', detail: 'the bus: GND' });
  });
});

describe('slots and boards', () => {
  held({
    'slots that nobody has said anything of': {
      text: within('fitted CAGE', '|'),
      first: ['2', '2..4', '3', '4'],
      never: ['1'],
    },
    'the end of a run of slots': { text: within('fitted CAGE', '2..|'), first: ['3', '4'], never: ['1'] },
    'cards: those made for the bus and not placed yet first': {
      text: within('fitted CAGE', '2 = |').replace('loose GAUGE\n', ''),
      first: ['GAUGE', 'CPU', 'empty'],
      never: ['MAIN', 'CAGE'],
    },
    'names that tell boards of one card apart': {
      text: within('fitted CAGE', '2 = CPU as |'),
      first: ['CPU-A', 'CPU-B'],
    },
    'the far end first for what sits after a slot': {
      text: within('backplane CAGE', 'pull-up /RD 1 kohm to +5V after |'),
      first: ['4', '3', '2', '1'],
    },
    'the near end first for what sits before one': {
      text: within('backplane CAGE', 'pull-up /RD 1 kohm to +5V before |'),
      first: ['1', '2'],
    },
    'a cut lies between neighbours': { text: within('backplane CAGE', 'cut D0 between 2, |'), first: ['3'] },
    'slots in which a line of the bus holds': {
      text: within('bus MAIN', '4 = /RD in |'),
      first: ['1', '2', '3', '4'],
    },
    'a card without an edge is most likely loose': {
      text: behind('card DISPLAY "Front display" {\n}\nloose |'),
      first: ['DISPLAY'],
    },
    'what a board may lack': {
      text: behind('loose GAUGE as G2 {\n  without |\n}'),
      first: ['U1..U2', 'U1', 'U2'],
    },
    'what it lacks already comes last': {
      text: behind('loose GAUGE as G2 {\n  without U1\n  without |\n}'),
      first: ['U2', 'U1'],
    },
  });
});

describe('blocks by name', () => {
  held({
    'connectors for a bus: edges first': { text: behind('bus B on |'), first: ['EDGE12', 'IDC10'] },
    'connectors for a port: headers first': {
      text: within('card CPU', 'port J1 on |'),
      first: ['IDC10', 'EDGE12'],
    },
    'buses, and those that ship with the product': {
      text: behind('card C {\n  edge on |\n}'),
      first: ['MAIN'],
      has: ['VME-J1', 'S100', 'ISA8'],
    },
    'no second name behind a bus': {
      text: within('backplane CAGE', 'slots 5..6 on MAIN |'),
      never: ['MAIN', 'VME-J1'],
    },
    'supplies: one that has the rail first': {
      text: BASE.replace('at 2\n', 'at 2\n  feed +24V from |\n').concat(
        'supply AUX {\n  rail +24V 24 V\n}\n',
      ),
      first: ['AUX', 'PSU'],
    },
    'backplanes: those that nothing is fitted in first': {
      text: behind('backplane SECOND {\n}\nfitted |'),
      first: ['SECOND', 'CAGE'],
    },
    'connectors of the card for `at`': {
      text: within('card GAUGE', 'takes -12V 10 mA at |'),
      first: ['J1', 'edge'],
      never: ['MAIN'],
    },
    'a new card: what is fitted and not described yet': {
      text: within('fitted CAGE', '2 = RAM').concat('card |'),
      first: ['RAM'],
      never: ['CPU'],
    },
    'a new connector: what a bus sits on and nothing describes': {
      text: behind('bus B on EDGE99 {\n}\nconnector |'),
      first: ['EDGE99'],
    },
    'a new port: what other lines speak of, then the next number': {
      text: within('card GAUGE', 'takes -12V 10 mA at J9\n  port |'),
      first: ['J9', 'J2'],
      never: ['J1'],
    },
    'the next ribbon': { text: behind('ribbon W1 10 way {\n}\nribbon |'), first: ['W2'] },
    'the next chip': { text: within('card GAUGE', 'part |'), first: ['U3'] },
  });

  test('a published bus brings its `use` line along', () => {
    const text = `pinout 1\ntitle "A crate"\n\ncard CPU {\n  edge on |\n}\n`;
    const one = offered(text).find(({ label }) => label === 'VME-J1')!;
    expect(taken(text.replace('|', ''), one)).toBe(
      'pinout 1\ntitle "A crate"\nuse published "vme-j1"\n\ncard CPU {\n  edge on VME-J1\n}\n',
    );
  });

  test('one that is used already is there once and brings nothing', () => {
    const text = `pinout 1\nuse published "vme-j1"\ncard CPU {\n  edge on |\n}\n`;
    const [one, ...others] = offered(text).filter(({ label }) => label === 'VME-J1');
    expect(one).not.toHaveProperty('also');
    expect(others).toEqual([]);
  });
});

describe('places', () => {
  held({
    'a card’s own connectors and chips': {
      text: within('card GAUGE', 'wire |'),
      first: ['edge', 'J1'],
      has: ['U1'],
      never: ['CAGE', 'GAUGE', 'CPU'],
    },
    'contacts of its connector': {
      text: within('card GAUGE', 'wire J1.|'),
      first: ['1', '2'],
      never: ['11', 'U1'],
    },
    'pins of a chip that the text names': {
      text: within('card GAUGE', 'wire U3.4 to J1.9\n  wire U3.|'),
      first: ['4'],
    },
    'a backplane’s slots, then contacts': {
      text: within('backplane CAGE', 'wire 1.|'),
      first: ['1', '2'],
      has: ['A', 'F'],
    },
    'lines of the bus for a cut': {
      text: within('backplane CAGE', 'cut |'),
      first: ['/RD', 'GRANT', 'D0..D3'],
      has: ['1'],
    },
    'rails of the supply for a strap': {
      text: within('supply PSU', 'strap +5V, |'),
      first: ['-12V'],
      never: ['+5V', 'D0'],
    },
    'in readings: the cage, boards, supply lines': {
      text: behind('readings {\n  |\n}'),
      first: ['CAGE', 'CPU', 'GAUGE', 'GND', '+5V'],
    },
    'its slots': {
      text: behind('readings {\n  CAGE.1.1 to CAGE.|\n}'),
      first: ['1', '2', '3', '4'],
      never: ['GND'],
    },
    'their contacts': { text: behind('readings {\n  CAGE.3.|\n}'), first: ['1', '2'], has: ['A'] },
    'a board’s edge, connectors and chips': {
      text: behind('readings {\n  GAUGE.|\n}'),
      first: ['edge', 'J1', 'U1', 'U2'],
    },
    'a cable: stretches of one name before single contacts': {
      text: behind('cable C1 {\n  CPU.edge.|\n}')
        .replace('2, B    = +5V ', '2..3, B = +5V ')
        .replace('3       = -12V', 'E = -12V'),
      first: ['2..3'],
      has: ['2', 'A'],
    },
    'and the end of such a stretch': { text: behind('cable C1 {\n  GAUGE.J1.9..|\n}'), first: ['10'] },
  });

  test('contacts tell what they are', () => {
    expect(offered(behind('readings {\n  CAGE.1.2 to CAGE.3.|\n}'))[2]).toMatchObject({
      label: '3',
      detail: '-12V, meter',
    });
  });

  test('a part of a path asks for the next', () => {
    expect(offered(behind('readings {\n  |\n}'))[0]).toMatchObject({
      label: 'CAGE',
      insert: 'CAGE.',
      retrigger: true,
    });
  });
});

describe('ribbons', () => {
  const ports = BASE.concat(`card PANEL {
  port P1 on IDC10 {
    1..10 = unknown
  }
}
connector IDC26 {
  shape header 2 x 13
}
card WIDE {
  port P1 on IDC26 {
    1..26 = unknown
  }
}
loose PANEL
loose WIDE
`);
  held({
    'ends: connectors that it fits first, whole': {
      text: `${ports}ribbon W1 10 way {\n  end |\n}\n`,
      first: ['GAUGE.J1', 'PANEL.P1', 'unknown', 'WIDE.P1'],
    },
    'an end of its own is not offered again': {
      text: `${ports}ribbon W1 10 way {\n  end GAUGE.J1 stripe 1\n  end |\n}\n`,
      first: ['PANEL.P1'],
      never: ['GAUGE.J1'],
    },
    'what holds another ribbon comes later': {
      text: `${ports}ribbon W2 10 way {\n  end GAUGE.J1 stripe 1\n}\nribbon W1 10 way {\n  end |\n}\n`,
      first: ['PANEL.P1', 'GAUGE.J1'],
    },
    'the stripe meets the first or the last contact': {
      text: `${ports}ribbon W1 10 way {\n  end GAUGE.J1 stripe |\n}\n`,
      first: ['1', '10'],
      never: ['2'],
    },
    'how wide: what connectors without a ribbon ask for': {
      text: `${ports}ribbon W1 |`,
      first: ['10 way', '26 way'],
    },
    'conductors that twist': {
      text: `${ports}ribbon W1 10 way {\n  twist |\n}\n`,
      first: ['1..10', '1'],
      never: ['11'],
    },
  });

  test('a whole path replaces what is typed of it', () => {
    const text = `${ports}ribbon W1 10 way {\n  end GAUGE.|\n}\n`;
    const [first] = offered(text);
    expect(taken(text.replace('|', ''), first!)).toContain('  end GAUGE.J1\n');
  });
});

test('labels are offered once each', () => {
  for (const text of [
    within('card GAUGE', 'drives |'),
    within('bus MAIN', 'C = |'),
    within('card GAUGE', 'drives /RD with |'),
  ]) {
    const all = labels(offered(text));
    expect(all.length).toBe(new Set(all).size);
  }
});
