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

describe('lines', () => {
  const card = (lines: string): string => behind(`card NEW {\n  edge on MAIN\n  ${lines}\n}`);
  held({
    'what the card does nothing with yet comes first, vectors as ranges': {
      text: card('drives |'),
      first: ['/RD', 'D0..D3', 'D0', 'D1', 'D2', 'D3', 'GRANT'],
      never: ['+5V', 'GND', '-12V', 'Q0'],
    },
    'what it uses already comes later': { text: card('receives /RD\n  receives |'), first: ['D0..D3', 'D0'] },
    'the next of a vector behind one of it': { text: card('drives D0, |'), first: ['D1..D3', 'D1', '/RD'] },
    'what stands on the line is not offered again': {
      text: card('drives /RD, |'),
      first: ['D0..D3'],
      never: ['/RD'],
    },
    'nor are members of a range that does': {
      text: card('drives D0..D2, |'),
      first: ['D3', '/RD'],
      never: ['D0', 'D1', 'D0..D3'],
    },
    'the end of a range: its own vector, longest first': {
      text: card('drives D1..|'),
      first: ['D3', 'D2', 'D0'],
      never: ['/RD', 'D1'],
    },
    'part of a name with its mark is what is replaced': { text: card('drives /R|'), has: ['/RD'] },
    'chains for what starts and passes': {
      text: card('passes |'),
      first: ['GRANT'],
      never: ['/RD', 'D0..D3'],
    },
    'a chain by either of its ends': {
      text: `pinout 1
connector E {
  shape edge 1 x 20
}
bus B on E {
  13 > 14 = IACKIN > IACKOUT
}
card C {
  edge on B
  starts |
}
`,
      first: ['IACKIN', 'IACKOUT'],
    },
    'chains for a bridge': {
      text: within('fitted CAGE', '3 = empty bridge |'),
      first: ['GRANT'],
      never: ['/RD'],
    },
    'all but what is named': { text: card('untouched |'), has: ['rest', '/RD'] },
    'lines of a card without an edge are those of its connectors': {
      text: behind('card NEW {\n  port J1 on IDC10 {\n    2..8 step 2 = X0..X3\n  }\n  receives |\n}'),
      first: ['X0..X3', 'X0'],
      never: ['/RD', 'D0'],
    },
    'terminators: what has none yet, chains last': {
      text: within('backplane CAGE', 'terminate /RD 220 ohm to +5V after 4\n  terminate |'),
      first: ['D0..D3'],
      has: ['/RD', 'GRANT'],
      never: ['+5V'],
    },
    'lines whose n is an active-low mark': {
      text: 'pinout 1\nconnector E {\n  shape row 4\n}\nbus B on E {\n  1 = nRD\n  2 = NMI\n  3 = D0\n}\nactive-low |\n',
      first: ['nRD'],
      never: ['NMI', 'D0'],
    },
  });

  describe('what other cards wait for comes first', () => {
    const text = (lines: string): string =>
      card(lines)
        .replace('C..F    = D0..D3', 'C = RESET\n  D = WAIT\n  E..F = D0..D1')
        .replace('transceives  D0..D3', 'transceives  D0..D1')
        .replace('receives  /RD', 'receives  /RD, WAIT');
    held({
      'to drive: what is heard and driven by nobody': {
        text: text('drives |'),
        first: ['WAIT', '/RD', 'RESET'],
      },
      'to hear: what is driven': { text: text('receives |'), first: ['/RD', 'D0..D1'], has: ['RESET'] },
      'to drive and hear: what others do so': { text: text('transceives |'), first: ['D0..D1'] },
      'to pull: what is heard': { text: text('pulls |'), first: ['/RD', 'WAIT', 'RESET'] },
    });
  });

  test('another name of a line that is used counts as used', () => {
    const text = card('receives /RD\n  receives |').replace('= /RD     by', '= /RD also MREQ by');
    expect(labels(offered(text)).slice(0, 2)).toEqual(['D0..D3', 'D0']);
  });

  test('a pull-up wants lines that several boards pull', () => {
    const text = BASE.replace('4       = /RD     by trace', '4       = /RD     by trace\n  E = /IRQ wired-or')
      .replace('C..F', 'C..D')
      .replace('D0..D3  by', 'D0..D1  by');
    const changed = text.replace('feed   GND', 'pull-up |\n  feed   GND');
    expect(labels(offered(changed))[0]).toBe('/IRQ');
  });

  test('a name that is a word of the language is written in quotes', () => {
    const text =
      'pinout 1\nconnector E {\n  shape row 4\n}\nbus B on E {\n  1 = "key"\n  2 = D0\n}\ncard C {\n  edge on B\n  receives |\n}\n';
    expect(labels(offered(text)).slice(0, 2)).toEqual(['"key"', 'D0']);
  });

  test('details tell what it is, where and how it is known', () => {
    const [first, second] = offered(card('drives |'));
    expect(first).toMatchObject({ kind: 'signal', detail: 'signal, contact 4, by trace' });
    expect(second?.detail).toContain('4: signal');
  });
});

