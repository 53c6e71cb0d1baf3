import { type BusRail, busRailsOf } from '../analysis/bus-rails.ts';
import { nodeOnBoard } from '../analysis/rails.ts';
import { boardsInPlay, isFed, wantsOf } from '../analysis/wants.ts';
import type { Backplane, Machine, RailSource } from '../machine/types.ts';
import { stepAt } from './explain.ts';
import type { Rule } from './types.ts';

/** A supply's rail that nothing takes, where enough is said to know. */
export const railUnused: Rule = {
  id: 'rail-unused',
  severity: 'note',
  summary: 'a rail of a supply that nothing takes',
  *check(view) {
    const { machine } = view;
    const used = usedNets(machine);
    const waiting = waitedFor(machine);
    for (const source of machine.railSources) {
      if (source.kind !== 'supply' || used.has(machine.nets.of[source.node]!)) continue;
      if (waiting.has(source.rail)) continue;
      const { rail, owner, source: at } = source;
      yield {
        rule: 'rail-unused',
        severity: 'note',
        message: `nothing takes ${rail} of ${owner}${idle(source)}`,
        source: at,
        path: [stepAt(view, source.node, at)],
        fix: 'find out where it goes, or cap its lead; where it is known to be free, `allow` it with the reason',
        about: [rail, owner],
      };
    }
  },
};

const idle = ({ declared }: RailSource): string =>
  declared?.min ? ', though it wants a load to stay in regulation' : '';

/** Rails that boards wait for in vain: that these are not taken from the supply is what rail-missing tells. */
function waitedFor(machine: Machine): Set<string> {
  const names = new Set<string>();
  const wants = wantsOf(machine);
  for (const board of boardsInPlay(machine)) {
    for (const want of wants.get(board) ?? []) if (want.rail && !isFed(machine, want)) names.add(want.rail);
  }
  return names;
}

/** Nets that something takes, or may take: where a slot or board is not described, nobody can tell. */
function usedNets(machine: Machine): Set<number> {
  const { of } = machine.nets;
  const used = new Set<number>();
  for (const wants of wantsOf(machine).values()) {
    for (const { node } of wants) if (node !== undefined) used.add(of[node]!);
  }
  const rails = byBackplane(machine);
  const given = new Map(machine.railSources.map(({ owner, rail, node }) => [`${owner}\n${rail}`, node]));
  for (const { bias, board, backplane } of machine.biasings) {
    for (const { rail } of bias.legs) {
      const node = board && nodeOnBoard(machine, board, rail);
      if (node !== undefined) used.add(of[node]!);
      for (const { claim, nets } of (backplane && rails.get(backplane)) ?? []) {
        if (claim.name === rail || claim.aliases.includes(rail)) for (const net of nets) used.add(net);
      }
      const feed = backplane?.feeds.find((one) => one.rail === rail);
      const source = feed && given.get(`${feed.supply.name}\n${rail}`);
      if (source !== undefined) used.add(of[source]!);
    }
  }
  for (const [backplane, its] of rails) {
    if (!isDescribed(backplane)) for (const { nets } of its) for (const net of nets) used.add(net);
  }
  for (const { ends, base, conductors } of machine.ribbons) {
    if (base < 0 || ends.every(({ instance }) => instance !== undefined)) continue;
    for (let k = 0; k < conductors; k++) used.add(of[base + k]!);
  }
  return used;
}

function byBackplane(machine: Machine): Map<Backplane, BusRail[]> {
  const rails = new Map<Backplane, BusRail[]>();
  for (const rail of busRailsOf(machine)) {
    const list = rails.get(rail.backplane);
    if (list) list.push(rail);
    else rails.set(rail.backplane, [rail]);
  }
  return rails;
}

/** Whether it is said of every slot what sits in it, and of every board what it takes. */
const isDescribed = ({ slots }: Backplane): boolean =>
  slots.every(
    ({ state, board }) => state !== 'unsaid' && (!board || board.card.takes.length > 0 || board.card.closed),
  );
