import type { Backplane, Board, Claim, Machine } from '../machine/types.ts';
import { differ, voltsOfRail } from './meetings.ts';
import { sourcesAt } from './rails.ts';
import { boardsInPlay, type Want, wantsOf } from './wants.ts';

/** A rail or ground line of a bus in one backplane. */
export interface BusRail {
  readonly backplane: Backplane;
  readonly claim: Claim;
  /** The first of its contacts. */
  readonly contact: number;
  readonly nets: ReadonlySet<number>;
  /** Whether any supply or regulator is on any stretch of it. */
  readonly fed: boolean;
  /** Boards that take it. */
  readonly takers: number;
}

const kept = new WeakMap<Machine['flow'], readonly BusRail[]>();

/** The rails and grounds of every backplane's buses, by name. Linear in the contacts. */
export function busRailsOf(machine: Machine): readonly BusRail[] {
  const before = kept.get(machine.flow);
  if (before) return before;
  const takers = takersByNet(machine);
  const rails: BusRail[] = [];
  for (const backplane of machine.backplanes) {
    for (const { claim, contacts } of lines(backplane).values()) {
      const nets = new Map<number, number>();
      for (const contact of contacts) nets.set(machine.nets.of[contact]!, contact);
      const volts = voltsOfRail(machine, claim.name, claim.owner);
      const taking = new Set<Board>();
      for (const net of nets.keys()) {
        for (const want of takers.get(net) ?? []) {
          // A board that means another rail there has another fault.
          if (!want.volts || !volts || !differ(want.volts, volts)) taking.add(want.board);
        }
      }
      const fed = [...nets.values()].some((contact) => sourcesAt(machine, contact).length > 0);
      rails.push({
        backplane,
        claim,
        contact: contacts[0]!,
        nets: new Set(nets.keys()),
        fed,
        takers: taking.size,
      });
    }
  }
  kept.set(machine.flow, rails);
  return rails;
}

function takersByNet(machine: Machine): Map<number, Want[]> {
  const takers = new Map<number, Want[]>();
  const wants = wantsOf(machine);
  for (const board of boardsInPlay(machine)) {
    for (const want of wants.get(board) ?? []) {
      if (want.node === undefined) continue;
      const net = machine.nets.of[want.node]!;
      const list = takers.get(net);
      if (list) list.push(want);
      else takers.set(net, [want]);
    }
  }
  return takers;
}

interface RailLine {
  readonly claim: Claim;
  readonly contacts: number[];
}

function lines(backplane: Backplane): Map<string, RailLine> {
  const found = new Map<string, RailLine>();
  // Slots share their claims.
  const ofClaim = new Map<Claim, RailLine>();
  const lineOf = (claim: Claim): RailLine => {
    const key = `${claim.owner}\n${claim.name}`;
    const line = found.get(key) ?? { claim, contacts: [] };
    found.set(key, line);
    ofClaim.set(claim, line);
    return line;
  };
  for (const { instances } of backplane.slots) {
    for (const { pins, base } of instances) {
      pins.claims.forEach((claim, i) => {
        if (claim?.kind !== 'rail' && claim?.kind !== 'ground') return;
        (ofClaim.get(claim) ?? lineOf(claim)).contacts.push(base + i);
      });
    }
  }
  return found;
}
