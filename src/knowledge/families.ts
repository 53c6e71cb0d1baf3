import type { Family, OutputPoint } from './types.ts';

/**
 * Logic families: what an ordinary gate of each takes and gives, at the limits of its temperature range.
 * Where a maker gives V_OH as V_CC − 2 V, it is taken at the lowest supply.
 * CMOS inputs stand V_CC + 0.5 V, entered here for a 5 V supply.
 */

/** Where the currents of the TTL families come from; the V_OL and V_OH at them are data-book values. */
const table = 'I_OH, I_OL, I_IH, I_IL: family table of a digital-electronics textbook';

const bipolar = { min: 4.75, max: 5.25, absolute: 7 };
const advanced = { min: 4.5, max: 5.5, absolute: 7 };

/** Input currents in A: drawn from it while low, drawn by it while high; V it stands. */
function input(low: number, high: number, max: number): Family['input'] {
  return { low, high, max, min: -0.5 };
}

/** An ordinary gate never turns off, so nothing leaks. It stands the highest supply, 5.5 V (from memory). */
function totemPole(low: readonly OutputPoint[], high: readonly OutputPoint[]): Family['output'] {
  return { kind: 'totem-pole', low, high, offLow: 0, offHigh: 0, max: 5.5 };
}

const cmosGate = totemPole([{ current: 4e-3, voltage: 0.33 }], [{ current: 4e-3, voltage: 3.84 }]);

export const families: readonly Family[] = [
  {
    name: '74',
    title: 'standard TTL',
    supply: bipolar,
    input: input(1.6e-3, 40e-6, 5.5),
    output: totemPole([{ current: 16e-3, voltage: 0.4 }], [{ current: 0.4e-3, voltage: 2.4 }]),
    source: `${table}; V_OL, V_OH, maxima: Fairchild DM7400, DM7402, DM7404; TI SDLS025B`,
  },
  {
    name: '74L',
    title: 'low-power TTL',
    supply: bipolar,
    input: input(0.18e-3, 10e-6, 5.5),
    output: totemPole([{ current: 3.6e-3, voltage: 0.4 }], [{ current: 0.2e-3, voltage: 2.4 }]),
    source: 'SN74L00 of the TI TTL Data Book (from memory)',
  },
  {
    name: '74H',
    title: 'high-speed TTL',
    supply: bipolar,
    input: input(2e-3, 50e-6, 5.5),
    output: totemPole([{ current: 20e-3, voltage: 0.4 }], [{ current: 0.5e-3, voltage: 2.4 }]),
    source: 'SN74H00 of the TI TTL Data Book (from memory)',
  },
  {
    name: '74S',
    title: 'Schottky TTL',
    supply: bipolar,
    input: input(2e-3, 50e-6, 5.5),
    output: totemPole([{ current: 20e-3, voltage: 0.5 }], [{ current: 1e-3, voltage: 2.7 }]),
    source: `${table}; input 5.5 V: TI SDLS025B; V_OL, V_OH (from memory)`,
  },
  {
    name: '74LS',
    title: 'low-power Schottky TTL',
    supply: bipolar,
    input: input(0.4e-3, 20e-6, 7),
    output: totemPole(
      [
        { current: 4e-3, voltage: 0.4 },
        { current: 8e-3, voltage: 0.5 },
      ],
      [{ current: 0.4e-3, voltage: 2.7 }],
    ),
    source: 'SN74LS00, TI SDLS025B; SN74LS20, Motorola FAST and LS TTL Data',
  },
  {
    name: '74AS',
    title: 'advanced Schottky TTL',
    supply: advanced,
    input: input(0.5e-3, 20e-6, 7),
    output: totemPole([{ current: 20e-3, voltage: 0.5 }], [{ current: 2e-3, voltage: 2.5 }]),
    source: `${table}; supply and maxima: SN74AS00, TI SDAS187A; V_OL, V_OH (from memory)`,
  },
  {
    name: '74ALS',
    title: 'advanced low-power Schottky TTL',
    supply: advanced,
    input: input(0.1e-3, 20e-6, 7),
    output: totemPole(
      [
        { current: 4e-3, voltage: 0.4 },
        { current: 8e-3, voltage: 0.5 },
      ],
      [{ current: 0.4e-3, voltage: 2.5 }],
    ),
    source: `${table}; supply and maxima: SN74ALS00A, TI SDAS187A; V_OL, V_OH (from memory)`,
  },
  {
    name: '74F',
    title: 'fast Schottky TTL',
    supply: advanced,
    input: input(0.6e-3, 20e-6, 7),
    output: totemPole([{ current: 20e-3, voltage: 0.5 }], [{ current: 1e-3, voltage: 2.5 }]),
    source: 'MC74F109, Motorola FAST and LS TTL Data; maxima: SN74F00, TI SDFS035A, and 74F373, National',
  },
  {
    name: '74HC',
    title: 'high-speed CMOS',
    supply: { min: 2, max: 6, absolute: 7 },
    input: input(1e-6, 1e-6, 5.5),
    output: cmosGate,
    source: '74HC00, Nexperia (supply, limiting values); currents, V_OL, V_OH at 4.5 V (from memory)',
  },
  {
    name: '74HCT',
    title: 'high-speed CMOS with TTL levels',
    supply: advanced,
    input: input(1e-6, 1e-6, 5.5),
    output: cmosGate,
    source: 'MM74HCT00, Fairchild, −40 to 85 °C',
  },
  {
    name: '4000',
    title: '4000-series CMOS at 5 V',
    supply: { min: 3, max: 15, absolute: 18 },
    input: input(1e-6, 1e-6, 5.5),
    output: totemPole([{ current: 0.36e-3, voltage: 0.4 }], [{ current: 0.36e-3, voltage: 4.6 }]),
    source: 'CD4001BC, CD4011BC, National, V_DD 5 V at 85 °C',
  },
];
