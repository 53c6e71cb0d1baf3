import { families } from './families.ts';
import type { LogicInput, LogicOutput, OutputPoint, Part, PartRail } from './types.ts';

/**
 * Chips whose pins differ from an ordinary gate of their family, and chips whose rails matter.
 * An ordinary gate (7400, 74LS04) is found through its family and is not listed.
 * The off current of a transceiver's pin holds its own input too: count the larger of the two, not the sum.
 */

type Point = readonly [current: number, voltage: number];

const points = (list: readonly Point[]): readonly OutputPoint[] =>
  list.map(([current, voltage]) => ({ current, voltage }));

/** Input currents in A: out of it while low, into it while high; V it stands. */
const takes = (low: number, high: number, max: number, min = -0.5): LogicInput => ({ low, high, max, min });

const threeState = (
  low: readonly Point[],
  high: readonly Point[],
  offLow: number,
  offHigh: number,
): LogicOutput => ({ kind: 'three-state', low: points(low), high: points(high), offLow, offHigh, max: 5.5 });

const totemPole = (low: readonly Point[], high: readonly Point[], max = 5.5): LogicOutput => ({
  kind: 'totem-pole',
  low: points(low),
  high: points(high),
  offLow: 0,
  offHigh: 0,
  max,
});

/** Leakage in A into the off output at its rated voltage; V it stands when off. */
const openCollector = (low: readonly Point[], leakage: number, max: number): LogicOutput => ({
  kind: 'open-collector',
  low: points(low),
  high: [],
  offLow: 0,
  offHigh: leakage,
  max,
});

function inputOf(family: string): LogicInput {
  const found = families.find((entry) => entry.name === family);
  if (!found) throw new Error(`no family ${family}`);
  return found.input;
}

const titles = {
  '01': 'quad NAND, open collector',
  '03': 'quad NAND, open collector',
  '05': 'hex inverter, open collector',
  '06': 'hex inverting buffer, open collector',
  '07': 'hex buffer, open collector',
  '09': 'quad AND, open collector',
  '12': 'triple NAND, open collector',
  '15': 'triple AND, open collector',
  '16': 'hex inverting buffer, open collector',
  '17': 'hex buffer, open collector',
  '22': 'dual NAND, open collector',
  '26': 'quad NAND for 15 V, open collector',
  '33': 'quad NOR buffer, open collector',
  '38': 'quad NAND buffer, open collector',
  '125': 'quad three-state buffer',
  '126': 'quad three-state buffer',
  '136': 'quad exclusive-OR, open collector',
  '240': 'octal inverting buffer',
  '241': 'octal buffer',
  '244': 'octal buffer',
  '245': 'octal transceiver',
  '266': 'quad exclusive-NOR, open collector',
  '365': 'hex three-state buffer',
  '366': 'hex three-state inverting buffer',
  '367': 'hex three-state buffer',
  '368': 'hex three-state inverting buffer',
  '373': 'octal three-state latch',
  '374': 'octal three-state register',
  '540': 'octal inverting buffer',
  '541': 'octal buffer',
  '573': 'octal three-state latch',
  '574': 'octal three-state register',
  '640': 'octal inverting transceiver',
  '645': 'octal transceiver',
} as const;

type Tail = keyof typeof titles;

/** The members of one logic family that share their limits. */
function members(
  family: string,
  tails: readonly Tail[],
  input: LogicInput,
  output: LogicOutput,
  source: string,
): Part[] {
  return tails.map((tail) => ({ name: family + tail, title: titles[tail], family, input, output, source }));
}

/** A high level that drives a terminated line: 2.4 V at 3 mA, 2.0 V at 15 mA. */
const busHigh: readonly Point[] = [
  [3e-3, 2.4],
  [15e-3, 2.0],
];
const busLow: readonly Point[] = [
  [12e-3, 0.4],
  [24e-3, 0.5],
];
const cmosBus = threeState([[6e-3, 0.33]], [[6e-3, 3.84]], 5e-6, 5e-6);

