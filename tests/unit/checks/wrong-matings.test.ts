import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

/** Two machines' worth of text: a supply with a port on 2 × 4 pins, and a card with one, joined by a ribbon. */
const HEADER = (more = ''): string => `connector H8 {
  shape header 2 x 4
  numbers zigzag
${more}}
`;

const messagesOf = (rule: string, text: string): string[] =>
  findingsOf(text)
    .filter((finding) => finding.rule === rule)
    .map(({ message }) => message);

describe('a header numbered row by row and one numbered in zigzag', () => {
  const port = (name: string, on: string, second: string, rest: string): string => `  port ${name} on ${on} {
    1 = +5V by meter
    ${second} = +12V by meter
    ${rest} = GND by meter
  }
`;
  const zigzag = (name: string): string => port(name, 'ZIG', '2', '3..10');
  const byRow = (name: string, plus12 = '6', rest = '2..5, 7..10'): string =>
    port(name, 'ROWS', plus12, rest);
  const machine = (row: string, mark = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  rail +12V 12 V max 5 A
  ground GND
${zigzag('P1')}}
connector ZIG {
  shape header 2 x 5
  numbers zigzag
  shroud notch
  bump
}
connector ROWS {
  shape header 2 x 5
  numbers 1..5, 6..10
  shroud notch
  bump
}
card A {
  takes +5V 500 mA at J1
  takes +12V 500 mA at J1
  untouched rest
${zigzag('J1')}}
card B {
  takes +5V 500 mA at J2
  takes +12V 500 mA at J2
  untouched rest
${row}}
loose A
loose B
cable C1 18 AWG 300 mm {
  PSU.P1.1..10 = A.J1.1..10${mark}
}
`;

  test('meet by where their contacts are: a plug into its like, however numbered, does no harm', () => {
    expectSilent('ribbon-wrong-port', machine(byRow('J2')));
  });

  test('and what bears one number is not one place', () => {
    const crossed = machine(byRow('J2', '2', '3..10'), ' #! warning ribbon-wrong-port');
    expectMarked('ribbon-wrong-port', crossed);
  });
});

describe('two supplies of one voltage, whose plugs', () => {
  const port = (name: string, keys = ''): string => `  port ${name} on H8 {
    1, 2 = GND by meter
    3 = +5V by meter
    4..8 = spare by meter
${keys}  }
`;
  const card = (name: string, keys: string): string => `card ${name} {
  takes +5V 500 mA at J1
  untouched rest
${port('J1', keys)}}
loose ${name}
`;
  const supply = (name: string, keys: string): string => `supply ${name} {
  rail +5V 5 V max 5 A
  ground GND
${port('P1', keys)}}
`;
  const machine = (one: string, other: string, marks: readonly string[]): string => `pinout 1
${supply('PSU', one)}${supply('AUX', other)}${HEADER('  shroud notch\n  bump\n')}${card('A', one)}${card('B', other)}ribbon W1 8 way {
  end PSU.P1 stripe 1${marks[0]}
  end A.J1 stripe 1${marks[0]}
}
ribbon W2 8 way {
  end AUX.P1 stripe 1${marks[1]}
  end B.J1 stripe 1${marks[1]}
}
`;

  test('can be exchanged: a warning', () => {
    const mark = ' #! warning rails-paralleled';
    const text = machine('', '', ['', '']).replaceAll(/end ([AB])\.J1 stripe 1/g, `$&${mark}`);
    expectMarked('rails-paralleled', text);
  });

  test('can be exchanged unless an unsaid hole is plugged: a question', () => {
    const pulled = machine('    pulled 4\n', '    pulled 5\n', ['', '']);
    const mark = ' #! question rails-paralleled';
    expectMarked('rails-paralleled', pulled.replaceAll(/end ([AB])\.J1 stripe 1/g, `$&${mark}`));
  });

  test('are keyed apart: silent', () => {
    const keys = (contact: number): string => `    pulled ${contact}\n    plugged ${contact}\n`;
    expectSilent('rails-paralleled', machine(keys(4), keys(5), ['', '']));
  });
});

test('what cannot be judged adds nothing where the same rule tells of harm, whichever comes first', () => {
  const text = `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
  port P1 on H8 {
    1 = +5V by meter
    2 = GND by meter
  }
}
${HEADER()}card LAMPS {
  takes +5V 500 mA at J1
  port J1 on H8 {
    1 = +5V by trace
    2 = GND by trace
  }
}
loose LAMPS
ribbon W1 8 way {
  end PSU.P1 stripe 1 #! warning ribbon-over
  end LAMPS.J1 stripe 1
}
`;
  expectMarked('ribbon-over', text);
  expect(messagesOf('ribbon-over', text)[0]).toContain('GND of LAMPS stands on +5V of PSU');
});

describe('a key beside a wall with notch and bump', () => {
  const machine = (guards: string, mark = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
  port P1 on H10 {
    1..7 step 2 = GND by meter
    2..8 step 2 = spare by meter
    9 = +5V by meter
    10 = spare by meter
  }
}
connector H10 {${mark}
  shape header 2 x 5
  numbers zigzag
${guards}
}
card LAMPS {
  takes +5V 500 mA at J1
  untouched rest
  port J1 on H10 {
    1..7 step 2 = GND by trace
    2..8 step 2 = spare by trace
    9 = +5V by trace
    10 = spare by trace
  }
}
loose LAMPS
ribbon W1 10 way {
  end PSU.P1 stripe 1
  end LAMPS.J1 stripe 1
}
`;
  const both = '  pulled 8\n  plugged 8';

  test('is one guard more, and not pointless', () => {
    expectSilent('key-pointless', machine(`  shroud notch\n  bump\n${both}`));
  });

  test('is pointless where nothing else keeps a turned plug out and it does not either', () => {
    const three = '  pulled 5, 6\n  plugged 5, 6';
    expectMarked('key-pointless', machine(`  shroud\n${three}`, ' #! warning key-pointless'));
    expectSilent('key-pointless', machine(`  shroud\n${both}`));
  });
});

