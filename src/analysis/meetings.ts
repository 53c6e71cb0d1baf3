import { type Copper, copperAt } from '../machine/copper.ts';
import { voltsOfName } from '../machine/names.ts';
import type { Claim, Machine, RailSource, Source, SupplyGround, Use } from '../machine/types.ts';
import type { NetIndex, NetView } from './nets.ts';

/** V, signed, at least and at most. */
export interface VoltRange {
  readonly low: number;
  readonly high: number;
}

/** A rail or ground on a net: because a contact is said to be it, or because a supply or regulator gives it there. */
export interface PowerAt {
  readonly kind: 'rail' | 'ground';
  readonly name: string;
  /** Undefined where nothing says the voltage. */
  readonly volts?: VoltRange;
  readonly ac: boolean;
  readonly node: number;
  readonly copper: Copper;
  readonly claim?: Claim;
  readonly from?: RailSource | SupplyGround;
  /** The statement that makes it so. */
  readonly source: Source;
}

/** A signal that a contact of a net is said to be. */
export interface SignalAt {
  readonly claim: Claim;
  readonly node: number;
  readonly copper: Copper;
}

/** A net on which there is a rail or ground, and what else is on it. */
export interface Meeting {
  readonly net: number;
  readonly power: readonly PowerAt[];
  readonly signals: readonly SignalAt[];
  readonly uses: readonly Use[];
}

/** V of ground. */
export const GROUND: VoltRange = { low: 0, high: 0 };

/** V of a rail by what its bus declares, else by any declaration of that name, else as the name is spelled. */
export function voltsOfRail(machine: Machine, name: string, owner?: string): VoltRange | undefined {
  const declared = machine.railNames.rails.get(name) ?? [];
  const own = declared.filter((rail) => rail.owner === owner);
  const which = own.length > 0 ? own : declared;
  if (which.length > 0) {
    return {
      low: Math.min(...which.map(({ low }) => low)),
      high: Math.max(...which.map(({ high }) => high)),
    };
  }
  const spelled = voltsOfName(name);
  return spelled === undefined ? undefined : { low: spelled, high: spelled };
}

/** Whether a rail of this name alternates. */
export const isAlternating = ({ railNames }: Machine, name: string): boolean =>
  railNames.rails.get(name)?.some(({ ac }) => ac) ?? false;

/** How far two voltages may lie apart and still be meant as one (common practice, no source). */
const SAME = 0.05;

/** Whether two ranges have no voltage in common. */
export function differ(a: VoltRange, b: VoltRange): boolean {
  const gap = Math.max(a.low - b.high, b.low - a.high);
  return gap > SAME * Math.max(Math.abs(a.low), Math.abs(a.high), Math.abs(b.low), Math.abs(b.high));
}

const kept = new WeakMap<Machine, readonly Meeting[]>();

/**
 * Every net with a rail or ground on it. Fingers on which a board is known to have no copper do not count: a card made
 * for another bus is harmed, and harms, only where it has some. Linear in the contacts.
 */
export function meetingsOf(machine: Machine, nets: NetIndex): readonly Meeting[] {
  const before = kept.get(machine);
  if (before) return before;
  const grounds = new Map<number, SupplyGround[]>();
  for (const ground of machine.supplyGrounds) {
    const net = machine.nets.of[ground.node]!;
    grounds.set(net, [...(grounds.get(net) ?? []), ground]);
  }
  const meetings: Meeting[] = [];
  for (const view of nets.views) {
    if (view.sources.length === 0 && !view.claims.some(({ claim }) => isPower(claim))) continue;
    meetings.push(meeting(machine, nets, view, grounds.get(view.net) ?? []));
  }
  kept.set(machine, meetings);
  return meetings;
}

const isPower = ({ kind }: Claim): boolean => kind === 'rail' || kind === 'ground';

function meeting(machine: Machine, nets: NetIndex, view: NetView, grounds: readonly SupplyGround[]): Meeting {
  const power: PowerAt[] = [];
  const signals: SignalAt[] = [];
  for (const { claim, node, copper } of withCopper(machine, nets, view)) {
    if (isPower(claim)) {
      const kind = claim.kind as PowerAt['kind'];
      const volts = kind === 'ground' ? GROUND : voltsOfRail(machine, claim.name, claim.owner);
      const { name, source } = claim;
      const ac = isAlternating(machine, name);
      power.push({ kind, name, ac, node, copper, claim, source, ...(volts ? { volts } : {}) });
    } else if (claim.kind === 'signal') signals.push({ claim, node, copper });
  }
  for (const from of view.sources) {
    const { rail: name, low, high, ac, node, source } = from;
    power.push({ kind: 'rail', name, volts: { low, high }, ac, node, copper: 'yes', from, source });
  }
  for (const from of grounds) {
    const { name, node, supply } = from;
    power.push({
      kind: 'ground',
      name,
      volts: GROUND,
      ac: false,
      node,
      copper: 'yes',
      from,
      source: supply.source,
    });
  }
  return { net: view.net, power, signals, uses: view.uses };
}

