import { describe, expect, test } from 'vitest';
import type { Case } from '../../src/analysis/wrong-mating/cases.ts';
import { planKeys } from '../../src/analysis/wrong-mating/keys.ts';
import { landing, movesBetween, type Way } from '../../src/analysis/wrong-mating/ways.ts';
import { isHarmful, wrongMatingOf } from '../../src/analysis/wrong-mating/wrong-mating.ts';
import type { Connector, Machine } from '../../src/machine/types.ts';
import { machineFromDisk, machineOf } from '../support/machine.ts';
import { wayText } from '../support/mating-reference-cases.ts';

const casesAt = (machine: Machine, plug: string, place: string): Case[] =>
  wrongMatingOf(machine)
    .cases()
    .filter((one) => one.plug.name === plug && one.place.path === place)
    // Of a ribbon, the end that belongs there.
    .filter(
      ({ plug: { kind, parts }, place: { sockets } }) => kind === 'board' || parts[0]!.home === sockets[0],
    );

const turned = (cases: readonly Case[]): Case =>
  cases.find(
    ({ way, fault }) =>
      wayText(way.turned, way.shift, way.over) === 'turned 0 0' && !fault.startsWith('crimped'),
  )!;

const kindsOf = (machine: Machine, one: Case): Set<string> =>
  new Set(
    wrongMatingOf(machine)
      .harms(one)
      .map(({ kind }) => kind),
  );

/** What each contact of a plug meets, by labels. */
function metBy({ meetings }: Case): Map<string, string> {
  const { part, socket, pairs } = meetings[0]!;
  const met = new Map<string, string>();
  for (let k = 0; k < pairs.length; k += 2)
    met.set(part.pins.connector.labels[pairs[k]!]!, socket.pins.connector.labels[pairs[k + 1]!]!);
  return met;
}

describe('IEEE 696-1983: contacts 1 and 51, 50 and 100 are back to back, +8V at one end and ground at the other', () => {
  const { machine } = machineFromDisk('examples/s100/s100.pinout');
  const card = machine.boards.find(({ slot }) => slot?.label === '1')!;
  const case_ = turned(casesAt(machine, card.name, 'CAGE.1'));

  test('a turned card meets p with 101 − p (worked out from the table)', () => {
    const met = metBy(case_);
    expect(met.size).toBe(100);
    for (const [p, q] of met) expect(Number(p) + Number(q)).toBe(101);
  });

  test('so that its grounds lie on +8V: the worst there is', () => {
    expect(met8V(metBy(case_))).toEqual(['100', '50']);
    expect(wrongMatingOf(machine).outcome(case_).rank).toBe(1);
    expect(kindsOf(machine, case_)).toContain('ground-on-rail');
  });

  const met8V = (met: ReadonlyMap<string, string>): string[] =>
    [...met].flatMap(([p, q]) => (q === '1' || q === '51' ? [p] : [])).sort();

  test('closed ends, as the shipped table has them, do not prevent it: guides do, by the place of the card between them', () => {
    expect(machine.connectors.find(({ name }) => name === 'S100-EDGE')!.ends).toBe('closed');
    expect(case_.verdict).toEqual({ state: 'prevented', by: ['guides'] });
    const loose = machineOf(`use published "ieee-696"
supply PSU {
  rail +8V 8 V
  ground GND
}
backplane CAGE {
  slots 1..2 on S100
  feed +8V from PSU at 1
  feed GND from PSU at 50
}
card CARD {
  edge on S100
  takes +8V 1 A
}
fitted CAGE {
  1 = CARD
}
`).machine;
    const cases = casesAt(loose, 'CARD', 'CAGE.1');
    expect(turned(cases).verdict.state).toBe('open');
    // Shifted, it would have to reach through an end of the socket.
    for (const { way, verdict } of cases.filter(({ way }) => way.shift !== 0))
      expect(verdict.by, wayText(way.turned, way.shift, way.over)).toEqual(['walls']);
  });
});

