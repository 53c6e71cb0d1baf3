// Published figures of terminators, pull-ups and loaded lines, each with its source beside it.
import { describe, expect, it } from 'vitest';
import { type Leg, sunkFrom, thevenin } from '../../src/analysis/bias.ts';
import { BOARD_CAPACITANCE, bareLine, loadedLine } from '../../src/analysis/length.ts';
import { leastPullUp, mostPullUp } from '../../src/analysis/loading.ts';
import { familyNamed, partNamed } from '../../src/knowledge/lookup.ts';
import { benchText } from '../support/bench.ts';
import { findingsOf } from '../support/machine.ts';

/** A resistor to a rail of so many V. */
const to = (volts: number, ohms: number): Leg => ({ ohms, low: volts, high: volts });
const split = (volts: number, up: number, down: number): Leg[] => [to(volts, up), to(0, down)];

describe('terminators', () => {
  // 220/330 on 5 V: V·R2/(R1+R2), R1∥R2, (V − V_OL)/R1 − V_OL/R2; ngspice's operating point of the same netlist agrees.
  it('220/330 on 5 V', () => {
    const legs = split(5, 220, 330);
    expect(thevenin(legs).high).toBeCloseTo(3.0, 3);
    expect(thevenin(legs).ohms).toBeCloseTo(132, 3);
    expect(sunkFrom(legs, 0.5) * 1e3).toBeCloseTo(18.94, 2);
  });

  // ANSI X3.131-1986 (SCSI): 220/330 at both ends, drivers 48 mA at 0.5 V; at 5.25 V two ends take 40.2 mA.
  it('SCSI, two ends at 5.25 V', () => {
    const end = split(5.25, 220, 330);
    expect(sunkFrom([...end, ...end], 0.5) * 1e3).toBeCloseTo(40.2, 1);
  });

  // SCSI-2, alternative 2: 2.85 V through 110 Ω, 22.4 mA at most at 0.5 V.
  it('SCSI-2, 2.85 V through 110 ohm', () => {
    const amps = sunkFrom([to(2.85, 110)], 0.5);
    expect(amps * 1e3).toBeCloseTo(21.36, 2);
    expect(amps).toBeLessThan(22.4e-3);
  });

  // The regulator of that terminator, an LM317 type (1.25 V reference) with 121 and 154 Ω: SCSI-2, the same clause.
  it('its regulator gives 2.84 V', () => expect(1.25 * (1 + 154 / 121)).toBeCloseTo(2.84, 2));

  // VMEbus: 330/470 at both ends, Motorola MPMC101.
  it('VMEbus 330/470', () => {
    const { high, ohms } = thevenin(split(5, 330, 470));
    expect(high).toBeCloseTo(2.94, 2);
    expect(ohms).toBeCloseTo(194, 0);
  });

  // IEEE 488: 3 kΩ/6.2 kΩ in every device, drivers 48 mA (from memory); about 3.2 mA low per device: its resistors and
  // an input of the 74 family.
  it('IEEE 488 3 k/6.2 k (from memory)', () => {
    const legs = split(5, 3000, 6200);
    expect(thevenin(legs).high).toBeCloseTo(3.37, 2);
    expect(thevenin(legs).ohms).toBeCloseTo(2022, 0);
    const device = sunkFrom(legs, 0.4) + (familyNamed('74')?.input.low ?? 0);
    expect(device * 1e3).toBeGreaterThan(3);
    expect(device * 1e3).toBeLessThan(3.4);
    expect(15 * 3.2e-3).toBeCloseTo(48e-3);
  });

  // A machine with SCSI terminators and 48 mA drivers says nothing; a third terminator is too much for them.
  it('SCSI as a machine', () => {
    const text = (more: string): string =>
      benchText({
        bus: '3 = BSY',
        rail: '5 V 5 %',
        backplane: `terminate BSY 220 ohm to +5V, 330 ohm to GND before 1\nterminate BSY 220 ohm to +5V, 330 ohm to GND after 4\n${more}`,
        cards: { HOST: 'pulls BSY with 7438', DISK: 'receives BSY with 74LS' },
        fitted: '1 = HOST\n4 = DISK',
      });
    const overloaded = (more: string) =>
      findingsOf(text(more)).filter(
        ({ rule }) => rule === 'line-overloaded' || rule === 'line-over-terminated',
      );
    expect(overloaded('')).toEqual([]);
    const rules = overloaded('terminate BSY 220 ohm to +5V, 330 ohm to GND').map(({ rule }) => rule);
    expect(rules.sort()).toEqual(['line-over-terminated', 'line-overloaded']);
  });
});

