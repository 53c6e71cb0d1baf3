import { describe, expect, it } from 'vitest';
import { familyNamed, partNamed, regulatorNamed } from '../../src/knowledge/lookup.ts';
import { awgDiameter, awgResistance } from '../../src/knowledge/wire.ts';

/** Points as [A, V], for reading beside a data sheet. */
const pairs = (points: readonly { current: number; voltage: number }[] = []) =>
  points.map(({ current, voltage }) => [current, voltage]);

describe('family currents', () => {
  // I_OH, I_OL, I_IH, I_IL: family table of a digital-electronics textbook. Confirmed: 74 by Fairchild DM7402
  // (DS006492), 74LS by TI SDLS025B, 74F by Motorola MC74F109, I_OH, I_OL of 74AS and 74ALS by TI SDAS187A.
  it.each([
    ['74', 0.4e-3, 16e-3, 40e-6, 1.6e-3],
    ['74S', 1e-3, 20e-3, 50e-6, 2e-3],
    ['74LS', 0.4e-3, 8e-3, 20e-6, 0.4e-3],
    ['74AS', 2e-3, 20e-3, 20e-6, 0.5e-3],
    ['74ALS', 0.4e-3, 8e-3, 20e-6, 0.1e-3],
    ['74F', 1e-3, 20e-3, 20e-6, 0.6e-3],
  ])('%s', (name, sourced, sunk, high, low) => {
    const family = familyNamed(name);
    expect(family?.output.high.at(-1)?.current).toBe(sourced);
    expect(family?.output.low.at(-1)?.current).toBe(sunk);
    expect(family?.input).toMatchObject({ low, high });
  });

  // From memory: TI TTL Data Book.
  it.each([
    ['74L', 3.6e-3, 0.18e-3],
    ['74H', 20e-3, 2e-3],
  ])('%s (from memory)', (name, sunk, low) => {
    const family = familyNamed(name);
    expect(family?.output.low.at(-1)?.current).toBe(sunk);
    expect(family?.input.low).toBe(low);
  });

  // MM74HCT00, Fairchild, −40 to 85 °C, V_CC 4.5 V: 0.33 V and 3.84 V at 4 mA, input 1 µA.
  it('74HCT', () => {
    const family = familyNamed('74HCT');
    expect(pairs(family?.output.low)).toEqual([[4e-3, 0.33]]);
    expect(pairs(family?.output.high)).toEqual([[4e-3, 3.84]]);
    expect(family?.input).toMatchObject({ low: 1e-6, high: 1e-6 });
  });

  // CD4001BC/CD4011BC, National, 5 V, 85 °C: 0.36 mA at 0.4 V and at 4.6 V; V_DD 3 to 15 V, at most 18 V.
  it('4000 at 5 V', () => {
    const family = familyNamed('4000');
    expect(pairs(family?.output.low)).toEqual([[0.36e-3, 0.4]]);
    expect(pairs(family?.output.high)).toEqual([[0.36e-3, 4.6]]);
    expect(family?.supply).toEqual({ min: 3, max: 15, absolute: 18 });
  });

  // DM7402 and DM74LS00, Fairchild: V_CC 4.75 to 5.25 V, at most 7 V.
  it.each(['74', '74LS'])('supply of %s', (name) => {
    expect(familyNamed(name)?.supply).toEqual({ min: 4.75, max: 5.25, absolute: 7 });
  });

  // TI SDLS025B: inputs of ’00 and ’S00 5.5 V, of ’LS00 7 V.
  it.each([
    ['74', 5.5],
    ['74S', 5.5],
    ['74LS', 7],
  ])('an input of %s stands %s V', (name, max) => {
    expect(familyNamed(name)?.input.max).toBe(max);
  });

  // Fan-out 10, and 20 into LS by the usual rule of the high level: 0.4 mA over 40 µA and over 20 µA.
  it('fan-out of 74', () => {
    const [ttl, ls] = [familyNamed('74'), familyNamed('74LS')];
    const sunk = ttl?.output.low.at(-1)?.current ?? 0;
    const sourced = ttl?.output.high.at(-1)?.current ?? 0;
    expect(sunk / (ttl?.input.low ?? 1)).toBeCloseTo(10);
    expect(sourced / (ttl?.input.high ?? 1)).toBeCloseTo(10);
    expect(sourced / (ls?.input.high ?? 1)).toBeCloseTo(20);
  });
});