// biome-ignore format: a table, its rows kept together
const busDrivers: readonly Part[] = [
  ...members('74LS', ['240', '241', '244'], takes(0.2e-3, 20e-6, 7),
    threeState(busLow, busHigh, 20e-6, 20e-6), 'DM74LS240/241, DM74LS244, Fairchild'),
  ...members('74LS', ['540', '541'], takes(0.2e-3, 20e-6, 7), threeState(busLow, busHigh, 20e-6, 20e-6),
    'SN74LS540/541, as 74LS244 (from memory)'),
  ...members('74LS', ['245'], takes(0.2e-3, 20e-6, 5.5), threeState(busLow, busHigh, 200e-6, 20e-6),
    'DM74LS245, Fairchild (A and B pins: 5.5 V)'),
  ...members('74LS', ['640', '645'], takes(0.4e-3, 20e-6, 5.5), threeState(busLow, busHigh, 400e-6, 20e-6),
    'DM74LS645, Fairchild; the 640 shares its limits (from memory)'),
  ...members('74LS', ['373', '374', '573', '574'], takes(0.4e-3, 20e-6, 7),
    threeState(busLow, [[2.6e-3, 2.4]], 20e-6, 20e-6),
    'SN74LS373/374, Motorola FAST and LS TTL Data (24 mA, 2.6 mA, inputs); I_OZ, 573/574 (from memory)'),
  ...members('74LS', ['125', '126', '365', '366', '367', '368'], takes(0.4e-3, 20e-6, 7),
    threeState(busLow, [[2.6e-3, 2.4]], 20e-6, 20e-6),
    'SN74LS365A to 368A, Motorola (24 mA, 2.6 mA); I_OZ, 125/126 (from memory)'),

  ...members('74', ['125', '126'], takes(1.6e-3, 40e-6, 5.5),
    threeState([[16e-3, 0.4]], [[5.2e-3, 2.4]], 40e-6, 40e-6), 'SN74125/126, TI (from memory)'),
  ...members('74', ['365', '366', '367', '368'], takes(1.6e-3, 40e-6, 5.5),
    threeState([[32e-3, 0.4]], [[5.2e-3, 2.4]], 40e-6, 40e-6), 'SN74365A to 368A, TI (from memory)'),

  // Enable pins draw 2 mA; the bus sees the data pins.
  ...members('74S', ['240', '241', '244'], takes(0.4e-3, 50e-6, 5.5),
    threeState([[64e-3, 0.55]], busHigh, 50e-6, 50e-6), 'SN74S240/241/244, TI SDLS144 (from memory)'),
  ...members('74S', ['373', '374'], takes(0.25e-3, 50e-6, 5.5),
    threeState([[20e-3, 0.5]], [[6.5e-3, 2.4]], 50e-6, 50e-6), 'SN74S373/374, TI SDLS165 (from memory)'),

  ...members('74AS', ['240', '241', '244'], takes(1e-3, 20e-6, 7),
    threeState([[64e-3, 0.55]], busHigh, 50e-6, 50e-6), 'SN74AS240/241/244, TI (from memory)'),
  ...members('74AS', ['245', '640'], takes(0.75e-3, 70e-6, 5.5),
    threeState([[64e-3, 0.55]], busHigh, 750e-6, 70e-6),
    'SN74AS245, TI (64 mA, 15 mA); the rest (from memory)'),
  ...members('74AS', ['373', '374'], takes(0.5e-3, 20e-6, 7),
    threeState([[48e-3, 0.5]], [[15e-3, 2.4]], 50e-6, 50e-6), 'SN74AS373/374, TI (from memory)'),

  ...members('74ALS', ['240', '241', '244'], takes(0.1e-3, 20e-6, 7),
    threeState(busLow, busHigh, 20e-6, 20e-6),
    'DM74ALS244A, Fairchild; 0.4 V at 12 mA: IN74ALS240A, Integral'),
  ...members('74ALS', ['245', '640', '645'], takes(0.1e-3, 20e-6, 5.5),
    threeState(busLow, busHigh, 100e-6, 20e-6),
    'SN74ALS245A, TI SDAS272A; SN74ALS640B, TI SDAS122A; DM74ALS645A, Fairchild'),
  ...members('74ALS', ['373', '374', '573', '574'], takes(0.2e-3, 20e-6, 7),
    threeState(busLow, [[2.6e-3, 2.4]], 20e-6, 20e-6), 'SN74ALS373/374/573/574, TI (from memory)'),

  ...members('74F', ['240', '241', '244'], takes(1.6e-3, 20e-6, 7),
    threeState([[64e-3, 0.55]], busHigh, 50e-6, 50e-6),
    '74F244, Philips (V_OH 2.5 V at 3 mA, here 2.4 V); 240/241 (from memory)'),
  // One side of the 245 sinks 24 mA, the other 64 mA; which one faces the bus is unknown: the weaker counts.
  ...members('74F', ['245', '640'], takes(650e-6, 70e-6, 5.5),
    threeState([[24e-3, 0.5]], [[3e-3, 2.4]], 650e-6, 70e-6),
    'MC74F245, Motorola, A side (B side: 64 mA at 0.55 V, 15 mA at 2.0 V); 640 (from memory)'),
  ...members('74F', ['373', '374', '573', '574'], takes(0.6e-3, 20e-6, 7),
    threeState([[24e-3, 0.5]], [[1e-3, 2.5], [3e-3, 2.4]], 50e-6, 50e-6),
    '74F373, National (24 mA, 3 mA); I_IL, I_OZ, the others (from memory)'),
  ...members('74F', ['365', '366', '367', '368'], takes(20e-6, 20e-6, 7),
    threeState([[64e-3, 0.55]], busHigh, 50e-6, 50e-6), 'MC74F367/368, Motorola; 365/366 (from memory)'),

  ...(['74HC', '74HCT'] as const).flatMap((family) => members(family,
    ['125', '126', '240', '241', '244', '245', '365', '366', '367', '368', '373', '374', '540', '541', '573',
      '574', '640'],
    inputOf(family), cmosBus, '74HC245; 74HCT245, Philips, −40 to 85 °C; HD74HC368, Hitachi')),
];

