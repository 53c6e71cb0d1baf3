import type { Meeting, PowerAt, SignalAt, VoltRange } from '../analysis/meetings.ts';
import type { Border } from '../analysis/paths.ts';
import { copperAt } from '../machine/copper.ts';
import { voltsOfName } from '../machine/names.ts';
import type { JoinKind, Machine, Ribbon, Source } from '../machine/types.ts';
import { placeOf, spokenAmount, spokenEvidence } from './explain.ts';
import type { Finding, View } from './types.ts';

/** `5 V`, `7 V to 11 V`. */
export function spokenVolts({ low, high }: VoltRange): string {
  return low === high ? spokenAmount(low, 'V') : `${spokenAmount(low, 'V')} to ${spokenAmount(high, 'V')}`;
}

/** The name of a rail, with its volts where the name does not say them. */
export function spokenRail({ kind, name, volts, ac }: PowerAt): string {
  const told = kind === 'ground' || volts === undefined;
  if (ac && volts) return `${name} (${spokenVolts(volts)} a.c.)`;
  return told || (volts.low === volts.high && volts.low === voltsOfName(name))
    ? name
    : `${name} (${spokenVolts(volts)})`;
}

/** `+5V at CAGE.1.3 (meter)`, `+5V of PSU`. */
export function spokenPower(view: View, power: PowerAt): string {
  const { from, claim, node } = power;
  if (claim) return `${spokenRail(power)} at ${placeOf(view, node)} (${spokenEvidence(claim.evidence)})`;
  if (from && 'supply' in from) return `${spokenRail(power)} of ${from.supply.name}`;
  const regulator = from?.kind === 'regulator' ? `a regulator on ${from.owner}` : (from?.owner ?? '');
  return `${spokenRail(power)} of ${regulator}`;
}

/** Kinds of join that a statement of its own makes: where it is wrong, that statement is. */
const SAID: ReadonlySet<JoinKind> = new Set([
  'wire',
  'strap',
  'bridge',
  'reading',
  'feed',
  'ribbon',
  'cable',
]);

/** The statement by which two neighbours are joined, and the ribbon or cable where it is one. */
export interface Cause {
  readonly kind: JoinKind;
  readonly source: Source;
  readonly cable?: string;
}

/** Undefined where the two are joined by what they are said to be, not by a statement of its own. */
export function joinedBy({ machine }: View, { joins }: Border): Cause | undefined {
  for (const join of joins) {
    const { kind, source } = machine.joins.causes[machine.joins.cause[join]!]!;
    if (!SAID.has(kind)) continue;
    if (kind === 'cable') return { kind, source, cable: keyOf(source) };
    // Both ends of a ribbon are one ribbon: whichever the way passes first.
    const ribbon = kind === 'ribbon' ? ribbonOf(machine, joins) : undefined;
    return ribbon ? { kind, source, cable: ribbon.name } : { kind, source };
  }
  return undefined;
}

/** Whether nothing but a ribbon or cable lies between two contacts: what it joins wrongly, ribbon-crossed tells. */
export const isAlongCable = ({ machine }: View, { joins }: Border): boolean =>
  joins.length > 0 &&
  joins.every((join) => ['ribbon', 'cable'].includes(machine.joins.causes[machine.joins.cause[join]!]!.kind));

function ribbonOf(machine: Machine, joins: readonly number[]): Ribbon | undefined {
  for (const join of joins) {
    for (const node of [machine.joins.from[join]!, machine.joins.to[join]!]) {
      const found = machine.ribbons.find(({ base, conductors }) => node >= base && node < base + conductors);
      if (found) return found;
    }
  }
  return undefined;
}

/** One key for all that has the same cause. */
export const keyOfCause = (cause: Cause | undefined, source: Source, meeting: readonly Source[]): string =>
  cause?.cable ?? [...meeting, source].map(keyOf).sort().join(' ');

/** Every contact of a net whose claim counts: on which there is, or may be, copper. */
export function* claimsAt({ machine, nets }: View, net: number): Iterable<SignalAt> {
  const { start, members } = machine.nets;
  for (let i = start[net]!; i < start[net + 1]!; i++) {
    const node = members[i]!;
    if (node >= machine.contactCount) return;
    const instance = nets.instanceOf(node);
    const claim = instance.pins.claims[node - instance.base];
    const copper = copperAt(instance, node - instance.base);
    if (claim && copper !== 'no') yield { claim, node, copper };
  }
}

/** Each power of a net by the nodes that are it: every contact whose claim counts, and what supplies and regulators give. */
export function powerNodes(view: View, { net, power }: Meeting): Map<number, PowerAt> {
  const byClaim = new Map(power.flatMap((one) => (one.claim ? [[one.claim, one] as const] : [])));
  const nodes = new Map<number, PowerAt>();
  for (const { claim, node, copper } of claimsAt(view, net)) {
    const one = byClaim.get(claim);
    if (one) nodes.set(node, { ...one, node, copper });
  }
  for (const one of power) if (one.from) nodes.set(one.node, one);
  return nodes;
}

/** Findings that say one thing of many nets, told once: the first, made at the end, with how many more there are. */
export class Told {
  private readonly found = new Map<string, { finding: () => Finding; nets: Set<number>; what: string }>();

  add(key: string, net: number, what: string, finding: () => Finding): void {
    const before = this.found.get(key);
    if (before) before.nets.add(net);
    else this.found.set(key, { finding, nets: new Set([net]), what });
  }

  *all(): Iterable<Finding> {
    for (const { finding, nets, what } of this.found.values()) {
      const one = finding();
      yield { ...one, message: one.message + more(nets.size - 1, what) };
    }
  }
}

export const keyOf = ({ file, from }: Source): string => `${file}:${from}`;

/** `; the same on 3 more` for what a finding stands for besides itself. */
export const more = (count: number, what: string): string =>
  count === 0 ? '' : `; the same on ${count} more ${what}${count === 1 ? '' : 's'}`;