describe('bus drivers', () => {
  // DM74LS244 and DM74LS245, Fairchild (before that National TL/F/8442, TL/F/6413).
  it.each(['74LS244', '74LS245'])('%s', (name) => {
    const output = partNamed(name)?.output;
    expect(pairs(output?.low)).toEqual([
      [12e-3, 0.4],
      [24e-3, 0.5],
    ]);
    expect(pairs(output?.high)).toEqual([
      [3e-3, 2.4],
      [15e-3, 2.0],
    ]);
  });

  // DM74LS244, Fairchild: I_OZ 20 µA, inputs 7 V. DM74LS245: I_OZL 200 µA, A and B pins 5.5 V.
  it('leakage and limits of 74LS244 and 74LS245', () => {
    expect(partNamed('74LS244')).toMatchObject({
      input: { low: 200e-6, max: 7 },
      output: { offLow: 20e-6, offHigh: 20e-6 },
    });
    expect(partNamed('74LS245')).toMatchObject({
      input: { max: 5.5 },
      output: { offLow: 200e-6, offHigh: 20e-6 },
    });
  });

  // SN74ALS245A, TI SDAS272A: I_IL of a port, off current included, 0.1 mA.
  it('74ALS245', () => {
    const part = partNamed('74ALS245');
    expect(pairs(part?.output?.low)).toEqual([
      [12e-3, 0.4],
      [24e-3, 0.5],
    ]);
    expect(part?.output).toMatchObject({ offLow: 100e-6, offHigh: 20e-6 });
  });

  // 74F244, Philips 1994: I_OL 64 mA at 0.55 V, 2.0 V at 15 mA, I_IL 1.6 mA, I_OZ 50 µA.
  it('74F244', () => {
    const part = partNamed('74F244');
    expect(pairs(part?.output?.low)).toEqual([[64e-3, 0.55]]);
    expect(pairs(part?.output?.high).at(-1)).toEqual([15e-3, 2.0]);
    expect(part).toMatchObject({ input: { low: 1.6e-3 }, output: { offLow: 50e-6 } });
  });

  // MC74F245, Motorola FAST and LS TTL Data p. 4-116, A side: 24 mA at 0.5 V; off 650 µA and 70 µA.
  it('74F245, weaker side', () => {
    const output = partNamed('74F245')?.output;
    expect(pairs(output?.low)).toEqual([[24e-3, 0.5]]);
    expect(output).toMatchObject({ offLow: 650e-6, offHigh: 70e-6 });
  });

  // 74HC245; 74HCT245, Philips 2005, −40 to 85 °C: 6 mA at 0.33 V and at 3.84 V, I_OZ 5 µA.
  it.each(['74HC245', '74HCT245'])('%s', (name) => {
    const output = partNamed(name)?.output;
    expect(pairs(output?.low)).toEqual([[6e-3, 0.33]]);
    expect(pairs(output?.high)).toEqual([[6e-3, 3.84]]);
    expect(output?.offLow).toBe(5e-6);
  });

  // SN7406, TI: 16 mA at 0.4 V, 40 mA at 0.7 V, 250 µA at 30 V; 0.7 V leaves 0.1 V to V_IL 0.8 V.
  it('7406', () => {
    const output = partNamed('7406')?.output;
    expect(output).toMatchObject({ kind: 'open-collector', offHigh: 250e-6, max: 30 });
    expect(pairs(output?.low)).toEqual([
      [16e-3, 0.4],
      [40e-3, 0.7],
    ]);
    expect(0.8 - (output?.low.at(-1)?.voltage ?? 0)).toBeCloseTo(0.1);
  });

  // TI SDLS020B: LS06, LS16 inputs 5.5 V, off state 30 V, 15 V. TI SDLS021D: LS07 input 7 V, output 30 V.
  it.each([
    ['74LS06', 5.5, 30],
    ['74LS16', 5.5, 15],
    ['74LS07', 7, 30],
  ])('%s stands %s V in, %s V out', (name, input, output) => {
    expect(partNamed(name)).toMatchObject({ input: { max: input }, output: { max: output } });
  });

  // DM7438, Fairchild DS006513: 250 µA at 5.5 V, input 5.5 V, output 7 V.
  it('7438', () => {
    expect(partNamed('7438')).toMatchObject({ input: { max: 5.5 }, output: { offHigh: 250e-6, max: 7 } });
  });

  // SN75453B, TI SLRS021B: 100 mA at 0.4 V, 300 mA at 0.7 V, 100 µA at 30 V.
  it('75453', () => {
    const output = partNamed('75453')?.output;
    expect(pairs(output?.low)).toEqual([
      [100e-3, 0.4],
      [300e-3, 0.7],
    ]);
    expect(output).toMatchObject({ offHigh: 100e-6, max: 30 });
  });
});

