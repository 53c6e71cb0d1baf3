import { type ChainRun, type ChainStop, chainRunsOf, handsOn } from '../analysis/chains.ts';
import type { Board, Slot } from '../machine/types.ts';
import { bridging, handingOn, starting } from './chain-edits.ts';
import { withEdits } from './edits.ts';
import { stepAt } from './explain.ts';
import { agree, spokenList, spokenNames } from './lists.ts';
import type { Edit, Finding, Rule, Step, View } from './types.ts';

/** Neighbouring slots at which chains end for one reason, before boards that need them. */
interface Break {
  readonly stops: ChainStop[];
  readonly runs: ChainRun[];
  /** Slots behind it, before the first board that is cut off, at which the chains would end as well. */
  readonly also: Set<Slot>;
  /** Stops that the chains do not reach. */
  readonly cut: Set<Slot>;
}

/** A daisy chain that ends before the last board that needs it. */
export const chainBroken: Rule = {
  id: 'chain-broken',
  severity: 'error',
  summary: 'a daisy chain ends before the last board that needs it',
  *check(view) {
    const breaks = new Map<string, Break>();
    const orphans = new Map<string, Break>();
    for (const run of chainRunsOf(view.machine, view.nets)) walk(run, breaks, orphans);
    for (const one of breaks.values()) yield broken(view, one);
    for (const one of orphans.values()) yield unstarted(view, one);
  },
};

const needsIt = ({ doing }: ChainStop): boolean => doing === 'passes' || doing === 'ends';

/** Follows a chain from slot to slot and remembers where it ends too early. One break in several chains is one. */
function walk(run: ChainRun, breaks: Map<string, Break>, orphans: Map<string, Break>): void {
  let live = false;
  let open: ChainStop[] = [];
  const lost: ChainStop[] = [];
  const ends = new Map<ChainStop, ChainStop[]>();
  for (const stop of run.stops) {
    if (!stop.linked) [live, open] = [false, []];
    if (stop.fed) [live, open] = [true, []];
    if (needsIt(stop)) {
      if (!live) lost.push(stop);
      for (const one of open) ends.get(one)!.push(stop);
    }
    if (stop.doing === 'starts') [live, open] = [true, []];
    else if (live && !handsOn(stop)) {
      open.push(stop);
      ends.set(stop, []);
    }
  }
  const early = [...ends].filter(([, cut]) => cut.length > 0);
  for (const { stops, cut, also } of causes(inRuns(early))) gather(breaks, run, stops, cut, also);
  if (lost.length > 0) gather(orphans, run, lost, lost);
}

/** Neighbouring slots that are empty, or of which nothing is said, are one break; a board is one by itself. */
function inRuns(early: readonly [ChainStop, ChainStop[]][]): [ChainStop[], ChainStop[]][] {
  const list: [ChainStop[], ChainStop[]][] = [];
  for (const [stop, cut] of early) {
    const last = list.at(-1);
    const before = last?.[0].at(-1);
    const same =
      before !== undefined &&
      before.slot.index === stop.slot.index - 1 &&
      before.slot.state === stop.slot.state &&
      stop.slot.state !== 'fitted';
    if (last && same) last[0].push(stop);
    else list.push([[stop], cut]);
  }
  return list;
}

/** Breaks that cut the same boards off are told once, at the first that is sure; the others are named with it. */
function causes(
  list: readonly [ChainStop[], ChainStop[]][],
): { stops: ChainStop[]; cut: ChainStop[]; also: ChainStop[] }[] {
  const groups = new Map<ChainStop, [ChainStop[], ChainStop[]][]>();
  for (const one of list) {
    const beyond = one[1][0]!;
    groups.set(beyond, [...(groups.get(beyond) ?? []), one]);
  }
  return [...groups.values()].map((group) => {
    const [stops, cut] = group.find(([[first]]) => first!.doing !== 'unsaid') ?? group[0]!;
    return { stops, cut, also: group.flatMap(([others]) => (others === stops ? [] : others)) };
  });
}

function gather(
  into: Map<string, Break>,
  run: ChainRun,
  stops: ChainStop[],
  cut: readonly ChainStop[],
  also: readonly ChainStop[] = [],
): void {
  const key = [run.backplane.name, stops[0]!.doing, ...stops.map(({ slot }) => slot.label)].join('\n');
  const one = into.get(key) ?? { stops, runs: [], also: new Set(), cut: new Set() };
  into.set(key, one);
  one.runs.push(run);
  for (const { slot } of cut) one.cut.add(slot);
  for (const { slot } of also) one.also.add(slot);
}

const pathOf = (slot: Slot): string => `${slot.backplane.name}.${slot.label}`;
const boardsOf = (slots: Iterable<Slot>): string =>
  spokenList([...slots].map((slot) => `${(slot.board as Board).name} in slot ${slot.label}`));
const chainNames = (runs: readonly ChainRun[]): string => spokenNames(runs.map(({ chain }) => chain.name));

/** `CAGE.4 is empty without a bridge from 14 to 15`. */
function reasonOf({ stops, runs }: Break): string {
  const [{ slot, doing, instance }] = stops as [ChainStop, ...ChainStop[]];
  const where = spokenList(stops.map((stop) => pathOf(stop.slot)));
  const { labels } = instance.pins.connector;
  const { chain } = runs[0]!;
  const bridge = runs.length === 1 ? ` from ${labels[chain.input]} to ${labels[chain.output]}` : '';
  if (slot.state === 'unsaid') return `nothing is said of ${where}`;
  if (slot.state === 'empty')
    return `${where} ${agree(stops.length, 'is', 'are')} empty without a bridge${bridge}`;
  const board = (slot.board as Board).name;
  if (doing === 'unsaid') return `${board} in ${where} does not say whether it passes it`;
  if (doing === 'ends') return `${board} in ${where} takes it and does not pass it on`;
  return `${board} in ${where} does not pass it`;
}

