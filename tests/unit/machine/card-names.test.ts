import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent, replacement } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'name-unknown';
const ALL = [RULE, 'range-mismatch', 'contact-unknown', 'duplicate'];

const machine = (card: string, more = ''): string => `
pinout 1
supply PSU {
  rail +5V 5 V
  ground GND
}
connector E12 {
  shape edge 1 x 12
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
bus MAIN on E12 {
  1 = GND
  2 = +5V
  3..6 = D0..D3 also DATA0..DATA3
  7 > 8 = GRANT
  9 > 10 = ACKIN > ACKOUT
  11 = LOW in 1..2
  11 = HIGH in 3
  12 = unknown
}
card GAUGE {
${card}
}
${more}`;

const GAUGE = `  edge on MAIN {
    12 = FLOAT
  }
  port J1 on IDC10 {
    1..9 step 2 = GND
    2..8 step 2 = Q0..Q3
    10 = +5V
  }`;

const messageOf = (text: string): string => findingsOf(text).find(({ rule }) => rule === RULE)?.message ?? '';

describe('lines that a card speaks of', () => {
  test('every kind of statement is looked at, one finding each', () => {
    expectMarked(
      RULE,
      machine(`${GAUGE}
  drives X0 with 74LS244 #! error name-unknown
  transceives D0..D5 with 74LS245 #! name-unknown
  receives /RD, /WR with 74LS #! name-unknown
  pulls /IRQ with 7406 #! name-unknown
  starts BG #! name-unknown
  passes BG #! name-unknown
  untouched A0..A7 #! name-unknown
  terminate Q0..Q5 220 ohm to +5V, 330 ohm to GND at J1 #! name-unknown
  pull-up /IRQ 1 kohm to +5V #! name-unknown
  pull-down SYNC 1 kohm to GND #! name-unknown`),
    );
  });

  test('vectors name by name, listing what is missing', () => {
    expect(messageOf(machine(`${GAUGE}\n  drives D2..D5 with 74LS244`))).toMatch(
      /^no contact of GAUGE carries `D4`, `D5`; its contacts carry `/,
    );
    expect(messageOf(machine(`${GAUGE}\n  drives A0..A19 with 74LS244`))).toContain('`A7` and 12 more');
  });

  test('one slip of the hand is offered as a fix', () => {
    const [finding] = findingsOf(machine(`${GAUGE}\n  receives FLOOT with 74LS`)).filter(
      ({ rule }) => rule === RULE,
    );
    expect(finding?.message).toBe('no contact of GAUGE carries `FLOOT`; there is `FLOAT`');
    expect(replacement(finding!).text).toBe('FLOAT');
  });

  test('a chain of which the beginning is said is offered as a fix, and chains are what is listed', () => {
    const [finding] = findingsOf(machine(`${GAUGE}\n  passes ACK`)).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe('no contact of GAUGE carries `ACK`; there is `ACKIN`');
    expect(replacement(finding!).text).toBe('ACKIN');
    expect(messageOf(machine(`${GAUGE}\n  starts BUSRQ`))).toBe(
      'no contact of GAUGE carries `BUSRQ`; its daisy chains are `GRANT`, `ACKIN`, `ACKOUT`',
    );
  });

  test('a card without connectors carries nothing', () => {
    expect(messageOf(machine('  drives D0'))).toBe('no contact of GAUGE carries `D0`');
  });

  test('silent on what the bus, the edge and the ports carry', () => {
    expectSilent(
      ALL,
      machine(`${GAUGE}
  drives D0..D3, FLOAT, Q0..Q3 with 74LS244
  receives DATA0..DATA3 with 74LS
  passes GRANT
  starts ACKIN
  receives ACKOUT, LOW, HIGH with 74LS
  untouched rest`),
    );
  });

  test('silent on names inside the board: what it makes, straps and wires', () => {
    expectSilent(
      ALL,
      machine(`${GAUGE}
  makes -5V from +5V
  strap CLK, D0
  wire U3.4 to J1.2
  wire U3.5 to READY
  receives CLK, READY with 74LS
  pull-up READY 1 kohm to +5V`),
    );
  });

  test('an edge on a bare connector carries what it says itself', () => {
    expectMarked(
      RULE,
      machine(`  edge on E12 {
    1 = GND
    3..6 = D0..D3
  }
  drives D0..D3 with 74LS244
  receives GRANT with 74LS #! name-unknown`),
    );
  });

  test('several edges carry together', () => {
    expectSilent(
      ALL,
      machine(
        '  edge P1 on MAIN\n  edge P2 on E12 {\n    1 = B0\n  }\n  drives D0, B0 with 74LS244\n  receives B0 with 74LS at P2',
      ),
    );
  });

  test('a card whose bus or connector is unknown is told that, and not its lines', () => {
    expectMarked(ALL, machine('  edge on MIAN #! name-unknown\n  drives D0..D7 with 74LS244'));
    expectMarked(
      ALL,
      machine(
        '  edge on MAIN\n  port J1 on IDC99 { #! name-unknown\n    1 = Q0\n  }\n  drives Q0 with 74LS244 at J1',
      ),
    );
  });

  test('a range that does not fit is told once', () => {
    expectMarked(ALL, machine(`${GAUGE}\n  drives D0..Q3 with 74LS244 #! range-mismatch`));
  });

  test('a card that no board is made of is looked at, and one of many boards once', () => {
    const card = `${GAUGE}\n  drives X0 with 74LS244 #! name-unknown`;
    expectMarked(RULE, machine(card));
    expectMarked(
      RULE,
      machine(
        card,
        'backplane CAGE {\n  slots 1..3 on MAIN\n}\nfitted CAGE {\n  1 = GAUGE as A\n  2 = GAUGE as B\n}',
      ),
    );
  });
});

