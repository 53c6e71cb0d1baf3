import { describe, expect, it } from 'vitest';
import { rename, renameTargetAt } from '../../../src/editing/rename.ts';
import { loggerAt } from '../../support/logger.ts';
import { opened } from '../../support/project.ts';

/** The lines that a rename changes, as they are after it; or why it is refused. */
function renamed(files: Record<string, string> | string, to: string): string[] | string {
  const { project, file, offset, texts } = opened(files);
  const result = rename(project, file, offset, to);
  if ('refused' in result) return result.refused;
  const after: string[] = [];
  for (const [name, text] of texts) {
    let changed = text;
    const here = result.filter((one) => one.file === name).sort((a, b) => b.from - a.from);
    for (const { from, to: end, text: put } of here)
      changed = changed.slice(0, from) + put + changed.slice(end);
    const before = text.split('\n');
    changed.split('\n').forEach((line, i) => {
      if (line !== before[i]) after.push(line.replace(/\s+/g, ' ').trim());
    });
  }
  return after;
}

describe('rename', () => {
  it('a line of a bus, in every file', () => {
    expect(renamed(loggerAt('receives     /I|RQ'), '/INT')).toEqual([
      'pull-up /INT 1 kohm to +5V after 4',
      'receives /INT with 74LS14',
      'pulls /INT with 7406',
      'C = /INT wired-or',
    ]);
  });

  it('one line of a vector: the vector is written apart', () => {
    expect(renamed(loggerAt('transceives  D0, D|1, D2'), 'DATA1')).toEqual([
      'transceives D0, DATA1, D2 with 74LS245',
      'transceives D0, DATA1, D2 with 74LS245',
      '4..6 = D0, DATA1, D2 by trace',
    ]);
  });

  it('a whole vector by its two ends', () => {
    expect(renamed(loggerAt('transceives  D|0..D2'), 'DATA0..DATA2')).toEqual([
      'transceives DATA0..DATA2 with 74LS245',
      'transceives DATA0, DATA1, DATA2 with 74LS245',
      '4..6 = DATA0..DATA2 by trace',
    ]);
  });

  it('a rail, wherever it is named', () => {
    expect(renamed(loggerAt('rail    +1|2V'), '+12VA')).toEqual([
      'rail +12VA 12 V max 1 A',
      'feed +12VA from PSU at 3',
      '3 = +12VA by guess',
    ]);
  });

  it.each([
    ['a card', '1    = C|PU', 'BRAIN', ['card BRAIN "Processor" {', '1 = BRAIN']],
    [
      'a board',
      'as  GAUGE-|A',
      'LEFT',
      ['2 = GAUGE as LEFT', 'end LEFT.J1 stripe 1', 'LEFT.J1.5 to GND = open'],
    ],
    ['a connector', 'connector IDC|10', 'BOX10', ['connector BOX10 {', 'port J1 on BOX10 {']],
    [
      'a port',
      'port J|1',
      'J9',
      [
        'port J9 on IDC10 {',
        'drives Q0..Q2 with 74LS244 at J9',
        'end GAUGE-A.J9 stripe 1',
        'GAUGE-A.J9.5 to GND = open',
      ],
    ],
    [
      'a backplane',
      'backplane CA|GE',
      'RACK',
      ['backplane RACK {', 'fitted RACK {', 'RACK.1.4 to RACK.3.4 = 0.2 ohm'],
    ],
    [
      'a bus',
      'edge         on MA|IN',
      'RACKBUS',
      ['slots 1..4 on RACKBUS', 'edge on RACKBUS', 'edge on RACKBUS', 'bus RACKBUS on EDGE14 {'],
    ],
  ])('%s', (_, marked, to, expected) => {
    expect(renamed(loggerAt(marked), to)).toEqual(expected);
  });

  it('a connector that a card is on without a bus', () => {
    const text = `pinout 1
connector ED|GE {
  shape row 8
  numbers 1..8
}
card X {
  edge on EDGE {
    1 = GND
  }
}
`;
    expect(renamed(text, 'BOX')).toEqual(['connector BOX {', 'edge on BOX {']);
  });

  it('leaves the machine as sound as it was', () => {
    const files = loggerAt('receives     /I|RQ');
    const { project, file, offset, texts } = opened(files);
    const before = project.of(file)!.findings.map(({ rule }) => rule);
    const changes = rename(project, file, offset, '/ATTN');
    if ('refused' in changes) throw new Error(changes.refused);
    for (const [name, text] of texts) {
      let changed = text;
      for (const one of changes.filter((c) => c.file === name).sort((a, b) => b.from - a.from))
        changed = changed.slice(0, one.from) + one.text + changed.slice(one.to);
      project.set(name, changed);
    }
    expect(project.of(file)!.findings.map(({ rule }) => rule)).toEqual(before);
  });
});