describe('rails', () => {
  held({
    'what a card takes: rails of its edge that it does not take yet': {
      text: within('card CPU', 'takes |'),
      first: ['-12V', '+5V'],
      never: ['GND', '/RD', 'D0'],
    },
    'feeds: what the backplane lacks first, ground too': {
      text: within('backplane CAGE', 'feed |'),
      first: ['-12V', '+5V', 'GND'],
      never: ['/RD'],
    },
    'feeds of the supply that the line names': {
      text: within('backplane CAGE', 'feed | from AUX at 3').replace(
        'connector EDGE12',
        'supply AUX {\n  rail +24V 24 V\n}\nconnector EDGE12',
      ),
      first: ['+24V'],
      never: ['+5V'],
    },
    'a first leg goes to a rail': {
      text: within('backplane CAGE', 'terminate D0 220 ohm to |'),
      first: ['+5V', '-12V', 'GND'],
    },
    'a second leg to ground': {
      text: within('backplane CAGE', 'terminate D0 220 ohm to +5V, 330 ohm to |'),
      first: ['GND'],
      never: ['+5V'],
    },
    'a pull-down to ground': { text: within('backplane CAGE', 'pull-down D0 1 kohm to |'), first: ['GND'] },
    'a regulator makes it from a rail of its sign': {
      text: within('card CPU', 'makes -5V from |'),
      first: ['-12V', '+5V'],
    },
    'a chip needs the rails of its table': {
      text: within('card CPU', 'part U1 with 4116 |'),
      first: ['-5V', '+12V', '+5V'],
    },
    'rails of a supply: what is not there yet': {
      text: within('supply PSU', 'rail |'),
      has: ['+12V', '-5V'],
      never: ['+5V', '-12V', 'GND'],
    },
    'the order of a supply: its own rails': {
      text: within('supply PSU', 'order +5V, |'),
      first: ['-12V'],
      never: ['+5V', '+12V'],
    },
    'a sense lead is for a rail of its supply': {
      text: within('supply PSU', 'sense S+ for |'),
      first: ['+5V', '-12V'],
      never: ['GND'],
    },
    'a bus declares the rails on its contacts first': {
      text: within('bus MAIN', 'rail |'),
      first: ['+5V', '-12V'],
      never: ['GND', 'D0'],
    },
  });
});

describe('names for a table', () => {
  const bus = (contacts: string, cards: string): string => `pinout 1
supply PSU {
  rail +5V 5 V
  ground GND
}
connector E {
  shape row 30
}
connector H {
  shape header 2 x 5
  numbers zigzag
}
bus B on E {
  ${contacts}
}
${cards}
`;
  const cards = 'card C {\n  edge on B\n  drives A0..A7, /RD with 74LS244\n}';
  held({
    'what cards speak of and no contact carries, as many as contacts stand at the left first': {
      text: bus('1..8 = |', cards),
      first: ['A0..A7'],
      has: ['/RD', 'A0', 'spare', 'unknown', '+5V', 'GND'],
    },
    'one contact, one name': { text: bus('1 = |', cards), first: ['/RD', 'A0'] },
    'what is carried already comes after what is not': {
      text: bus('1..8 = A0..A7\n  9 = |', cards),
      first: ['/RD'],
    },
    'the next of the vector of the line before': {
      text: bus('1..8 = X0..X7\n  9..16 = |', ''),
      first: ['X8..X15'],
    },
    'rails come again': { text: bus('1 = +5V\n  2 = |', ''), first: ['+5V'] },
    'an edge may add what its card uses': {
      text: bus('1 = D0', 'card C {\n  drives TICK\n  edge on B {\n    5 = |\n  }\n}'),
      first: ['TICK'],
    },
    'a connector carries what the other end of its ribbon does': {
      text: bus(
        '1 = D0',
        'card C {\n  port J1 on H {\n    1..4 = Q0..Q3\n  }\n}\ncard D {\n  port J1 on H {\n    1..4 = |\n  }\n}\nloose C\nloose D\nribbon W1 10 way {\n  end C.J1 stripe 1\n  end D.J1 stripe 1\n}',
      ),
      first: ['Q0..Q3', 'Q0'],
    },
    'a connector of a supply carries its rails': {
      text: bus(
        '1 = D0',
        'supply AUX {\n  rail +24V 24 V\n  ground AGND\n  port P1 on H {\n    1 = |\n  }\n}',
      ),
      first: ['+24V', 'AGND'],
    },
  });

  test('the range that fits is chosen beforehand', () => {
    const [first] = offered(bus('1..8 = |', cards));
    expect(first).toMatchObject({ label: 'A0..A7', preselect: true });
  });
});

describe('amid a list', () => {
  const after = (text: string, label: string): string => {
    const one = offered(text).find((each) => each.label === label);
    if (one === undefined) throw new Error(`no ${label}`);
    const plain = text.replace('|', '');
    const at = text.slice(0, text.indexOf('|')).split('\n').length - 1;
    return taken(plain, one).split('\n')[at]!.trim();
  };
  test.each([
    ['before an item', within('card CPU', 'drives | D2 with 74LS244'), 'D1', 'drives D1, D2 with 74LS244'],
    ['between two', within('card CPU', 'drives D0, | D2'), 'D1', 'drives D0, D1, D2'],
    ['before a comma', within('card CPU', 'drives |, D2'), 'D1', 'drives D1, D2'],
    ['before a word', within('card CPU', 'drives D0, | with 74LS244'), 'D1', 'drives D0, D1 with 74LS244'],
    ['at its end', within('card CPU', 'drives D0, |'), 'D1', 'drives D0, D1'],
    ['in place of an item', within('card CPU', 'drives D0, D|2'), 'D1', 'drives D0, D1'],
    ['contacts', within('backplane CAGE', 'feed GND from PSU at | A'), '1', 'feed GND from PSU at 1, A'],
    ['of a table', within('fitted CAGE', '| 3 = GAUGE'), '2', '2, 3 = GAUGE'],
  ])('a comma is written where it is missing: %s', (_, text, label, line) => {
    expect(after(text, label)).toBe(line);
  });
});