describe('pull-up of a wired line', () => {
  // Floyd, Digital Fundamentals, example 15-6: four standard loads, I_OL 30 mA, V_OL 0.4 V, 5 V → 195 Ω.
  it('four standard loads on a 30 mA output', () => {
    const loads = 4 * (familyNamed('74')?.input.low ?? 0);
    const least = leastPullUp(5, { current: 30e-3, voltage: 0.4 }, loads);
    expect(Math.round(least)).toBe(195);
  });

  // R_max = (V_CCmin − V_OH)/(N1·I_OH + N2·I_IH), R_min = (V_CCmax − V_OL)/(I_OL − N3·I_IL): data sheet of the
  // DM74S09, National Semiconductor. Its own limits: 250 µA off, 20 mA at 0.5 V; 74S inputs 50 µA and 2 mA.
  it('three DM74S09 and two 74S inputs', () => {
    const [output, input] = [partNamed('DM74S09')?.output, familyNamed('74S')?.input];
    const [sink] = output?.low ?? [];
    expect(sink).toEqual({ current: 20e-3, voltage: 0.5 });
    const leakage = 3 * (output?.offHigh ?? 0) + 2 * (input?.high ?? 0);
    expect(mostPullUp(4.75, leakage)).toBeCloseTo((4.75 - 2.4) / (3 * 250e-6 + 2 * 50e-6), 6);
    expect(leastPullUp(5.25, sink!, 2 * (input?.low ?? 0))).toBeCloseTo((5.25 - 0.5) / (20e-3 - 2 * 2e-3), 6);
  });

  // The same example of Floyd as a machine: 190 Ω is outside, 200 Ω is not.
  it.each([
    ['190', 1],
    ['200', 0],
  ])('%s ohm in a machine', (ohms, count) => {
    const text = benchText({
      bus: '3 = X wired-or',
      backplane: `pull-up X ${ohms} ohm to +5V after 4`,
      cards: { CPU: 'pulls X with OC30', IO: 'receives X with 4 x 74' },
      fitted: '1 = CPU\n2 = IO',
      more: 'part OC30 {\n  output open-collector off 50 uA\n  sinks 30 mA 0.4 V\n}',
    });
    expect(findingsOf(text).filter(({ rule }) => rule === 'pull-up-out-of-range')).toHaveLength(count);
  });
});

describe('unit loads and fan-out', () => {
  // STD bus: unit load 20 µA / −400 µA (ZT 8832 manual): a 74LS input. A rating of 60 drives 60 cards: 24 mA of a 74LS244.
  it('a rating of 60 drives 60 cards', () => {
    const text = (count: number): string =>
      benchText({
        bus: '3 = A0',
        cards: { CPU: 'drives A0 with 74LS244', CARDS: `receives A0 with ${count} x 74LS` },
        fitted: '1 = CPU\n2 = CARDS',
      });
    const found = (count: number) => findingsOf(text(count)).filter(({ rule }) => rule === 'line-overloaded');
    expect(familyNamed('74LS')?.input).toMatchObject({ low: 400e-6, high: 20e-6 });
    expect(found(60)).toEqual([]);
    expect(found(61)).toHaveLength(1);
  });

  // Fan-out 10 (74 → 74), and a 74 output drives 20 74LS loads by the usual rule (family table of a digital-electronics
  // textbook).
  it.each([
    ['74', 10],
    ['74LS', 20],
  ])('a 74 output drives so many %s loads', (family, most) => {
    const found = (count: number) =>
      findingsOf(
        benchText({
          bus: '3 = X',
          cards: { CPU: 'drives X with 7404', IO: `receives X with ${count} x ${family}` },
          fitted: '1 = CPU\n2 = IO',
        }),
      ).filter(({ rule }) => rule === 'line-overloaded');
    expect(found(most)).toEqual([]);
    expect(found(most + 1)).toHaveLength(1);
  });
});

describe('loaded lines', () => {
  // TI SZZA016B: 51 Ω, 178.5 ps/in, 3.5 pF/in, loads 12 pF/in → ×2.1, 24.2 Ω, 375.6 ps/in, 3.76 ns over 10 in.
  it('SZZA016B', () => {
    const bare = { impedance: 51, delay: 178.5e-12, capacitance: 3.5e-12 };
    const { impedance, delay } = loadedLine(bare, 12e-12);
    expect(delay / bare.delay).toBeCloseTo(2.1, 1);
    expect(impedance).toBeCloseTo(24.2, 1);
    expect(delay * 1e12).toBeCloseTo(375.6, 0);
    expect(delay * 10 * 1e9).toBeCloseTo(3.76, 2);
  });

  // TI SCBA015A: 6 nH/cm, 0.6 pF/cm bare and a 20 pF board every 2 cm → 10.6 pF/cm, about 25 Ω, about 25 ns/m.
  it('SCBA015A', () => {
    const source = { file: '', from: 0, to: 0 };
    const bare = bareLine({ names: [], inductance: 6e-9 * 100, capacitance: 0.6e-12 * 100, source })!;
    expect(bare.impedance).toBeCloseTo(100, 6);
    const { impedance, delay, capacitance } = loadedLine(bare, BOARD_CAPACITANCE / 0.02);
    expect(capacitance * 1e10).toBeCloseTo(10.6, 6);
    expect(impedance).toBeGreaterThan(22);
    expect(impedance).toBeLessThan(28);
    expect(delay * 1e9).toBeCloseTo(25, 0);
  });
});
