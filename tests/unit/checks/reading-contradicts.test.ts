import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'reading-contradicts';
const BOTH = [RULE, 'reading-short'];

const machine = (readings: string, header = 'cards out power off leads 0.1 ohm', more = ''): string => `
pinout 1
supply PSU {
  rail +5V 5 V 2 % max 12 A
  rail +12V 12 V 5 %
  rail -12V -12 V
  ground GND
  ground AGND
}
connector E10 {
  shape edge 1 x 10
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
bus B on E10 {
  1 = GND by meter 2026-05-01
  2 = +5V by meter 2026-05-01
  3 = +12V by silkscreen
  4 = -12V by silkscreen
  5 = D0 by trace
  6 = D1 by trace
  7 = spare
  8 = AGND by trace
  9..10 = unknown
}
backplane CAGE {
  slots 1..4 on B
  feed GND from PSU at 1
  feed +5V from PSU at 2
  feed +12V from PSU at 3
  feed -12V from PSU at 4
  wire 1.9 to 3.10 by trace "blue"
  wire 2.9 to 2.5
}
card GAUGE {
  edge on B
  port J1 on IDC10 {
    1..9 step 2 = GND
    2 = D0
    4 = Q1
  }
}
card DISPLAY {
  port J1 on IDC10 {
    1..9 step 2 = GND
    2 = D0
    4 = Q1
  }
}
fitted CAGE {
  1 = GAUGE
}
loose DISPLAY
ribbon W1 10 way {
  end GAUGE.J1 stripe 1
  end DISPLAY.J1 stripe 1
}
${more}
readings 2026-05-02 ${header} {
${readings}
}`;

const findings = (text: string) => findingsOf(text).filter(({ rule }) => rule === RULE);

describe(`${RULE}: joined by the meter, apart by the map`, () => {
  test('two signals at the leads + 2 ohm or less', () => {
    expectMarked(RULE, machine('  CAGE.1.5 to CAGE.1.6 = 2.1 ohm #! error reading-contradicts'));
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.1.6 = 2.2 ohm'));
  });

  test('two rails at the leads + 0.3 ohm or less', () => {
    expectMarked(RULE, machine('  CAGE.1.3 to CAGE.1.4 = 0.4 ohm #! error reading-contradicts'));
    expectSilent(RULE, machine('  CAGE.1.3 to CAGE.1.4 = 0.5 ohm'));
  });

  test('a rail and a signal', () => {
    expectMarked(RULE, machine('  CAGE.1.3 to CAGE.1.5 = 1 ohm #! reading-contradicts'));
  });

  test('says which names, how known, and lists the statements', () => {
    const [finding] = findings(machine('  CAGE.1.3 to CAGE.1.5 = 1 ohm'));
    expect(finding?.message).toBe(
      'CAGE.1.3 to CAGE.1.5 reads 1 ohm, which joins +12V at CAGE.1.3 (silkscreen) and D0 at CAGE.1.5 (trace), but the map keeps these apart',
    );
    expect(finding?.path.map(({ contact, signal }) => `${contact} ${signal}`)).toEqual([
      'CAGE.1.3 +12V',
      'CAGE.1.3 to CAGE.1.5 1 ohm',
      'CAGE.1.5 D0',
    ]);
  });

  test('a place without a name counts by the line it is on', () => {
    const [finding] = findings(machine('  CAGE.2.9 to CAGE.1.6 = 1 ohm'));
    expect(finding?.message).toContain('joins D0 at CAGE');
    expect(finding?.path.map(({ contact }) => contact)).toContain('CAGE.2.9');
  });

  test('several readings between the same two lines are one finding', () => {
    expectMarked(
      RULE,
      machine('  CAGE.1.5 to CAGE.1.6 = 1 ohm #! reading-contradicts\n  CAGE.2.6 to CAGE.3.5 = 1 ohm'),
    );
  });

  test('a supply that nothing is fed from is a line too', () => {
    expectMarked(
      RULE,
      machine(
        '  CAGE.1.5 to AUX.+24V = 0.2 ohm #! reading-contradicts',
        undefined,
        'supply AUX {\n  rail +24V 24 V\n}',
      ),
    );
  });

  test('where the reading is a short by its figures, that is told instead', () => {
    expectMarked(BOTH, machine('  CAGE.1.2 to GND = 0.2 ohm #! reading-short'));
    // No rating is known of +12V.
    expectMarked(BOTH, machine('  CAGE.1.3 to GND = 0.2 ohm #! reading-contradicts'));
  });

  test('silent where nobody has named one of the two: the reading joins them', () => {
    expectSilent(RULE, machine('  CAGE.1.9 to CAGE.1.6 = 1 ohm\n  CAGE.1.7 to CAGE.1.2 = 0.1 ohm'));
  });

  test('silent between names that are declared one', () => {
    expectMarked(RULE, machine('  CAGE.1.1 to CAGE.1.8 = 0.1 ohm #! reading-contradicts'));
    const one = machine('  CAGE.1.1 to CAGE.1.8 = 0.1 ohm').replace(
      '  ground GND\n  ground AGND',
      '  ground GND, AGND',
    );
    expectSilent(RULE, one);
    expectSilent(
      RULE,
      machine('  CAGE.1.5 to CAGE.1.6 = 1 ohm').replace('  wire 2.9', '  strap D0, D1\n  wire 2.9'),
    );
  });

  test('silent on diode readings and with power on', () => {
    expectSilent(
      RULE,
      machine('  CAGE.1.5 to CAGE.1.6 = 1 ohm diode\n  CAGE.1.5 to CAGE.1.1 = 0.46 V diode'),
    );
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.1.6 = 1 ohm', 'power on'));
  });
});