describe('a pin that could be pulled for a key', () => {
  const machine = (contacts: string, card = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
  port P1 on H8 {
    1 = +5V by meter
    2 = GND by meter
    ${contacts}
  }
}
${HEADER()}card LAMPS {
  takes +5V 500 mA at J1
${card}  port J1 on H8 {
    1 = +5V by trace
    2 = GND by trace
    ${contacts}
  }
}
loose LAMPS
ribbon W1 8 way {
  end PSU.P1 stripe 1
  end LAMPS.J1 stripe 1
}
`;
  const missing = (text: string): string => messagesOf('key-missing', text).join();

  test('is one that is known to be spare', () => {
    expect(missing(machine('3..8 = spare'))).toContain('no contact in use is lost');
  });

  test('is none of which nobody knows what it is', () => {
    expect(missing(machine('# the rest is not listed'))).toContain('a wall with a notch round the pins');
    expect(missing(machine('3..7 = unknown\n    8 = spare'))).not.toMatch(/pins? .*[3-7]/);
  });

  test('is none that a wire leads to', () => {
    expect(missing(machine('3..5 = spare'))).toMatch(/pins? .*[345]/);
    const wired = [3, 4, 5].map((pin) => `  wire U3.${pin} to J1.${pin}\n`).join('');
    expect(missing(machine('3..5 = spare', wired))).toContain('a wall with a notch round the pins');
  });
});

describe('what nobody says is never called harmless', () => {
  const machine = (port: string, card: string, end = '  end LAMPS.J1 stripe 1'): string => `pinout 1
supply PSU {
  rail +24V 24 V max 5 A
  ground GND
  port P1 on H8 {
    1 = +24V by meter
    2, 4, 6 = GND by meter
    3, 5, 7, 8 = spare by meter
  }
}
${HEADER('  shroud\n')}card LAMPS {
  takes +24V 500 mA at J1
${card}  port J1 on H8 {
    1 = +24V by trace
    2, 4, 6 = GND by trace
    3, 5, 7 = spare by trace
    8 = ${port} by trace
  }
}
loose LAMPS
ribbon W1 8 way {
  end PSU.P1 stripe 1
${end}
}
`;
  const asked = (text: string): string => text.replace('end PSU.P1 stripe 1', '$& #! question ribbon-turned');
  const told = (text: string): string => text.replace('end PSU.P1 stripe 1', '$& #! warning ribbon-turned');

  test('a line that is named, and no more', () => {
    expectMarked('ribbon-turned', asked(machine('Q3', '')));
    expectMarked('ribbon-turned', told(machine('Q3', '  receives Q3 with 74LS at J1\n')));
    expectSilent('ribbon-turned', machine('Q3', '  untouched rest\n'));
    expectSilent('ribbon-turned', machine('spare', ''));
  });

  test('a contact that is spare but for a wire to a chip', () => {
    expectMarked('ribbon-turned', asked(machine('spare', '  untouched rest\n  wire U3.4 to J1.8\n')));
  });

  test('a ribbon whose other end is plugged in nobody knows where', () => {
    const end = '  end unknown "through the wall"';
    expectMarked('ribbon-turned', asked(machine('spare', '  untouched rest\n', end)));
    expectSilent('ribbon-turned', machine('spare', '  untouched rest\n', `${end}  found unplugged`));
  });

  const lines = (drives: string, mark: string): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
  port P1 on ROW3 {
    1, 3 = GND by meter
    2 = +5V by meter
  }
}
connector ROW3 {
  shape row 3
  shroud notch
  bump
}
${HEADER('  shroud\n')}card HOST {
  takes +5V 500 mA at J9
  ${drives} at J1
  untouched rest
  port J1 on H8 {
    1..7 step 2 = GND by trace
    2..8 step 2 = Q0..Q3 by trace
  }
  port J9 on ROW3 {
    1, 3 = GND by meter
    2 = +5V by meter
  }
}
card UNIT {
  receives Q0..Q3 with 74LS at J1
  untouched rest
  port J1 on H8 {
    1..7 step 2 = GND by trace
    2..8 step 2 = Q0..Q3 by trace
  }
}
loose HOST
loose UNIT
ribbon W1 8 way {
  end HOST.J1 stripe 1${mark}
  end UNIT.J1 stripe 1
}
cable C1 18 AWG 300 mm {
  PSU.P1.1..3 = HOST.J9.1..3
}
`;

  test('outputs of which nobody says of what kind they are, joined by a ground', () => {
    expectMarked('ribbon-turned', lines('drives Q0..Q3', ' #! question ribbon-turned'));
    expectMarked('ribbon-turned', lines('drives Q0..Q3 with 74LS244', ' #! warning ribbon-turned'));
    expectSilent('ribbon-turned', lines('pulls Q0..Q3 with 7406', ''));
  });
});

