import { isGroundName, voltsOfName } from '../machine/names.ts';
import type { Biasing, Machine, Rail } from '../machine/types.ts';

/** A resistor between a line and a rail: ohm, and the V of that rail at least and at most. */
export interface Leg {
  readonly ohms: number;
  readonly low: number;
  readonly high: number;
}

/** A terminator or pull-up in its place. `legs` is undefined where the voltage of a rail or a value is not known. */
export interface Network {
  readonly biasing: Biasing;
  readonly legs?: readonly Leg[];
}

/** What one resistor to one voltage would do in place of all legs: V at least and at most, ohm. */
interface Thevenin {
  readonly low: number;
  readonly high: number;
  readonly ohms: number;
}

/**
 * Up to this many ohm a network is a terminator, above it is a pull-up that holds a line but absorbs no reflection
 * (common practice, no source).
 */
export const TERMINATOR_OHMS = 400;

export function thevenin(legs: readonly Leg[]): Thevenin {
  const ohms = 1 / legs.reduce((sum, leg) => sum + 1 / leg.ohms, 0);
  const volts = (end: 'low' | 'high'): number =>
    ohms * legs.reduce((sum, leg) => sum + leg[end] / leg.ohms, 0);
  return { low: volts('low'), high: volts('high'), ohms };
}

/** A that the legs push into a driver which holds the line at this V, their rails at the highest. */
export const sunkFrom = (legs: readonly Leg[], volts: number): number =>
  legs.reduce((sum, leg) => sum + (leg.high - volts) / leg.ohms, 0);

/** A that the legs give to a line at this V, their rails at the lowest; negative where they draw. */
export const givenBy = (legs: readonly Leg[], volts: number): number =>
  legs.reduce((sum, leg) => sum + (leg.low - volts) / leg.ohms, 0);

/** Whether it holds the line up: at least one leg goes to a rail above ground. */
export const pullsUp = ({ biasing, legs }: Network): boolean =>
  legs === undefined ? biasing.bias.word !== 'pull-down' : legs.some((leg) => leg.high > 0);

export const isTerminator = ({ legs }: Network): boolean =>
  legs !== undefined && thevenin(legs).ohms <= TERMINATOR_OHMS;

export function networkOf(machine: Machine, biasing: Biasing): Network {
  const legs: Leg[] = [];
  for (const { ohms, rail } of biasing.bias.legs) {
    const volts = voltsAt(machine, biasing, rail);
    if (volts === undefined || !(ohms > 0)) return { biasing };
    legs.push({ ohms, ...volts });
  }
  return legs.length > 0 ? { biasing, legs } : { biasing };
}

/** V of the rail that a leg goes to: what the board makes itself, else what feeds its backplane, else by the name. */
function voltsAt(
  machine: Machine,
  { board, backplane }: Biasing,
  rail: string,
): Pick<Leg, 'low' | 'high'> | undefined {
  const { grounds, rails } = machine.railNames;
  if (grounds.has(rail) || isGroundName(rail)) return { low: 0, high: 0 };
  const made = board?.card.makes.find((make) => make.rail === rail);
  const madeVolts = made && (made.volts ?? voltsOfName(rail));
  if (madeVolts !== undefined) return { low: madeVolts, high: madeVolts };
  const place = backplane ?? board?.slot?.backplane;
  const supply = place?.feeds.find((feed) => feed.rail === rail)?.supply;
  const fed = supply?.rails.find((one) => one.name === rail);
  const declared = fed ? [fed] : (rails.get(rail) ?? []);
  if (declared.length > 0) return withTolerance(declared);
  const spelled = voltsOfName(rail);
  return spelled === undefined ? undefined : { low: spelled, high: spelled };
}

function withTolerance(rails: readonly Rail[]): Pick<Leg, 'low' | 'high'> {
  return {
    low: Math.min(...rails.map(({ low, tolerance = 0 }) => low - Math.abs(low) * tolerance)),
    high: Math.max(...rails.map(({ high, tolerance = 0 }) => high + Math.abs(high) * tolerance)),
  };
}