describe('rename is refused', () => {
  it.each([
    ['where nothing has a name', 'ca|rd CPU', 'X', 'nothing here has a name of its own'],
    ['for a contact', 'wire         1.|D', 'X', 'contacts are called as'],
    ['for a slot', 'wire         |1.D', 'X', 'slots are called as'],
    ['for a part of the trade', 'with 74LS|14', 'X', 'is a part number as its maker prints it'],
    ['by a word of the language', 'receives     /I|RQ', 'clock', '`clock` cannot be a name'],
    ['by what is no name', 'receives     /I|RQ', 'A B', 'cannot be a name'],
    ['by an empty name', 'receives     /I|RQ', '', 'cannot be a name'],
    [
      'where the bus has such a line',
      'receives     /I|RQ',
      'GRANT',
      'there is a line or rail `GRANT` already',
    ],
    [
      'where a card on the bus has such a line',
      'receives     /I|RQ',
      'STROBE',
      'there is a line or rail `STROBE` already',
    ],
    ['where a signal would become a rail', 'receives     /I|RQ', '+9V', 'reads as a rail or a ground'],
    ['where a board has the name', '1    = C|PU', 'GAUGE-A', 'there is a board `GAUGE-A` already'],
    ['where a vector would lose members', 'transceives  D|0..D2', 'X0..X7', 'are 3 names'],
    ['where one name would become many', 'receives     /I|RQ', 'X0..X7', 'is one name'],
  ])('%s', (_, marked, to, reason) => {
    expect(renamed(loggerAt(marked), to)).toContain(reason);
  });

  // A card has the lines of its bus and the lines of its ports, whether or not its text speaks of them.
  const APART = `pinout 1
supply PSU {
  rail +5V 5 V
  ground GND
}
supply AUX {
  rail +24V 24 V
  ground GND
}
connector E {
  shape edge 2 x 6
  numbers 1..6, A..F
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
bus MAIN on E {
  1, A = GND
  2, B = +5V
  C = /IRQ
}
backplane CAGE {
  slots 1..2 on MAIN
  feed +5V from PSU at 2
}
card X {
  edge on MAIN
  port J1 on IDC10 {
    5 = STROBE
    6 = PULSE
  }
  wire U3.4 to J1.7
}
fitted CAGE {
  1 = X
  2 = empty
}
readings power off {
  X.U3.4 to X.J1.7 = 0.1 ohm
}
`;
  const at = (marked: string) => APART.replace(marked.replace('|', ''), marked);

  it.each([
    [
      'where a bus line would be one with a line of a port',
      'C = /I|RQ',
      'STROBE',
      'a line or rail `STROBE` already',
    ],
    [
      'where a line of a port would be one with a bus line',
      '5 = STR|OBE',
      '/IRQ',
      'a line or rail `/IRQ` already',
    ],
    ['where a rail would be called as a signal', 'rail +2|4V', 'PULSE', 'a line or rail `PULSE` already'],
    ["where two supplies' rails would have one name", 'rail +2|4V', '+5V', 'a line or rail `+5V` already'],
    ['where a chip would be called as a connector', 'wire U|3.4', 'J1', 'a port `J1` already'],
    ['where a chip could not be found any more', 'wire U|3.4', 'CHIP', 'there is no place `X.CHIP.4`'],
  ])('%s', (_, marked, to, reason) => {
    expect(renamed(at(marked), to)).toContain(reason);
  });

  it.each([
    ['a bus like a connector', 'bus MA|IN', 'IDC10', 'there is a connector `IDC10` already'],
    ['a ribbon like a card', 'ribbon W|1', 'GAUGE', 'there is a card `GAUGE` already'],
  ])('%s', (_, marked, to, reason) => {
    const file = marked.startsWith('bus') ? 'bus.pinout' : 'main.pinout';
    expect(renamed(loggerAt(marked, file), to)).toContain(reason);
  });

  it('not where a name is free', () => {
    expect(renamed(at('C = /I|RQ'), '/INT')).toEqual(['C = /INT']);
    expect(renamed(at('wire U|3.4'), 'U7')).toEqual(['wire U7.4 to J1.7', 'X.U7.4 to X.J1.7 = 0.1 ohm']);
  });

  it('in a published table', () => {
    const text =
      'pinout 1\nuse published "isa-8"\ncard X {\n  edge on ISA8\n  receives RESET|DRV with 74LS\n}\n';
    const { project, file, offset } = opened(text);
    const name = renameTargetAt(project, file, offset);
    expect(name).toEqual({ refused: expect.stringContaining('which ships with the product') });
  });
});