describe('rails', () => {
  const volts = (name: string) =>
    partNamed(name)
      ?.rails?.map((rail) => rail.volts)
      .toSorted((a, b) => a - b);

  // Data sheets of NTE2117 (4116), NTE2708 and Intel 8080A; 1702A from memory.
  it.each([
    ['4116', [-5, 5, 12]],
    ['2708', [-5, 5, 12]],
    ['8080A', [-5, 5, 12]],
    ['1702A', [-9, 5]],
  ])('%s', (name, expected) => {
    expect(volts(name)).toEqual(expected);
  });

  // The Motorola Memory Data Book 1979 demands V_BB first on and last off; the Mostek one (MK4096) does not.
  it('V_BB first is a demand of the maker, not of the chip', () => {
    expect(partNamed('MCM4116')?.first).toEqual({ volts: -5, binding: true });
    expect(partNamed('MK4116')?.first).toEqual({ volts: -5, binding: false });
  });

  // Data sheets of NTE2114 and NTE2716: single 5 V supply.
  it.each(['2114', '2716'])('%s needs 5 V only', (name) => {
    expect(volts(name)).toEqual([5]);
  });
});

describe('wire', () => {
  const feet1000 = 304.8;

  // NBS Handbook 100, Ω per 1000 ft at 20 °C.
  it.each([
    [22, 16.14],
    [24, 25.67],
    [28, 64.9],
  ])('%s AWG is %s Ω per 1000 ft', (awg, ohms) => {
    expect(awgResistance(awg) * feet1000).toBeCloseTo(ohms, 1);
  });

  // ASTM B258: the two gauges it is defined by, 0000 = 0.4600 in and 36 = 0.0050 in, and three between.
  it.each([
    [-3, 0.46],
    [36, 0.005],
    [22, 0.0253],
    [24, 0.0201],
    [28, 0.0126],
  ])('%s AWG is %s in', (awg, inches) => {
    expect(awgDiameter(awg) / 25.4e-3).toBeCloseTo(inches, 4);
  });
});

describe('regulators', () => {
  // LM340-5 data sheet, National/TI SNOSBT0: input 7.5 to 35 V, 2 V drop-out at 1 A.
  it.each(['LM340-5', '7805'])('%s', (name) => {
    expect(regulatorNamed(name)).toMatchObject({ output: 5, dropout: 2, maxInput: 35, current: 1 });
  });

  // MC78XX, Fairchild 1999: 35 V in for 5 to 18 V out, 40 V for 24 V out.
  it.each([
    ['7805', 35],
    ['7818', 35],
    ['7824', 40],
  ])('%s stands %s V in', (name, maxInput) => {
    expect(regulatorNamed(name)?.maxInput).toBe(maxInput);
  });

  // LM79XX, National DS007340: 1.1 V at 1 A; input of the 7905 25 V, of the 7912 and 7915 35 V.
  it.each([
    ['7905', 25],
    ['7912', 35],
    ['7915', 35],
  ])('%s', (name, maxInput) => {
    expect(regulatorNamed(name)).toMatchObject({ polarity: -1, dropout: 1.1, maxInput });
  });

  // LM79LXXAC, National DS007748: at 100 mA regulates from −7.3, −14.6 and −17.7 V; 35 V in.
  it.each([
    ['79L05', 7.3],
    ['79L12', 14.6],
    ['79L15', 17.7],
  ])('%s works from %s V', (name, least) => {
    const regulator = regulatorNamed(name);
    expect((regulator?.dropout ?? 0) - (regulator?.output ?? 0)).toBeCloseTo(least);
    expect(regulator?.maxInput).toBe(35);
  });

  // LM323, STMicroelectronics: 3 A, least input 7.5 V.
  it('LM323', () => {
    const regulator = regulatorNamed('LM323K');
    expect(regulator?.current).toBe(3);
    expect((regulator?.output ?? 0) + (regulator?.dropout ?? 0)).toBe(7.5);
  });

  // LM309, National: 35 V in; 1 A in TO-3, 0.2 A in TO-39.
  it.each([
    ['LM309K', 1],
    ['LM309H', 0.2],
  ])('%s gives %s A', (name, current) => {
    expect(regulatorNamed(name)).toMatchObject({ output: 5, maxInput: 35, current });
  });

  // LM317, STMicroelectronics DS0433: 40 V from input to output, 1.5 A.
  it('LM317', () => {
    expect(regulatorNamed('LM317T')).toMatchObject({ polarity: 1, maxInput: 40, current: 1.5 });
  });
});