describe(`${RULE}: apart by the meter, joined by the map`, () => {
  test('open, or more than 100 ohm, along a bus line', () => {
    expectMarked(RULE, machine('  CAGE.1.5 to CAGE.4.5 = open #! error reading-contradicts'));
    expectMarked(RULE, machine('  CAGE.1.5 to CAGE.4.5 = 101 ohm #! error reading-contradicts'));
    expectMarked(RULE, machine('  CAGE.1.3 to CAGE.4.3 = 1.2 kohm #! error reading-contradicts'));
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.4.5 = 100 ohm\n  CAGE.1.5 to CAGE.4.5 = 0.4 ohm'));
  });

  test('lists each statement on the shortest way once, then the reading', () => {
    const [finding] = findings(machine('  CAGE.2.9 to CAGE.4.5 = open'));
    expect(finding?.message).toBe(
      'CAGE.2.9 to CAGE.4.5 reads open, but a wire (not said), the bus (trace) join them as D0',
    );
    expect(
      finding?.path.map(({ contact, signal, evidence }) => `${contact} ${signal} (${evidence})`),
    ).toEqual([
      'CAGE.2.9 unknown (not said)',
      'CAGE.2.5 D0 (not said)',
      'CAGE.4.5 D0 (trace)',
      'CAGE.2.9 to CAGE.4.5 open (meter 2026-05-02)',
    ]);
  });

  test('a wire and a feed', () => {
    expectMarked(
      RULE,
      machine(
        '  CAGE.1.9 to CAGE.3.10 = open #! reading-contradicts\n  CAGE.1.3 to PSU.+12V = open #! reading-contradicts',
      ),
    );
  });

  test('one broken statement in several readings is one finding', () => {
    expectMarked(
      RULE,
      machine('  CAGE.1.5 to CAGE.3.5 = open #! reading-contradicts\n  CAGE.1.5 to CAGE.4.5 = open'),
    );
  });

  test('silent where a cut lies between', () => {
    expectSilent(
      RULE,
      machine('  CAGE.1.5 to CAGE.4.5 = open').replace('  wire 2.9', '  cut D0 between 3, 4\n  wire 2.9'),
    );
  });

  test('with the cards out no board is on the way; with the cards in it is', () => {
    const line = '  CAGE.1.5 to GAUGE.edge.5 = open';
    expectSilent(RULE, machine(line));
    expectSilent(RULE, machine(line, 'power off'));
    expectMarked(RULE, machine(`${line} #! reading-contradicts`, 'cards in'));
  });

  test('with the cards out the ribbons of boards in the cage are off too', () => {
    const line = '  GAUGE.J1.4 to DISPLAY.J1.4 = open';
    expectSilent(RULE, machine(line));
    expectMarked(RULE, machine(`${line} #! reading-contradicts`, 'cards in'));
  });

  test('copper on a board in the hand counts with the cards out', () => {
    expectMarked(RULE, machine('  GAUGE.edge.5 to GAUGE.J1.2 = open #! reading-contradicts'));
  });

  test('readings taken in the same state contradict each other', () => {
    expectMarked(
      RULE,
      machine(
        '  CAGE.1.10 to CAGE.2.10 = 0.2 ohm\n  CAGE.2.10 to CAGE.4.10 = 0.2 ohm\n  CAGE.1.10 to CAGE.4.10 = open #! reading-contradicts',
      ),
    );
  });

  test('a reading with the cards in proves no copper for one with the cards out', () => {
    expectSilent(
      RULE,
      machine(
        '  CAGE.1.10 to CAGE.4.10 = open',
        undefined,
        'readings 2026-05-01 cards in power off {\n  CAGE.1.10 to CAGE.4.10 = 0.3 ohm\n}',
      ),
    );
  });

  test('silent between nets that are apart, on diode readings and with power on', () => {
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.1.6 = open\n  CAGE.1.9 to CAGE.2.9 = open'));
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.4.5 = open diode'));
    expectSilent(RULE, machine('  CAGE.1.5 to CAGE.4.5 = open', 'power on'));
  });

  test('the readings of a healthy machine are no contradiction', () => {
    expectSilent(
      BOTH,
      machine(
        '  CAGE.1.3 to CAGE.4.3 = 0.2 ohm\n  CAGE.1.3 to CAGE.1.5 = open\n  CAGE.1.2 to GND = 48 ohm\n' +
          '  GAUGE.edge.2 to GAUGE.edge.1 = 0.46 V diode\n  CAGE.1.9 to CAGE.3.10 = 0.3 ohm\n  CAGE.1.1 to CAGE.4.1 = 0.1 ohm',
      ),
    );
  });
});