describe('IEC 60603-2 (DIN 41612): the body lets a plug in one way only (from memory)', () => {
  const [din] = machineOf('connector C {\n  shape din 3 x 32\n}').machine.connectors;

  test('it can be neither turned nor shifted', () => {
    expect(movesBetween(din!, din!)).toHaveLength(1);
  });

  // Row b of J2, IEEE 1014-1987: +5V on 1, 13 and 32, ground on 2, 12, 22 and 31 (from memory).
  const crate = `use published "vme-j1"
bus J2 on DIN96 {
  b1, b13, b32 = +5V
  b2, b12, b22, b31 = GND
}
supply PSU {
  rail +5V 5 V max 60 A
  ground GND
}
backplane CRATE {
  slots 1..2 on J1 VME-J1, J2 J2
  feed +5V from PSU at J1.a32
  feed +5V from PSU at J2.b1
  feed GND from PSU at J1.a9
  feed GND from PSU at J2.b2
}
card BOARD "three units high: one connector" {
  edge J1 on VME-J1
  takes +5V 2 A
  pulls BBSY*, BR0*, BR1* with 7438
  drives BCLR* with 74F244
  untouched rest
}
fitted CRATE {
  1 = BOARD
}
`;

  test('but a board of one connector goes into the other one: +5V and ground come to lie on its arbitration lines', () => {
    const { machine } = machineOf(crate);
    expect(machine.problems).toEqual([]);
    const [one, ...others] = casesAt(machine, 'BOARD', 'CRATE.1.J2');
    expect(others).toEqual([]);
    expect(one!.verdict.state).toBe('open');
    const { harms, outcome } = wrongMatingOf(machine);
    const told = harms(one!).map(
      ({ kind, power, uses }) =>
        `${kind}: ${power?.name ?? ''} ${uses?.map(({ card }) => card.name).join() ?? ''}`,
    );
    expect(told).toContain('rail-on-output: +5V BBSY*');
    expect(told).toContain('rail-on-output: +5V BR1*');
    expect(told).toContain('ground-on-line: GND BR0*');
    expect(told).toContain('ground-on-output: GND BCLR*');
    // None of its grounds is over one of J2, and +5V is: b32.
    expect(told).toContain('ground-lost:  ');
    expect(outcome(one!).rank).toBe(2);
  });

  test('in another slot of its own row nothing happens', () => {
    const { machine } = machineOf(crate);
    const [one] = casesAt(machine, 'BOARD', 'CRATE.2.J1');
    expect(wrongMatingOf(machine).outcome(one!).rank).toBe(9);
  });
});

describe('ISA, 8 bits: nothing but the bracket keys the edge (from memory; IBM Personal Computer XT Technical Reference has the table)', () => {
  const rack = (guides: string): Machine =>
    machineOf(`use published "isa-8"
supply PSU {
  rail +5V 5 V
  rail +12V 12 V
  rail -12V -12 V
  rail -5V -5 V
  ground GND
}
backplane CAGE {
  slots 1..2 on ISA8${guides}
  feed +5V from PSU at B3
  feed +12V from PSU at B9
  feed -12V from PSU at B7
  feed -5V from PSU at B5
  feed GND from PSU at B1
}
card CARD {
  edge on ISA8
  takes +5V 1 A
  receives SA0..SA9 with 74LS244
  untouched rest
}
fitted CAGE {
  1 = CARD
}
`).machine;

  test('without a bracket a card can be turned: each side meets the other, from the other end', () => {
    const machine = rack('');
    const one = turned(casesAt(machine, 'CARD', 'CAGE.1'));
    expect(one.verdict.state).toBe('open');
    const met = metBy(one);
    expect(met.get('B1')).toBe('A31');
    expect(met.get('A31')).toBe('B1');
    // SA0 … SA9 are A31 … A22, over B1 … B10: among these −5 V, −12 V and +12 V, which no 74LS244 stands.
    expect([...met].filter(([p]) => /^A(2[2-9]|3[01])$/.test(p)).map(([, q]) => q)).toContain('B7');
    expect(wrongMatingOf(machine).outcome(one).rank).toBe(1);
  });

  test('a bracket holds it as guides do', () => {
    expect(turned(casesAt(rack(' guides'), 'CARD', 'CAGE.1')).verdict).toEqual({
      state: 'prevented',
      by: ['guides'],
    });
  });
});

/** Two cards with one ribbon between them. */
const between = (connector: string, port: string, driver: string, listener: string): Machine => {
  const { machine } = machineOf(`supply PSU {
  rail +5V 5 V
  ground GND
  port P1 on POWER {
    1 = +5V
    2 = GND
  }
}
connector POWER {
  shape row 3
}
${connector}
card HOST {
  takes +5V 1 A at P
  port P on POWER {
    1 = +5V
    2 = GND
  }
${driver}
  port J1 on PINS {
${port}
  }
}
card DRIVE {
  takes +5V 1 A at P
  port P on POWER {
    1 = +5V
    2 = GND
  }
${listener}
  port J1 on PINS {
${port}
  }
}
loose HOST
loose DRIVE
cable C1 {
  PSU.P1.1..2 = HOST.P.1..2
}
cable C2 {
  HOST.P.1..2 = DRIVE.P.1..2
}
ribbon W1 ${/2 x 17/.test(connector) ? 34 : 40} way {
  end HOST.J1
  end DRIVE.J1
}
`);
  expect(machine.problems).toEqual([]);
  return machine;
};