const ttlDriver: readonly Point[] = [
  [16e-3, 0.4],
  [40e-3, 0.7],
];
const lsGate: readonly Point[] = [
  [4e-3, 0.4],
  [8e-3, 0.5],
];

// biome-ignore format: a table, its rows kept together
const openCollectors: readonly Part[] = [
  ...members('74', ['06', '07'], inputOf('74'), openCollector(ttlDriver, 250e-6, 30),
    'SN7406, TI (40 mA, 30 V); IN74LS06, Integral, for the same output; inputs as DM7404, Fairchild'),
  ...members('74', ['16', '17'], inputOf('74'), openCollector(ttlDriver, 250e-6, 15),
    'SN7416, TI (40 mA); 15 V as SN74LS16, TI SDLS020B'),
  ...members('74', ['01', '03', '05', '09', '12', '22'], inputOf('74'),
    openCollector([[16e-3, 0.4]], 250e-6, 7), 'DM7403, Fairchild; the others share its limits (from memory)'),
  ...members('74', ['33', '38'], inputOf('74'), openCollector([[48e-3, 0.4]], 250e-6, 7),
    'DM7438, Fairchild; I_OL 48 mA and the 33 (from memory)'),
  // 50 µA at 12 V, 1 mA at 15 V.
  ...members('74', ['26'], inputOf('74'), openCollector([[16e-3, 0.4]], 1e-3, 15),
    'SN7426, TI (from memory)'),

  ...members('74LS', ['06'], takes(0.2e-3, 20e-6, 5.5), openCollector(ttlDriver, 250e-6, 30),
    'SN74LS06, TI SDLS020; input currents: IN74LS06, Integral'),
  ...members('74LS', ['16'], takes(0.2e-3, 20e-6, 5.5), openCollector(ttlDriver, 250e-6, 15),
    'SN74LS16, TI SDLS020B; input currents as IN74LS06, Integral'),
  ...members('74LS', ['07'], takes(0.2e-3, 20e-6, 7), openCollector(ttlDriver, 250e-6, 30),
    'SN74LS07, TI SDLS021D (input 7 V, output 30 V, 40 mA); the rest as SN74LS06'),
  ...members('74LS', ['17'], takes(0.2e-3, 20e-6, 7), openCollector(ttlDriver, 250e-6, 15),
    'SN74LS17, TI SDLS021 (from memory)'),
  ...members('74LS', ['01', '03', '05', '09', '12', '15', '22'], inputOf('74LS'),
    openCollector(lsGate, 100e-6, 7), 'DM74LS12, National (7 V); leakage and the others (from memory)'),
  ...members('74LS', ['136', '266'], takes(0.8e-3, 40e-6, 7), openCollector(lsGate, 100e-6, 7),
    'SN74LS136/266, TI (from memory)'),
  ...members('74LS', ['26'], inputOf('74LS'), openCollector(lsGate, 1e-3, 15), 'SN74LS26, TI (from memory)'),
  ...members('74LS', ['33', '38'], inputOf('74LS'), openCollector(busLow, 250e-6, 7),
    'DM74LS38, Fairchild (7 V); I_OL, leakage and the 33 (from memory)'),

  ...members('74S', ['03', '05', '09', '15', '22'], inputOf('74S'), openCollector([[20e-3, 0.5]], 250e-6, 7),
    'DM74S09, National, and the TI TTL Data Book (from memory)'),
  ...members('74S', ['38'], takes(4e-3, 100e-6, 5.5), openCollector([[60e-3, 0.5]], 250e-6, 7),
    'SN74S38, TI (from memory)'),
  ...members('74ALS', ['01', '03', '05', '09', '12', '15', '22'], inputOf('74ALS'),
    openCollector(lsGate, 100e-6, 7), 'SN74ALS01 to 22, TI (from memory)'),
  ...members('74F', ['38'], takes(1.2e-3, 20e-6, 7), openCollector([[64e-3, 0.55]], 250e-6, 5.5),
    '74F38, National (from memory)'),
];

