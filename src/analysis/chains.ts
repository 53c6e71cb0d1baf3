import { isAbsent } from '../machine/copper.ts';
import { keeping } from '../machine/keep.ts';
import { matingEdge } from '../machine/mating.ts';
import type {
  Backplane,
  Board,
  Card,
  CardUse,
  Chain,
  Claim,
  Instance,
  Machine,
  Slot,
} from '../machine/types.ts';
import type { NetIndex } from './nets.ts';

/** What happens to a chain at a slot. `ends`: a board hears it and hands nothing on; `stops`: nobody takes it up. */
export type Doing = 'starts' | 'passes' | 'ends' | 'stops' | 'unsaid';

/** A chain at one slot. */
export interface ChainStop {
  readonly slot: Slot;
  readonly instance: Instance;
  readonly doing: Doing;
  /** Whether copper joins the slot's in contact with its out contact: a bridge, a wire, a self-bridging slot. */
  readonly bridged: boolean;
  /** Whether its in contact is joined to the out of the slot before: not where the trace is cut. */
  readonly linked: boolean;
  /** Whether the slot's in contact is fed by something that is not the chain: a wire from a line, a rail. */
  readonly fed: boolean;
  /** What the board says, where it says something. */
  readonly use?: CardUse;
}

/** Whether the chain leads on behind a slot that it comes to. */
export const handsOn = ({ bridged, doing }: ChainStop): boolean =>
  bridged || doing === 'passes' || doing === 'starts';

/** A chain through the slots of one backplane, in their order. */
export interface ChainRun {
  readonly backplane: Backplane;
  readonly chain: Chain;
  readonly stops: readonly ChainStop[];
}

/** Slots that the chain comes to, and does not leave, while one behind waits for it or may do so. */
export function deadEndsOf({ stops }: ChainRun): ReadonlySet<ChainStop> {
  const found = new Set<ChainStop>();
  let live = false;
  let open: ChainStop[] = [];
  for (const stop of stops) {
    const { linked, fed, doing, use } = stop;
    if (!linked) [live, open] = [false, []];
    if (fed) [live, open] = [true, []];
    if (doing === 'passes' || doing === 'ends' || doing === 'unsaid') for (const one of open) found.add(one);
    // A board that would start the chain, or pass it on, and has its finger cut off.
    const failed = doing === 'stops' && use !== undefined && use.kind !== 'untouched';
    if (doing === 'starts') [live, open] = [true, []];
    else if ((live || failed) && !handsOn(stop)) open.push(stop);
  }
  return found;
}

const kept = new WeakMap<Machine, readonly ChainRun[]>();

/** Every daisy chain of the machine. Linear in the slots and chains. */
export function chainRunsOf(machine: Machine, nets: NetIndex): readonly ChainRun[] {
  const before = kept.get(machine);
  if (before) return before;
  const runs: ChainRun[] = [];
  for (const backplane of machine.backplanes) {
    for (const { place, bus } of backplane.buses) {
      const instances = backplane.slots.flatMap((slot) => {
        const found = slot.instances.find(
          ({ port }) => port.bus === bus && (place === '' || port.name === place),
        );
        return found ? [found] : [];
      });
      for (const chain of bus.chains) {
        const stops = instances.map((instance, i) =>
          stopAt(machine, nets, instance, chain, instances[i - 1]),
        );
        if (stops.length > 0) runs.push({ backplane, chain, stops });
      }
    }
  }
  kept.set(machine, runs);
  return runs;
}

function stopAt(
  machine: Machine,
  nets: NetIndex,
  instance: Instance,
  chain: Chain,
  before: Instance | undefined,
): ChainStop {
  const slot = instance.slot as Slot;
  const { of } = machine.nets;
  const input = instance.base + chain.input;
  return {
    slot,
    instance,
    ...doingAt(slot, instance, chain),
    bridged: of[input] === of[instance.base + chain.output],
    linked: before !== undefined && of[before.base + chain.output] === of[input],
    fed: isFed(machine, nets, input, chain, before === undefined),
  };
}