describe('drive ribbons turned round: whether the row of grounds on the row of signals does harm is worked out', () => {
  /**
   * The 34-way interface of 5¼-inch floppy drives: all odd contacts ground, all signals on even ones, driven by open collectors
   * (7438 or equivalent) into 74LS14. Sources: the interface tables at sintran.com (glossary, FDD interface) and pinouts.ru (34 pin
   * IDC); drivers and receivers as H. Seib, "The Floppy Interface", quotes the makers of the drives.
   */
  const floppy = (driver: string): Machine =>
    between(
      'connector PINS {\n  shape header 2 x 17\n  numbers zigzag\n}',
      '    1..33 step 2 = GND\n    10, 16, 18, 20, 22, 24 = DS0, MOTOR, DIR, STEP, WDATA, WGATE\n    8, 26, 28, 30 = INDEX, TRK00, WPT, RDATA',
      `  pulls DS0, MOTOR, DIR, STEP, WDATA, WGATE with ${driver} at J1\n  receives INDEX, TRK00, WPT, RDATA with 74LS14 at J1`,
      `  pulls INDEX, TRK00, WPT, RDATA with ${driver} at J1\n  receives DS0, MOTOR, DIR, STEP, WDATA, WGATE with 74LS14 at J1`,
    );

  test('34 ways: every signal meets ground', () => {
    const met = metBy(turned(casesAt(floppy('7438'), 'W1', 'DRIVE.J1')));
    for (const [p, q] of met) expect(Number(p) + Number(q)).toBe(35);
  });

  test('34 ways, open collectors: ground on lines that are pulled to ground anyway, which is harmless', () => {
    const machine = floppy('7438');
    const one = turned(casesAt(machine, 'W1', 'DRIVE.J1'));
    expect(kindsOf(machine, one)).toEqual(new Set(['ground-on-line']));
    const outcome = wrongMatingOf(machine).outcome(one);
    expect(outcome.rank).toBe(7);
    expect(isHarmful(one, outcome)).toBe(false);
  });

  test('34 ways, a 74LS04 in the socket of each 7438: ground strains outputs that drive both ways, which along a ribbon is harm', () => {
    const machine = floppy('74LS04');
    const one = turned(casesAt(machine, 'W1', 'DRIVE.J1'));
    const outcome = wrongMatingOf(machine).outcome(one);
    // Each is held to ground, and by it to all others.
    expect(kindsOf(machine, one)).toEqual(new Set(['outputs-fight', 'ground-on-output', 'ground-on-line']));
    expect(outcome.rank).toBe(5);
    expect(isHarmful(one, outcome)).toBe(true);
  });

  /**
   * The 40-way interface of ANSI X3.298 (ATA-3, working draft X3T10/2008D revision 6, annex A, table A.1): grounds are 2, 19, 22, 24, 26, 30
   * and 40; pin 20 is removed, and the hole for it plugged.
   */
  const GROUNDS = '2, 19, 22, 24, 26, 30, 40';
  const ata = (key: string): Machine =>
    between(
      `connector PINS {\n  shape header 2 x 20\n  numbers zigzag\n${key}}`,
      `    1 = RESET\n    ${GROUNDS} = GND\n    3..17 step 2 = DD7..DD0\n    4..18 step 2 = DD8..DD15\n    23, 25 = DIOW, DIOR\n    35 = DA0`,
      '  drives RESET, DIOW, DIOR, DA0 with 74LS244 at J1\n  transceives DD0..DD15 with 74LS245 at J1',
      '  receives RESET, DIOW, DIOR, DA0 with 74LS244 at J1\n  transceives DD0..DD15 with 74LS245 at J1',
    );

  test('40 ways, turned on open pins: ground meets outputs that drive both ways, and outputs each other', () => {
    const machine = ata('');
    const one = turned(casesAt(machine, 'W1', 'DRIVE.J1'));
    const met = metBy(one);
    // The host's RESET on the drive's ground 40, its strobes DIOW and DIOR on the data line 18 and 16.
    expect(['1', '23', '25'].map((contact) => met.get(contact))).toEqual(['40', '18', '16']);
    expect(kindsOf(machine, one)).toEqual(new Set(['outputs-fight', 'ground-on-output', 'ground-on-line']));
    expect(wrongMatingOf(machine).outcome(one).rank).toBe(5);
  });

  test('40 ways, pin 20 removed and its hole plugged: it cannot be turned, as the annex wants it', () => {
    const one = turned(casesAt(ata('  pulled 20\n  plugged 20\n'), 'W1', 'DRIVE.J1'));
    expect(one.verdict).toEqual({ state: 'prevented', by: ['plugged contact'] });
  });
});