describe(`${RULE}: another voltage than the rail's`, () => {
  test.each([
    ['CAGE.1.2 to GND = 5.5 V', ''],
    ['CAGE.1.2 to GND = 4.5 V', ''],
    ['CAGE.1.2 to GND = 5.6 V', 'error'],
    ['CAGE.1.2 to GND = 4.4 V', 'error'],
    ['CAGE.1.2 to GND = 0 V', 'error'],
    ['CAGE.1.2 to CAGE.3.1 = -5 V', 'error'],
    ['GND to CAGE.1.2 = 5 V', 'error'],
    ['GND to CAGE.1.2 = -5 V', ''],
    ['CAGE.1.4 to GND = -12.1 V', ''],
    ['CAGE.1.4 to GND = 12.1 V', 'error'],
    ['CAGE.1.3 to CAGE.1.2 = 7 V', ''],
    ['CAGE.1.5 to GND = 0.2 V', ''],
    ['CAGE.1.2 to GND = 1 V diode', ''],
  ])('%s', (line, severity) => {
    const mark = severity === '' ? '' : ` #! ${severity} ${RULE}`;
    expectMarked(RULE, machine(`  ${line}${mark}`, 'power on'));
    expectSilent(RULE, machine(`  ${line}`, 'cards out'));
  });

  test('says the rail, how known, and that it is reversed', () => {
    const [finding] = findings(machine('  CAGE.1.2 to GND = -5.02 V', 'power on'));
    expect(finding?.message).toBe(
      'CAGE.1.2 reads -5.02 V against ground with power on, but the map says +5V (meter 2026-05-01), which is 5 V: it is reversed',
    );
  });

  test('a rail that nobody feeds reads nothing, rightly', () => {
    const unfed = (volts: string): string =>
      machine(`  CAGE.1.3 to GND = ${volts}`, 'power on').replace('  feed +12V from PSU at 3\n', '');
    expectSilent(RULE, unfed('0 V'));
    expectSilent(RULE, unfed('12 V'));
    expect(findings(unfed('5 V'))).toHaveLength(1);
  });

  test('several readings of one rail are one finding', () => {
    expectMarked(
      RULE,
      machine('  CAGE.1.2 to GND = 3.1 V #! reading-contradicts\n  CAGE.2.2 to GND = 3.1 V', 'power on'),
    );
  });

  test("the rail's own tolerance, range and peak hold where they are wider", () => {
    const text = (rail: string, volts: string): string =>
      machine(`  CAGE.1.2 to GND = ${volts}`, 'power on').replace('rail +5V 5 V 2 % max 12 A', rail);
    expectSilent(RULE, text('rail +5V 5 V 20 %', '5.9 V'));
    expectSilent(RULE, text('rail +5V 7..11 V', '12 V'));
    expect(findings(text('rail +5V 7..11 V', '12.5 V'))).toHaveLength(1);
    expectSilent(RULE, text('rail +5V 7..11 V peak 25 V', '20 V'));
    expect(findings(text('rail +5V 7..11 V peak 25 V', '26 V'))).toHaveLength(1);
    expectSilent(RULE, text('rail +5V 5 V ac', '9 V'));
  });
});

describe(`${RULE}: volts with power off`, () => {
  test.each([
    ['CAGE.1.2 to CAGE.1.1 = 4.2 V', 'warning'],
    ['CAGE.1.1 to CAGE.1.2 = -4.2 V', 'warning'],
    ['CAGE.1.4 to GND = -0.5 V', 'warning'],
    ['CAGE.1.3 to CAGE.1.2 = 7 V', 'warning'],
    ['CAGE.1.5 to GND = 2.4 V', 'warning'],
    ['CAGE.1.10 to GND = 3 V', 'warning'],
    ['CAGE.1.2 to CAGE.1.1 = 0.4 V', ''],
    ['CAGE.1.2 to CAGE.1.1 = 0 V', ''],
    ['CAGE.1.2 to CAGE.1.1 = 1.2 V diode', ''],
  ])('%s', (line, severity) => {
    const mark = severity === '' ? '' : ` #! ${severity} ${RULE}`;
    expectMarked(RULE, machine(`  ${line}${mark}`));
    expectSilent(RULE, machine(`  ${line}`, 'cards out'));
  });

  test('says what is fed, and what to do before anything is touched', () => {
    const [finding] = findings(machine('  CAGE.1.2 to CAGE.1.1 = 4.2 V'));
    expect(finding?.message).toBe(
      'CAGE.1.2 to CAGE.1.1 reads 4.2 V with power off: something still feeds +5V',
    );
    expect(finding?.fix).toContain('disconnect any battery and any second supply, and read again');
  });

  test('several readings between the same two lines are one finding', () => {
    expectMarked(
      RULE,
      machine('  CAGE.1.2 to GND = 4.2 V #! warning reading-contradicts\n  CAGE.3.2 to CAGE.3.1 = 4.1 V'),
    );
  });
});
