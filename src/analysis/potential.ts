import { voltsOfName } from '../machine/names.ts';
import type { Machine, RailSource } from '../machine/types.ts';
import type { NetIndex } from './nets.ts';
import { knownRegulator } from './parts.ts';
import { magnitudesOf, ratingOf, sourcesAt } from './rails.ts';

/** What a meter's lead meets at a place: a rail or ground. */
export interface Potential {
  readonly kind: 'rail' | 'ground';
  readonly name: string;
  /** V, signed, as stated: at least and at most. Ground: 0. */
  readonly low: number;
  readonly high: number;
  /** Fraction either way that its maker allows, 0 where not said; V that it may stand at unloaded. */
  readonly tolerance: number;
  readonly peak?: number;
  /** Whether a supply or regulator is on the net. */
  readonly fed: boolean;
  /** A that the strongest source of the net is rated for; undefined where nobody says. */
  readonly rated?: number;
}

/**
 * The rail or ground that a place is on. Undefined where it is neither, where it is both or of either sign (that is
 * another rule's finding), where its volts are not said, and on rails of alternating current.
 */
export function potentialAt(machine: Machine, nets: NetIndex, node: number): Potential | undefined {
  const { claims } = nets.at(node);
  const net = machine.nets.of[node]!;
  const sources = sourcesAt(machine, node);
  const ground =
    claims.find(({ claim }) => claim.kind === 'ground')?.claim.name ??
    machine.supplyGrounds.find((one) => machine.nets.of[one.node] === net)?.name;
  const rails = claims.filter(({ claim }) => claim.kind === 'rail').map(({ claim }) => claim.name);
  // Where two rails are one copper, a place is called what its own contact is said to be.
  const own = ownName(machine, nets, node);
  if (own !== undefined && rails.includes(own)) rails.unshift(own);
  if (ground !== undefined) {
    if (rails.length > 0 || sources.length > 0) return undefined;
    return { kind: 'ground', name: ground, low: 0, high: 0, tolerance: 0, fed: false };
  }
  const potential = sources.length > 0 ? ofSources(machine, sources, own) : ofName(machine, rails[0]);
  const volts = rails.map((name) => voltsOfName(name) ?? potential?.low ?? 0);
  if (potential === undefined || volts.some((one) => one * potential.low < 0)) return undefined;
  return potential;
}

function ownName({ contactCount }: Machine, nets: NetIndex, node: number): string | undefined {
  if (node >= contactCount) return undefined;
  const { pins, base } = nets.instanceOf(node);
  return pins.claims[node - base]?.name;
}

function ofSources(machine: Machine, sources: readonly RailSource[], own?: string): Potential | undefined {
  const [first] = sources;
  if (first === undefined || sources.some(({ ac }) => ac)) return undefined;
  const low = Math.min(...sources.map((source) => source.low));
  const high = Math.max(...sources.map((source) => source.high));
  if (low * high <= 0) return undefined;
  const ratings = sources.map((source) => ratingOfSource(machine, source)).filter((one) => one !== undefined);
  const peak = sources.find(({ declared }) => declared?.peak !== undefined)?.declared?.peak;
  return {
    kind: 'rail',
    name: (sources.find(({ rail }) => rail === own) ?? first).rail,
    fed: true,
    low,
    high,
    tolerance: Math.max(...sources.map(({ declared }) => declared?.tolerance ?? 0)),
    ...(peak === undefined ? {} : { peak }),
    ...(ratings.length === 0 ? {} : { rated: Math.max(...ratings) }),
  };
}

function ratingOfSource(machine: Machine, { declared, make }: RailSource): number | undefined {
  if (declared) return declared.max;
  const part = make?.part === undefined ? undefined : knownRegulator(machine, make.part);
  return make && ratingOf(make, part?.current);
}

function ofName(machine: Machine, name: string | undefined): Potential | undefined {
  if (name === undefined) return undefined;
  const declared = machine.railNames.rails.get(name)?.[0];
  if (declared?.ac) return undefined;
  const spelled = voltsOfName(name);
  const [low, high] = declared ? [declared.low, declared.high] : [spelled, spelled];
  if (low === undefined || high === undefined || low * high <= 0) return undefined;
  const { tolerance = 0, peak } = declared ?? {};
  // A board on the shelf will hang on the supply's rail of that name.
  const ratings = (machine.railNames.rails.get(name) ?? []).flatMap(({ max }) => max ?? []);
  return {
    kind: 'rail',
    name,
    fed: false,
    low,
    high,
    tolerance,
    ...(peak === undefined ? {} : { peak }),
    ...(ratings.length === 0 ? {} : { rated: Math.max(...ratings) }),
  };
}

/** Fraction by which a rail that works may lie off what is stated (common practice, no source). */
const SLACK = 0.1;

/** Whether so many V are none, for a rail of this size. */
export const isDead = ({ low }: Potential, volts: number): boolean => Math.abs(volts) < Math.abs(low) * SLACK;

/** Whether so many V, signed, are what a rail may stand at: ±10 %, or its own tolerance where that is more. */
export function standsAt(rail: Potential, volts: number): boolean {
  const { sign, least, most } = magnitudesOf({ ...rail, tolerance: Math.max(SLACK, rail.tolerance) });
  return volts * sign >= least && volts * sign <= Math.max(most, Math.abs(rail.peak ?? 0));
}