/** Line and peripheral drivers outside the 74 series. */
const interfaces: readonly Part[] = [
  ...['8T26', '8T28'].map(
    (name): Part => ({
      name,
      title: 'quad bus transceiver, bus side',
      input: takes(0.2e-3, 25e-6, 5.5),
      output: threeState([[48e-3, 0.5]], [[10e-3, 2.4]], 100e-6, 100e-6),
      source: 'Am8T26A/Am8T28, AMD (48 mA); the rest: 8T26A, Signetics (from memory)',
    }),
  ),
  ...['8T95', '8T96', '8T97', '8T98'].map(
    (name): Part => ({
      name,
      title: 'hex three-state buffer',
      input: takes(0.4e-3, 40e-6, 5.5),
      output: threeState([[48e-3, 0.5]], [[5.2e-3, 2.4]], 40e-6, 40e-6),
      source: '8T95 to 8T98, Signetics (from memory)',
    }),
  ),
  {
    name: 'DP8304',
    title: 'octal transceiver, bus side (B)',
    input: takes(0.2e-3, 80e-6, 5.5),
    output: threeState(
      [
        [20e-3, 0.4],
        [48e-3, 0.5],
      ],
      [[10e-3, 2.4]],
      200e-6,
      200e-6,
    ),
    source: 'DP8304B, National TL/F/8793 (48 mA, 5.5 V); the rest (from memory)',
  },
  {
    name: '26LS31',
    title: 'quad differential line driver',
    input: takes(0.36e-3, 20e-6, 7),
    output: threeState([[20e-3, 0.5]], [[20e-3, 2.5]], 20e-6, 20e-6),
    source: 'AM26LS31, TI SLLS114 (from memory)',
  },
  {
    name: '26LS32',
    title: 'quad differential line receiver',
    input: takes(2.8e-3, 2.3e-3, 25, -25),
    output: threeState(
      [
        [4e-3, 0.4],
        [8e-3, 0.45],
      ],
      [[0.44e-3, 2.7]],
      20e-6,
      20e-6,
    ),
    source: 'AM26LS32, AMD and Motorola (from memory)',
  },
  ...(
    [
      ['75451', 'AND'],
      ['75452', 'NAND'],
      ['75453', 'OR'],
      ['75454', 'NOR'],
    ] as const
  ).map(
    ([name, gate]): Part => ({
      name,
      title: `dual peripheral driver, ${gate}, open collector`,
      input: takes(1.6e-3, 40e-6, 5.5),
      output: openCollector(
        [
          [100e-3, 0.4],
          [300e-3, 0.7],
        ],
        100e-6,
        30,
      ),
      source: 'SN75451B to SN75454B, TI SLRS021B; 5.5 V, 30 V: DS75451/2/3, National',
    }),
  ),
  {
    name: '1488',
    title: 'quad RS-232 line driver',
    input: takes(1.6e-3, 10e-6, 7, -15),
    output: totemPole([[2e-3, -6]], [[2e-3, 6]], 15),
    rails: [
      { volts: 12, current: 25e-3 },
      { volts: -12, current: 23e-3 },
    ],
    source:
      'MC1488, TI SLLS094B: levels at ±9 V into 3 kΩ, currents at ±12 V, limits ±15 V; input range: Motorola',
  },
  {
    name: '1489',
    title: 'quad RS-232 line receiver',
    input: takes(8.3e-3, 8.3e-3, 30, -30),
    output: totemPole([[10e-3, 0.45]], [[0.5e-3, 2.5]]),
    rails: [{ volts: 5, current: 26e-3 }],
    source: 'MC1489, STMicroelectronics; input currents at ±25 V',
  },
];