function doingAt(slot: Slot, instance: Instance, chain: Chain): { doing: Doing; use?: CardUse } {
  if (slot.state === 'unsaid') return { doing: 'unsaid' };
  const edge = matingEdge(slot.board?.instances ?? [], instance);
  if (edge === undefined) return { doing: 'stops' };
  const board = slot.board as Board;
  const said = doingOf(board, edge, chain);
  const [deaf, mute] = [isSevered(board, edge, chain.input), isSevered(board, edge, chain.output)];
  // With a finger cut off, what its chips do with the chain ends on the board.
  if (said.doing === 'starts') return mute ? { ...said, doing: 'stops' } : said;
  if (said.doing === 'passes' || said.doing === 'ends')
    return deaf ? { ...said, doing: 'stops' } : mute ? { ...said, doing: 'ends' } : said;
  return said;
}

/** Whether a finger is missing, or cut off from its board without a wire that joins it to something again. */
function isSevered({ card, rework }: Board, { pins, port }: Instance, contact: number): boolean {
  if (isAbsent(pins, contact)) return true;
  const place = `${port.name}.${pins.connector.labels[contact]}`;
  const kinds = [...card.rework, ...rework].filter(({ places }) => places.some((one) => one.place === place));
  return kinds.some(({ kind }) => kind === 'cut') && kinds.every(({ kind }) => kind === 'cut');
}

const usesByName = keeping((uses: Card['uses']): ReadonlyMap<string, readonly CardUse[]> => {
  const map = new Map<string, CardUse[]>();
  for (const use of uses) {
    const list = map.get(use.name);
    if (list) list.push(use);
    else map.set(use.name, [use]);
  }
  return map;
});

/** What a board does, by what its card says of the chain's names or of its own names for the two fingers. */
function doingOf({ card }: Board, edge: Instance, chain: Chain): { doing: Doing; use?: CardUse } {
  const own = (contact: number): string => edge.pins.claims[contact]?.name ?? '';
  const inside = new Set([chain.name, ...chain.claim.aliases, own(chain.input)]);
  const outside = new Set([chain.outName, own(chain.output)]);
  const said = (names: ReadonlySet<string>): CardUse[] =>
    [...names]
      .flatMap((name) => usesByName(card.uses).get(name) ?? [])
      .filter(({ at }) => at === undefined || at === edge.port.name);
  const all = said(new Set([...inside, ...outside]));
  const told = (doing: Doing, use: CardUse): { doing: Doing; use: CardUse } => ({ doing, use });
  const passes = all.find(({ kind }) => kind === 'passes' || kind === 'transceives');
  const starts = all.find(({ kind }) => kind === 'starts');
  const hears = said(inside).find(({ kind }) => kind === 'receives');
  const drives = said(outside).find(({ kind }) => kind === 'drives' || kind === 'pulls');
  if (starts) return told('starts', starts);
  if (passes) return told('passes', passes);
  if (hears) return told(drives ? 'passes' : 'ends', hears);
  if (drives) return told('starts', drives);
  const untouched = all.find(({ kind }) => kind === 'untouched');
  if (untouched) return told('stops', untouched);
  return { doing: card.closed ? 'stops' : 'unsaid' };
}

/** Whether something besides the chain itself is on the net of an in contact. */
function isFed(machine: Machine, nets: NetIndex, input: number, chain: Chain, first: boolean): boolean {
  const { start, members, of } = machine.nets;
  const net = of[input]!;
  // A resistor on every in contact is the chain's rest level; on the first one it is what starts it.
  if (first && nets.of(net).biasings.length > 0) return true;
  for (let i = start[net]!; i < start[net + 1]!; i++) {
    const node = members[i]!;
    if (node >= machine.contactCount) continue;
    const instance = nets.instanceOf(node);
    const contact = node - instance.base;
    const claim = instance.pins.claims[contact];
    if (claim !== undefined && isSource(claim) && !isOfChain(instance, contact, chain)) return true;
  }
  return nets.of(net).sources.length > 0;
}

const isSource = ({ kind }: Claim): boolean => kind === 'signal' || kind === 'rail' || kind === 'ground';

function isOfChain({ kind }: Instance, contact: number, { input, output }: Chain): boolean {
  return (kind === 'slot' || kind === 'edge') && (contact === input || contact === output);
}