test('a wall is told where it keeps out more than the pins that can be spared', () => {
  const port = (name: string): string => `  port ${name} on R4 {
    1 = +5V by meter
    2 = D0 by meter
    3 = GND by meter
    4 = spare by meter
  }
`;
  const text = `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
${port('P1')}}
connector R4 {
  shape row 4
}
card CPU {
  takes +5V 1 A at J1
  receives D0 with 74LS at J1
  untouched rest
${port('J1')}}
loose CPU
cable C1 18 AWG 200 mm {
  PSU.P1.1..3 = CPU.J1.1..3
}
`;
  const [told] = findingsOf(text).filter(({ rule }) => rule === 'key-missing');
  expect(told!.message).toContain('a wall with a notch round the pins');
  const walled = text.replace('  shape row 4', '$&\n  shroud notch\n  bump');
  expectSilent(['ribbon-over', 'ribbon-turned', 'key-missing'], walled);
});

test('a rectifier on the board makes rails of both signs of one that alternates', () => {
  const text = `pinout 1
supply PSU {
  rail 12VAC 12 V ac max 5 A
  rail +12V 12 V max 5 A
  ground GND
}
connector E8 {
  shape edge 2 x 4
  numbers 1..4, A..D
  ends closed
}
bus B on E8 {
  1, A, 4, D = GND by meter
  2, C = 12VAC by meter
  3, B = +12V by meter
}
backplane CAGE {
  slots 1..2 on B
  feed GND from PSU at 1
  feed 12VAC from PSU at 2
  feed +12V from PSU at 3
}
card RAM {
  edge on B
  takes 12VAC 100 mA
  takes +12V 1 A
  makes -5V from 12VAC with 7905
  makes +5V from 12VAC with 7805
  part U1..U8 with 4116 -5V 3 mA
  untouched rest
}
fitted CAGE {
  1 = RAM
  2 = empty
}
`;
  // All that matters lies alike when the board is turned.
  expectSilent('mate-turned', text);
});