const rail = (volts: number, current?: number): PartRail =>
  current === undefined ? { volts } : { volts, current };

/** Motorola demands V_BB first and last, Mostek does not: without the maker's name it is no demand. */
const biasFirst = { volts: -5, binding: false };

const dynamicMemories: readonly Part[] = [
  {
    name: '4116',
    title: '16 K × 1 dynamic memory',
    rails: [rail(-5, 200e-6), rail(12, 35e-3), rail(5)],
    first: biasFirst,
    source: 'three rails: NTE2117, NTE; I_BB, I_DD: MK4116, Mostek (from memory)',
  },
  {
    name: 'MCM4116',
    title: '16 K × 1 dynamic memory, Motorola',
    rails: [rail(-5, 200e-6), rail(12, 35e-3), rail(5)],
    first: { volts: -5, binding: true },
    source:
      'Motorola Memory Data Book 1979, V_BB on before and off after the others; I_BB, I_DD (from memory)',
  },
  {
    name: '4096',
    title: '4 K × 1 dynamic memory',
    rails: [rail(-5, 75e-6), rail(12, 35e-3), rail(5)],
    first: biasFirst,
    source:
      'MK4096, Mostek Memory Data Book 1979: +12 V without −5 V no longer than 5 s; currents (from memory)',
  },
  {
    name: '4027',
    title: '4 K × 1 dynamic memory',
    rails: [rail(-5, 150e-6), rail(12, 35e-3), rail(5)],
    first: biasFirst,
    source: 'MK4027, Mostek (from memory)',
  },
];