describe('connectors that a card speaks of', () => {
  test('`at` a port that it does not have', () => {
    expectMarked(
      RULE,
      machine(`${GAUGE}
  takes +5V 1 A at J9 #! error name-unknown
  drives Q0..Q3 with 74LS244 at J9 #! name-unknown
  terminate Q0 220 ohm to +5V at J9 #! name-unknown`),
    );
    expect(messageOf(machine(`${GAUGE}\n  takes +5V 1 A at J9`))).toBe(
      'GAUGE has no connector `J9`; it has `edge`, `J1`',
    );
  });

  test('a line that another connector of the card carries', () => {
    const text = machine(`${GAUGE}\n  drives D0 with 74LS244 at J1 #! name-unknown`);
    expectMarked(RULE, text);
    expect(messageOf(text)).toContain('no contact of GAUGE.J1 carries `D0`');
  });

  test('silent at a port, an edge, or one of their contacts', () => {
    expectSilent(
      ALL,
      machine(`${GAUGE}
  takes +5V 1 A at J1
  takes +5V 1 A at edge
  drives Q0..Q3 with 74LS244 at J1
  receives D0 with 74LS at edge
  receives Q0 with 74LS at J1.2`),
    );
  });
});

describe('contacts in wires and cuts', () => {
  test('a contact that the connector does not have', () => {
    const text = machine(`${GAUGE}
  wire U3.4 to J1.18 #! error name-unknown
  wire edge.99 to J1.99 #! name-unknown
  cut J1.11 #! name-unknown`);
    expectMarked(RULE, text);
    expect(messageOf(text)).toBe('GAUGE has no contact `J1.18`; J1 has 10, from `1` to `10`');
  });

  test('on one board only', () => {
    expectMarked(
      RULE,
      machine(
        GAUGE,
        'backplane CAGE {\n  slots 1..3 on MAIN\n}\nfitted CAGE {\n  1 = GAUGE {\n    wire U9.3 to edge.19 #! name-unknown\n    cut J1.2\n  }\n}',
      ),
    );
  });

  test('silent on contacts that are there and on pins of chips', () => {
    expectSilent(
      ALL,
      machine(`${GAUGE}\n  wire U3.4 to J1.10 by trace "red"\n  wire U99.77 to edge.12\n  cut edge.1`),
    );
  });
});