function broken(view: View, one: Break): Finding {
  const { stops, runs, cut } = one;
  const [first] = stops as [ChainStop, ...ChainStop[]];
  const names = chainNames(runs);
  const asked = first.doing === 'unsaid';
  const reaches = agree(runs.length, 'reaches', 'reach');
  const also = one.also.size > 0 ? `; look at ${spokenList([...one.also].map(pathOf))} too` : '';
  return {
    rule: 'chain-broken',
    severity: asked ? 'question' : 'error',
    message: asked
      ? `whether ${names} ${reaches} ${boardsOf(cut)} is not said: ${reasonOf(one)}${also}`
      : `${names} never ${reaches} ${boardsOf(cut)}: ${reasonOf(one)}${also}`,
    source: first.slot.source,
    path: stepsOf(view, one),
    fix: fixOf(one, names),
    ...withEdits(editsOf(view, one)),
    about: aboutOf(one),
  };
}

function editsOf(view: View, { stops, runs, also }: Break): Edit[] {
  const [first] = stops as [ChainStop, ...ChainStop[]];
  const names = [...new Set(runs.map(({ chain }) => chain.name))];
  const slots = [...stops.map(({ slot }) => slot), ...also];
  if (first.slot.state === 'fitted')
    return also.size > 0 ? [] : [...handingOn(view, first, names), ...bridging([first.slot], names)];
  // What else ends the chain on the way must go with it.
  return slots.some(({ state }) => state === 'fitted') ? [] : bridging(slots, names);
}

function fixOf({ stops, runs }: Break, names: string): string {
  const [{ slot, doing }] = stops as [ChainStop, ...ChainStop[]];
  if (slot.state === 'unsaid') return 'look what sits in the slot, and whether its bridge is fitted';
  if (slot.state === 'empty') {
    const bridge = [...new Set(runs.map(({ chain }) => chain.name))].join(', ');
    return `fit the bridge, or move the boards up; a bridge that is there is said with \`bridge ${bridge}\``;
  }
  const board = (slot.board as Board).name;
  if (doing === 'unsaid')
    return `find whether ${board} hands ${names} on, and say \`passes\`, or \`untouched rest\``;
  const said = [...new Set(runs.map(({ chain }) => chain.name))].join(', ');
  return `if ${board} does hand it on, say \`passes ${said}\` on its card; if not, move it behind the last board that needs ${names}, or bridge its slot`;
}

/** A chain that boards need and that starts nowhere before them. */
function unstarted(view: View, one: Break): Finding {
  const { stops, runs, cut } = one;
  const [first] = stops as [ChainStop, ...ChainStop[]];
  const names = chainNames(runs);
  const later = runs[0]!.stops.find(({ doing, fed }) => doing === 'starts' || fed);
  const cutAt = cutBefore(runs[0]!, first);
  const asked = cutAt === undefined && runs.some((run) => mayStart(run, first));
  const it = agree(runs.length, 'it', 'them');
  const why = cutAt
    ? `the trace to slot ${cutAt.slot.label} is cut, and nobody starts ${it} behind the cut`
    : later
      ? `${agree(runs.length, 'it starts', 'they start')} only at ${pathOf(later.slot)}, and a chain runs from slot to slot in their order`
      : asked
        ? 'nobody is said to start it, and not all that comes before is said'
        : `nobody starts ${it}`;
  return {
    rule: 'chain-broken',
    severity: asked ? 'question' : 'error',
    message: `${names} never ${agree(runs.length, 'reaches', 'reach')} ${boardsOf(cut)}: ${why}`,
    source: first.use?.source ?? first.slot.source,
    path: stepsOf(view, one),
    fix: cutAt
      ? 'join the trace again, or move the boards to the near side of the cut'
      : later
        ? `move the board that starts ${names} before the first board that needs it`
        : `find the board, wire or strap that starts ${names}, and say it with \`starts\` or \`wire\``,
    ...withEdits(cutAt || later ? [] : starting(view, runs, first)),
    about: aboutOf(one),
  };
}

/** The last slot, up to this one, to which the trace of the chain is cut. */
function cutBefore({ stops }: ChainRun, until: ChainStop): ChainStop | undefined {
  const before = stops.slice(1, stops.indexOf(until) + 1);
  return before.findLast(({ linked }) => !linked);
}

/** Whether something before the first board that needs the chain, or that board itself, may start it unsaid. */
function mayStart({ stops }: ChainRun, first: ChainStop): boolean {
  for (const { slot, doing } of stops) {
    if (doing === 'unsaid') return true;
    if (slot === first.slot) return slot.board?.card.closed !== true;
  }
  return false;
}

/** In and out of the break, then the first board that is cut off. */
function stepsOf(view: View, { stops, runs, cut }: Break): Step[] {
  const { chain, stops: all } = runs[0]!;
  const [next] = [...cut].filter((slot) => slot !== stops[0]!.slot);
  const beyond = all.find(({ slot }) => slot === next);
  const nodes = stops.flatMap(({ instance }) => [instance.base + chain.input, instance.base + chain.output]);
  if (beyond) nodes.push(beyond.instance.base + chain.input);
  return nodes.map((node) => stepAt(view, node, chain.claim.source));
}

function aboutOf({ stops, runs, also, cut }: Break): string[] {
  const slots = [...stops.map(({ slot }) => slot), ...also];
  const boards = [...slots, ...cut].flatMap(({ board }) => (board ? [board.name] : []));
  const names = runs.flatMap(({ chain }) => [chain.name, chain.outName]);
  return [...new Set([...names, ...slots.map(pathOf), ...boards])];
}
