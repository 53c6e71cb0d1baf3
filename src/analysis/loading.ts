import type { LogicOutput, OutputPoint } from '../knowledge/types.ts';
import { givenBy, type Leg, sunkFrom } from './bias.ts';
import type { Driver, Line } from './line.ts';

/**
 * DC loading of a line. Low: what the driver must sink, inputs and off outputs of all others, terminators and pull-ups.
 * High: what it must give, less what terminators and pull-ups give.
 */

/** V up to which a family's rated low level counts: 0.3 V of noise margin to V_IL 0.8 V. */
export const LOW_LIMIT = 0.5;
/** V from which a rated high level counts: 0.4 V of noise margin to V_IH 2.0 V. */
export const HIGH_LIMIT = 2.4;
/** V_IH of TTL inputs. */
export const HIGH_THRESHOLD = 2.0;

/** What a driver must carry at the point of its curve that suits it best. */
export interface Duty {
  readonly level: 'low' | 'high';
  readonly driver: Driver;
  readonly point: OutputPoint;
  /** A that it must sink (low) or give (high). */
  readonly demand: number;
  /** demand ÷ the point's current; above 1 it is overloaded. */
  readonly ratio: number;
  /** A point with less noise margin that would carry it, where it is overloaded. */
  readonly relief?: OutputPoint;
}

/** Rounding must not make an overload of a fan-out used to its last load. */
const EXACT = 1 + 1e-6;

export const exceeds = ({ ratio }: Duty): boolean => ratio > EXACT;

/** The legs of all terminators and pull-ups whose values are known. */
export const legsOf = ({ networks }: Line): readonly Leg[] => networks.flatMap(({ legs }) => legs ?? []);

/**
 * The low and the high level of every driver whose curve is known; of drivers that are alike and follow each other, the
 * first speaks for all. `legs` are the resistors that count.
 */
export function dutiesOf(line: Line, legs: readonly Leg[]): Duty[] {
  const { total } = line;
  const duties: Duty[] = [];
  let before: Driver | undefined;
  for (const driver of line.drivers) {
    if (before !== undefined && areAlike(before, driver)) continue;
    before = driver;
    const { output } = driver;
    if (output === undefined || isBelowGround(output)) continue;
    const high =
      driver.kind === 'open-collector'
        ? undefined
        : giving(
            driver,
            output.high,
            (volts) => total.high - (driver.draw?.high ?? 0) - givenBy(legs, volts),
          );
    const low = sinkOf(line, driver, legs);
    for (const one of [low, high]) if (one) duties.push(one);
  }
  return duties;
}

/** The low level of a driver; undefined where its curve is not known. `legs` are the resistors that count. */
export function sinkOf({ total }: Line, driver: Driver, legs: readonly Leg[]): Duty | undefined {
  const { output, draw } = driver;
  if (output === undefined || isBelowGround(output)) return undefined;
  const others = total.low - (draw?.low ?? 0);
  return sinking(driver, output.low, (volts) => others + sunkFrom(legs, volts));
}

/** Below ground the inputs' figures do not hold: not a logic line. */
const isBelowGround = ({ low }: LogicOutput): boolean => low.some(({ voltage }) => voltage < 0);

/** Whether two drivers must carry the same and are rated the same. */
const areAlike = (a: Driver, b: Driver): boolean =>
  a.output === b.output && a.kind === b.kind && a.draw?.low === b.draw?.low && a.draw?.high === b.draw?.high;

type DemandAt = (volts: number) => number;

/** The points of a sink that count: up to the limit; a part rated only beyond it (64 mA at 0.55 V) has its first. */
export function sinkPoints(points: readonly OutputPoint[]): readonly OutputPoint[] {
  const strict = points.filter(({ voltage }) => voltage <= LOW_LIMIT);
  return strict.length > 0 ? strict : points.slice(0, 1);
}

function sinking(driver: Driver, points: readonly OutputPoint[], demandAt: DemandAt): Duty | undefined {
  const strict = sinkPoints(points);
  const best = easiest(driver, 'low', strict, ({ voltage }) => demandAt(voltage));
  if (best === undefined || !exceeds(best)) return best;
  const relief = points.find(
    (point) => !strict.includes(point) && demandAt(point.voltage) <= point.current * EXACT,
  );
  return relief ? { ...best, relief } : best;
}

/** An output that gives I at no less than V gives at least I below V: what counts is the level the line needs. */
function giving(driver: Driver, points: readonly OutputPoint[], demandAt: DemandAt): Duty | undefined {
  const strict = points.filter(({ voltage }) => voltage >= HIGH_LIMIT);
  const eligible = strict.length > 0 ? strict : points.slice(0, 1);
  const best = easiest(driver, 'high', eligible, ({ voltage }) => demandAt(Math.min(voltage, HIGH_LIMIT)));
  if (best === undefined || !exceeds(best)) return best;
  const relief = points.find(
    ({ current, voltage }) => voltage >= HIGH_THRESHOLD && demandAt(HIGH_THRESHOLD) <= current * EXACT,
  );
  return relief ? { ...best, relief } : best;
}

function easiest(
  driver: Driver,
  level: Duty['level'],
  points: readonly OutputPoint[],
  demandOf: (point: OutputPoint) => number,
): Duty | undefined {
  let best: Duty | undefined;
  for (const point of points) {
    const demand = demandOf(point);
    const ratio = demand / point.current;
    if (best === undefined || ratio < best.ratio) best = { level, driver, point, demand, ratio };
  }
  return best;
}

/** The driver that is worst off at a level. */
export function worst(duties: readonly Duty[], level: Duty['level']): Duty | undefined {
  let found: Duty | undefined;
  for (const one of duties) if (one.level === level && (!found || one.ratio > found.ratio)) found = one;
  return found;
}

/*
 * Limits of the pull-up of a wired line, after National Semiconductor's data sheet of the DM74S09:
 * R_max = (V_CCmin − V_OH) ÷ (N1·I_OH + N2·I_IH), R_min = (V_CCmax − V_OL) ÷ (I_OL − N3·I_IL).
 */

/** Ohm, at least: `inputs` is N3·I_IL in A. Infinite where the inputs alone are more than the output sinks. */
export function leastPullUp(railHigh: number, sink: OutputPoint, inputs: number): number {
  const left = sink.current - inputs;
  return left > 0 ? (railHigh - sink.voltage) / left : Number.POSITIVE_INFINITY;
}

/** Ohm, at most: `leakage` is N1·I_OH + N2·I_IH in A. Infinite where nothing leaks. */
export function mostPullUp(railLow: number, leakage: number, high = HIGH_LIMIT): number {
  return leakage > 0 ? (railLow - high) / leakage : Number.POSITIVE_INFINITY;
}

/** Whether the line is driven by open collectors only and held by nothing but resistors to rails above ground. */
export function isPulledUp(line: Line): boolean {
  const { drivers, networks } = line;
  if (drivers.length === 0 || networks.length === 0) return false;
  return (
    drivers.every(({ kind }) => kind === 'open-collector') &&
    networks.every(({ legs }) => legs?.every((leg) => leg.low > 0))
  );
}