describe('a harness whose wires cross, between two connectors of one kind', () => {
  const machine = (contacts: readonly string[], wires: string, keys = '', mark = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  rail +12V 12 V max 5 A
  ground GND
  port P1 on ROW5 {
    1 = +5V by meter
    2 = GND by meter
    3 = +12V by meter
    4, 5 = spare by meter
${keys}  }
}
connector ROW5 {
  shape row 5
  shroud notch
  bump
}
card A {
  takes +5V 500 mA at J1
  takes +12V 500 mA at J1
  untouched rest
  port J1 on ROW5 {
    1 = ${contacts[0]} by meter
    2 = ${contacts[1]} by meter
    3 = ${contacts[2]} by meter
    4, 5 = spare by meter
  }
}
loose A
cable C1 18 AWG 300 mm {
${wires.replace('\n', `${mark}\n`)}}
`;
  const crossed = '  PSU.P1.1 = A.J1.2\n  PSU.P1.2 = A.J1.3\n  PSU.P1.3 = A.J1.1\n';

  test('goes in end for end, and then joins what it should not', () => {
    const text = machine(['+12V', '+5V', 'GND'], crossed, '', ' #! warning ribbon-wrong-port');
    expectMarked('ribbon-wrong-port', text);
    expect(messagesOf('ribbon-wrong-port', text)[0]).toMatch(
      /^C1 plugged in end for end between PSU\.P1 and A\.J1: /,
    );
    expect(messagesOf('key-missing', text)).toHaveLength(1);
  });

  test('is silent where one end does not go into the other port', () => {
    expectSilent(
      'ribbon-wrong-port',
      machine(['+12V', '+5V', 'GND'], crossed, '    pulled 4\n    plugged 4\n'),
    );
  });

  test('is silent where they do not cross', () => {
    expectSilent('ribbon-wrong-port', machine(['+5V', 'GND', '+12V'], '  PSU.P1.1..3 = A.J1.1..3\n'));
  });
});

test('a short tongue that is skewed in a longer socket is told without a contact that it lands on', () => {
  const text = `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  ground GND
}
connector E8 {
  shape edge 2 x 4
  numbers 1..4, A..D
  ends closed
}
connector E6 {
  shape edge 2 x 3
  numbers 1..3, A..C
  ends closed
}
bus B on E8 {
  1, A = GND by meter
  2, B = +5V by meter
  3, 4, C, D = spare by meter
}
bus C on E6 {
  1, A = GND by meter
  2, B = +5V by meter
  3, C = spare by meter
}
backplane CAGE {
  slots 1 on B guides
  slots 2 on C guides
  feed GND from PSU at 1
  feed +5V from PSU at 2
}
card SMALL {
  edge on C
  takes +5V 1 A
  untouched rest
}
fitted CAGE {
  1 = empty
  2 = SMALL
}
`;
  expect(messagesOf('mate-wrong-slot', text)).toEqual([
    expect.stringMatching(/^SMALL skewed by half a contact in CAGE\.1: /),
  ]);
});

test('a DIP has its pins on the plug: that is where one is cut, and the socket’s hole is blocked', () => {
  const port = (name: string): string => `  port ${name} on D16 {
    1 = +5V by meter
    8 = GND by meter
    16 = +12V by meter
    2..7, 9..15 = spare by meter
  }
`;
  const text = `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  rail +12V 12 V max 5 A
  ground GND
${port('P1')}}
connector D16 {
  shape dip 16
}
card A {
  takes +5V 1 A at J1
  takes +12V 1 A at J1
  untouched rest
${port('J1')}}
loose A
ribbon W1 16 way {
  end PSU.P1 stripe 1
  end A.J1 stripe 1
}
`;
  expect(messagesOf('key-missing', text)[0]).toMatch(
    /pin \d+ cut from each plug on it and hole \d+ of each D16 blocked/,
  );
});