describe('2.54 mm box headers: wall, notch in the middle of one long side, bump on the plug', () => {
  /**
   * IEC 60603-13 is the standard of these connectors (its scope: two-part connectors of 2.54 mm in both directions, with free connectors for
   * insulation displacement; catalogue of SIST EN 60603-13:2002). That the slot is in the middle: DIN 41651 and MIL-C-83503, from memory.
   */
  const header = (connector: string, bump: string): Case[] => {
    const { machine } = machineOf(`connector BOX {
  shape header 2 x 10
  numbers zigzag
  pitch 2.54 mm
${connector}
}
card X {
  port J1 on BOX {
    1 = GND
  }
}
loose X
ribbon W1 20 way {
  end X.J1${bump}
}
`);
    return casesAt(machine, 'W1', 'X.J1').filter(({ fault }) => !fault.startsWith('crimped'));
  };

  test('with both halves nothing but straight goes in', () => {
    const cases = header('  shroud notch', ' bump');
    expect(cases.length).toBe(29);
    expect(cases.filter(({ verdict }) => verdict.state !== 'prevented')).toEqual([]);
  });

  test('a plug without a bump goes in turned, and no other way', () => {
    const doubtful = header('  shroud notch', '').filter(({ verdict }) => verdict.state !== 'prevented');
    expect(doubtful).toEqual([turned(doubtful)]);
  });
});

describe('keys on open pins, counted out', () => {
  const pins = (positions: number): Connector =>
    machineOf(`connector C {\n  shape header 2 x ${positions}\n  numbers zigzag\n}`).machine.connectors[0]!;

  const wrongWays = (connector: Connector, farthest: number): Way[] =>
    movesBetween(connector, connector)
      .slice(1)
      .map(({ way }) => way)
      .filter(({ shift }) => Math.abs(shift) <= farthest);

  /** Whether pins pulled and holes plugged at these contacts, numbered from 1, let a plug go on this way. */
  const admits = (connector: Connector, way: Way, keys: readonly number[]): boolean =>
    keys.every((key) => {
      const pin = landing(connector, connector, way, key - 1);
      return pin < 0 || keys.includes(pin + 1);
    });

  test('2 × 13, one plugged contact (20): every placement one row over is still possible, in one direction', () => {
    const connector = pins(13);
    const over = wrongWays(connector, 2).filter((way) => way.over !== 0);
    const free = over.filter((way) => admits(connector, way, [20]));
    // Straight and one row on, or turned and one row on, contact 20 (the second row) hangs free.
    expect(free).toEqual(over.filter(({ turned: is, over: by }) => (is ? by === -1 : by === 1)));
    expect(free.length * 2).toBe(over.length);
  });

  test('2 × 13, two plugged contacts, one in each row (3 and 8): nothing within one column is left', () => {
    const connector = pins(13);
    expect(wrongWays(connector, 1).filter((way) => admits(connector, way, [3, 8]))).toEqual([]);
    expect(wrongWays(connector, 2).filter((way) => admits(connector, way, [3, 8]))).not.toEqual([]);
  });

  /** Whether any set of so many keys leaves no way within `farthest` columns: all sets are tried. */
  function canBeKeyed(connector: Connector, farthest: number, size: number): boolean {
    const ways = wrongWays(connector, farthest);
    const count = connector.labels.length;
    const from = (first: number, keys: readonly number[]): boolean => {
      if (keys.length === size) return !ways.some((way) => admits(connector, way, keys));
      for (let key = first; key <= count; key++) if (from(key + 1, [...keys, key])) return true;
      return false;
    };
    return from(1, []);
  }

  const fewest = (connector: Connector, farthest: number): number =>
    [1, 2, 3, 4].find((size) => canBeKeyed(connector, farthest, size))!;

  test.each([
    [13, 1, 2],
    [13, 2, 3],
    [17, 2, 2],
    [25, 2, 2],
  ])('2 × %i within ±%i columns takes %i keys, tried out', (positions, farthest, keys) => {
    expect(fewest(pins(positions), farthest)).toBe(keys);
  });

  test.each([
    [13, 3],
    [17, 2],
    [25, 2],
  ])('2 × %i: the plan for keys finds no fewer and no more', (positions, keys) => {
    const { machine } = machineOf(`connector PINS {
  shape header 2 x ${positions}
  numbers zigzag
}
card X {
  port J1 on PINS {
    1 = GND
  }
}
loose X
ribbon W1 ${2 * positions} way {
  end X.J1
}
`);
    const cases = casesAt(machine, 'W1', 'X.J1').filter(({ fault }) => !fault.startsWith('crimped'));
    const plan = planKeys(machine.connectors[0]!, cases, []);
    expect(plan?.groups.map(({ places }) => places.length)).toEqual([keys]);
    expect(plan?.prevents).toBe(cases.length);
    const chosen = plan!.groups[0]!.places.map(([contact]) => contact + 1);
    const connector = machine.connectors[0]!;
    expect(wrongWays(connector, 2).filter((way) => admits(connector, way, chosen))).toEqual([]);
  });
});