/** The claims of a net for which there is, or may be, copper, each at the contact where that is surest. */
function withCopper(machine: Machine, nets: NetIndex, view: NetView): SignalAt[] {
  const at = (claim: Claim, node: number): SignalAt => {
    const instance = nets.instanceOf(node);
    return { claim, node, copper: copperAt(instance, node - instance.base) };
  };
  const found = new Map(view.claims.map(({ claim, contact }) => [claim, at(claim, contact)]));
  if ([...found.values()].some(({ copper }) => copper !== 'yes')) {
    const { start, members } = machine.nets;
    for (let i = start[view.net]!; i < start[view.net + 1]!; i++) {
      const node = members[i]!;
      if (node >= machine.contactCount) break;
      const instance = nets.instanceOf(node);
      const claim = instance.pins.claims[node - instance.base];
      const best = claim && found.get(claim);
      if (claim === undefined || best === undefined || best.copper === 'yes') continue;
      const here = at(claim, node);
      if (here.copper === 'yes' || best.copper === 'no') found.set(claim, here);
    }
  }
  return [...found.values()].filter(({ copper }) => copper !== 'no');
}

/** Why two powers should not meet; undefined where they may. */
export type Clash = 'short' | 'reversed' | 'unequal' | 'names' | 'grounds';

/** `names`: equal voltages under two names that nobody declares joined; `grounds`: the same of two grounds. */
export function clashOf(machine: Machine, a: PowerAt, b: PowerAt): Clash | undefined {
  if (a.kind !== b.kind) return 'short';
  if (a.ac !== b.ac) return 'unequal';
  if (a.kind === 'rail' && a.volts && b.volts && differ(a.volts, b.volts)) {
    return a.volts.high < 0 !== b.volts.high < 0 ? 'reversed' : 'unequal';
  }
  // Where a supply's rail is fed to a line of another name, the feed declares them one.
  if (isOneName(machine, a, b) || a.from !== undefined || b.from !== undefined) return undefined;
  return a.kind === 'rail' ? 'names' : 'grounds';
}

function isOneName({ aliases, railNames }: Machine, a: PowerAt, b: PowerAt): boolean {
  if (a.name === b.name || aliases.has(`${a.name}\n${b.name}`)) return true;
  if (a.claim?.aliases.includes(b.name) || b.claim?.aliases.includes(a.name)) return true;
  const [one, other] = [railNames.grounds.get(a.name), railNames.grounds.get(b.name)];
  return a.kind === 'ground' && one !== undefined && one === other;
}

/**
 * Pairs of powers on one net that should not meet: each power against the first one that it clashes with, so that
 * three rails on one net make two pairs.
 */
export function clashes(machine: Machine, { power }: Meeting): { a: PowerAt; b: PowerAt; clash: Clash }[] {
  if (power.length < 2) return [];
  const groups = new Map<string, PowerAt>();
  for (const one of power) {
    const { kind, name, volts, from } = one;
    const key = `${kind} ${name} ${volts?.low} ${volts?.high} ${from === undefined}`;
    const best = groups.get(key);
    if (best === undefined || (best.copper !== 'yes' && one.copper === 'yes')) groups.set(key, one);
  }
  const distinct = [...groups.values()];
  const pairs: { a: PowerAt; b: PowerAt; clash: Clash }[] = [];
  for (let i = 1; i < distinct.length; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [distinct[j]!, distinct[i]!];
      const clash = clashOf(machine, a, b);
      if (clash === undefined) continue;
      pairs.push({ a, b, clash });
      break;
    }
  }
  return pairs;
}

const clashing = new WeakMap<Machine, ReadonlySet<number>>();

/** Nets on which a rail meets another one or ground: what else is odd there has that cause. */
export function clashingNets(machine: Machine, nets: NetIndex): ReadonlySet<number> {
  const before = clashing.get(machine);
  if (before) return before;
  const found = new Set<number>();
  for (const one of meetingsOf(machine, nets)) {
    if (clashes(machine, one).some(({ clash }) => clash !== 'names' && clash !== 'grounds'))
      found.add(one.net);
  }
  clashing.set(machine, found);
  return found;
}