const readOnlyMemories: readonly Part[] = [
  {
    name: '2708',
    title: '1 K × 8 EPROM',
    rails: [rail(-5, 45e-3), rail(5, 10e-3), rail(12, 65e-3)],
    first: biasFirst,
    source:
      'three rails: NTE2708, NTE; currents: 2708, Intel, which asks for V_BB first and last (from memory)',
  },
  // TI's own 2716 is a doubled 2708, not the single-supply chip the rest of the trade sells by that number.
  {
    name: 'TMS2716',
    title: '2 K × 8 EPROM on three rails',
    rails: [rail(-5), rail(5), rail(12)],
    first: biasFirst,
    source: 'TMS2716, TI (from memory)',
  },
  {
    name: '1702A',
    title: '256 × 8 EPROM',
    rails: [rail(5, 60e-3), rail(-9, 60e-3)],
    source: '1702A, Intel (from memory)',
  },
];

const nmosInput = takes(10e-6, 10e-6, 7, -0.3);

/** An NMOS chip: next to no input current, about one TTL load of drive. */
function nmos(
  name: string,
  title: string,
  low: Point,
  high: Point,
  rails: readonly PartRail[],
  source: string,
): Part {
  return { name, title, input: nmosInput, output: threeState([low], [high], 10e-6, 10e-6), rails, source };
}

const processors: readonly Part[] = [
  // Its inputs are rated against the −5 V rail, so no limit to ground is claimed here.
  ...(
    [
      ['8080', 1.7e-3],
      ['8080A', 1.9e-3],
    ] as const
  ).map(
    ([name, sink]): Part => ({
      name,
      title: '8-bit processor',
      output: threeState([[sink, 0.45]], [[150e-6, 3.7]], 100e-6, 10e-6),
      rails: [rail(-5, 1e-3), rail(5, 80e-3), rail(12, 70e-3)],
      first: biasFirst,
      source: `${name}, Intel: −5, +5, +12 V; currents and drive (from memory)`,
    }),
  ),
  nmos(
    'Z80',
    '8-bit processor',
    [1.8e-3, 0.4],
    [250e-6, 2.4],
    [rail(5, 200e-3)],
    'Z80 CPU, Zilog (from memory)',
  ),
  nmos(
    '8085',
    '8-bit processor',
    [2e-3, 0.45],
    [400e-6, 2.4],
    [rail(5, 170e-3)],
    '8085A, Intel (from memory)',
  ),
  nmos(
    '6502',
    '8-bit processor',
    [1.6e-3, 0.4],
    [100e-6, 2.4],
    [rail(5, 160e-3)],
    'R6502, Rockwell (from memory)',
  ),
  nmos(
    '6800',
    '8-bit processor',
    [1.6e-3, 0.4],
    [145e-6, 2.4],
    [rail(5, 240e-3)],
    'MC6800, Motorola (from memory)',
  ),
  nmos(
    '68000',
    '16-bit processor',
    [3.2e-3, 0.5],
    [400e-6, 2.4],
    [rail(5, 300e-3)],
    'MC68000, Motorola (from memory)',
  ),
];

const singleRailMemories: readonly Part[] = [
  nmos(
    '2114',
    '1 K × 4 static memory',
    [2.1e-3, 0.4],
    [1e-3, 2.4],
    [rail(5, 100e-3)],
    'NTE2114, NTE (levels, input current, single +5 V); supply current (from memory)',
  ),
  nmos(
    '2716',
    '2 K × 8 EPROM',
    [2.1e-3, 0.45],
    [400e-6, 2.4],
    [rail(5, 100e-3)],
    'NTE2716, NTE (single +5 V); levels and current: 2716, Intel (from memory)',
  ),
];

export const parts: readonly Part[] = [
  ...busDrivers,
  ...openCollectors,
  ...interfaces,
  ...dynamicMemories,
  ...readOnlyMemories,
  ...processors,
  ...singleRailMemories,
];
