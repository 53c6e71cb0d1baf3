import type { Driver, Line } from '../analysis/line.ts';
import { leastPullUp, mostPullUp, sinkPoints } from '../analysis/loading.ts';
import type { OutputPoint } from '../knowledge/types.ts';

/** The driver of a wired line that wants the largest pull-up. */
export interface Sink {
  readonly driver: Driver;
  readonly point: OutputPoint;
  /** A that the inputs of the others push into it. */
  readonly inputs: number;
  /** Ohm, at least. */
  readonly least: number;
}

export function weakestSink(line: Line, railHigh: number): Sink | undefined {
  let weakest: Sink | undefined;
  for (const driver of line.drivers) {
    const inputs = line.total.low - (driver.draw?.low ?? 0);
    let best: Sink | undefined;
    for (const point of sinkPoints(driver.output?.low ?? [])) {
      const least = leastPullUp(railHigh, point, inputs);
      if (best === undefined || least < best.least) best = { driver, point, inputs, least };
    }
    if (best && (weakest === undefined || best.least > weakest.least)) weakest = best;
  }
  return weakest;
}

/** Ohm between which a pull-up to a rail of these V would do, and what sets the limits. */
export interface Window {
  readonly least: number;
  readonly most: number;
  readonly leakage: number;
  readonly weakest?: Sink;
}

export function windowOf(line: Line, railLow: number, railHigh: number): Window {
  const leakage = line.total.high;
  const weakest = weakestSink(line, railHigh);
  const limits = { least: weakest?.least ?? 0, most: mostPullUp(railLow, leakage), leakage };
  return weakest ? { ...limits, weakest } : limits;
}

/** What is usual for open collectors on a bus, ohm (common practice, no source). */
const USUAL = 1000;
/** Values that are made: the twelve of a decade (IEC 60063). */
const E12 = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2];

/** A value that is made and lies within all windows, nearest to the usual one; undefined where there is none. */
export function valueWithin(windows: readonly Pick<Window, 'least' | 'most'>[]): number | undefined {
  const least = Math.max(...windows.map((one) => one.least));
  const most = Math.min(...windows.map((one) => one.most));
  const made = [10, 100, 1000, 10_000].flatMap((decade) => E12.map((one) => one * decade));
  const distance = (ohms: number): number => Math.abs(Math.log(ohms / USUAL));
  return made.filter((ohms) => ohms >= least && ohms <= most).sort((a, b) => distance(a) - distance(b))[0];
}
