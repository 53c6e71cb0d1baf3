import type { Machine } from '../../machine/types.ts';
import { type Assembly, bitOf, GROUND, LIVE, PUSHES_BOTH, RAIL, SUFFERS, UNKNOWN } from './assembly.ts';
import { type Bench, type Placement, restFor } from './bench.ts';
import type { Groups } from './groups.ts';
import { HARMLESS, type Harm, isUnknownPin, livesMeet, meetsOf, RANKS } from './harms.ts';
import { outputsMayMeet, outputsMeet, type Tell } from './outputs.ts';
import type { Content, Live } from './pieces.ts';
import { socketNodes } from './plugs.ts';
import { type Stakes, signOf } from './stakes.ts';
import { isStraight } from './ways.ts';

/** What comes of it. */
export interface Outcome {
  /** Of the worst that happens, as in `RANKS`; `HARMLESS` where nothing does. */
  readonly rank: number;
  /**
   * How many meetings nobody can judge, because what one of the two is nobody knows. Where the rank is 1, at least so many:
   * no more was looked for.
   */
  readonly unknown: number;
}

/** Only how bad it is. */
export const outcomeOf = (bench: Bench, placement: Placement): Outcome => judge(bench, placement);

/** All that happens, worst first; each thing once, by its first two contacts. */
export function harmsOf(bench: Bench, placement: Placement): Harm[] {
  const found = new Map<string, Harm>();
  const tell = (harm: Harm): void => {
    const key = keyOf(harm);
    if (!found.has(key)) found.set(key, harm);
  };
  judge(bench, placement, { tell, least: HARMLESS });
  return [...found.values()].sort((a, b) => RANKS[a.kind] - RANKS[b.kind]);
}

/**
 * The first of `harmsOf` of a placement with this outcome, without the work that finding all and telling them apart is: in a skewed board hundreds of thousands of
 * pairs of outputs fight.
 */
export function worstOf(bench: Bench, placement: Placement, { rank }: Outcome): Harm | undefined {
  let worst: Harm | undefined;
  const tell = (harm: Harm): void => {
    if (worst === undefined || RANKS[harm.kind] < RANKS[worst.kind]) worst = harm;
  };
  judge(bench, placement, { tell, least: rank });
  return worst;
}

function keyOf({ kind, power, other, wish, uses = [], board, part, volts }: Harm): string {
  const who = [power, other].map((one) => (one ? `${one.name} ${one.owner}` : '')).sort();
  const done = uses.map(({ board: its, card }) => `${its.name} ${card.kind} ${card.name} ${card.part}`);
  return [
    kind,
    ...who,
    wish && `${wish.board.name} ${wish.name}`,
    ...done.sort(),
    board?.name,
    part,
    volts,
  ].join('\n');
}

/** Who wants to be told what happens, and down to which rank it is looked for; of lesser harm some is told too. */
interface Asked {
  readonly tell: Tell;
  readonly least: number;
}

function judge(bench: Bench, placement: Placement, asked?: Asked): Outcome {
  const { groups } = bench;
  const tell = asked?.tell;
  const { assembly, lacking } = restFor(bench, placement);
  const { bits, idle } = assembly;
  if (tell === undefined && diesAtOnce(bench, assembly, placement)) return { rank: WORST, unknown: 0 };
  const unknown = joinNets(bench, assembly, placement);
  const roots = groups.close(bits);
  const woken = idle.length > 0 ? wake(bench, assembly) : [];
  if (unknown === RIGHT) return { rank: judgeStakes(groups, assembly, lacking, tell), unknown: 0 };
  const strains = placement.plug.kind !== 'board';
  const look: Look = { bench, assembly, woken, strains, tell };
  let rank = HARMLESS;
  let doubts = unknown;
  for (const root of roots) {
    if (!(groups.bitsAt(root, bits) & LIVE)) continue;
    const found = powerMeets(look, root);
    if (found.rank < rank) rank = found.rank;
    doubts += found.unknown;
    if (rank === WORST && tell === undefined) return { rank, unknown: doubts };
  }
  rank = Math.min(rank, judgeStakes(groups, assembly, lacking, tell));
  for (const root of roots) {
    if (asked ? asked.least < RANKS['outputs-fight'] : rank <= RANKS['outputs-fight']) break;
    if (groups.bitsAt(root, bits) & PUSHES_BOTH && outputsMeet(bench, assembly, root, tell))
      rank = Math.min(rank, RANKS['outputs-fight']);
    else if (strains && outputsMayMeet(bench, assembly, root)) doubts++;
  }
  return { rank, unknown: doubts };
}

/** Nothing happens. */
export const NOTHING: Outcome = { rank: HARMLESS, unknown: 0 };

/** Nothing is worse: what else happens need not be known to judge. */
const WORST = 1;

/** All that is joined belongs together. What is not joined may still be missed: a rail without its ground. */
const RIGHT = -1;

/** Whether a rail does the worst there is to what it meets directly: then nothing else need be looked at. */
function diesAtOnce(bench: Bench, assembly: Assembly, { meetings }: Placement): boolean {
  const { of } = bench.pieces;
  const { net, bits } = assembly;
  for (const { part, socket, pairs } of meetings) {
    const { copper } = part;
    const nodes = socketNodes(socket);
    for (let k = 0; k < pairs.length; k += 2) {
      const a = copper[pairs[k]!]!;
      const b = nodes[pairs[k + 1]!]!;
      if (a < 0 || b < 0) continue;
      const x = net[of[a]!]!;
      const y = net[of[b]!]!;
      if (
        (bits[x]! & RAIL && kills(bench, assembly, x, y)) ||
        (bits[y]! & RAIL && kills(bench, assembly, y, x))
      )
        return true;
    }
  }
  return false;
}

function kills(bench: Bench, { bits, lives, next }: Assembly, from: number, to: number): boolean {
  const { machine, whole } = bench;
  if (whole.net[from] === whole.net[to] || !(bits[to]! & (SUFFERS | LIVE))) return false;
  for (const live of lives.get(from)!) {
    if (live.kind === 'ground') continue;
    for (const other of lives.get(to) ?? NONE) {
      const meet = livesMeet(machine, live, other);
      if (meet !== undefined && RANKS[meet.kind] === WORST) return true;
    }
    // Whether a board's ground stands on it shows only once all is joined.
    const known = askedOf(bench, live, true);
    for (let piece = to; piece >= 0; piece = next[piece]!)
      if ((ask(bench, known, live, piece, true) & ~DOUBT) === WORST) return true;
  }
  return false;
}

/** Joins the nets whose contacts meet; how many of these meetings nobody can judge, or that all of them are right. */
function joinNets(
  { groups, whole, pieces: { of } }: Bench,
  { net, bits }: Assembly,
  { meetings, way }: Placement,
): number {
  let unknown = 0;
  let wrong = 0;
  groups.begin();
  for (const { part, socket, pairs } of meetings) {
    const { copper } = part;
    const nodes = socketNodes(socket);
    const own = isStraight(way) ? part.home?.pins.claims : undefined;
    for (let k = 0; k < pairs.length; k += 2) {
      const a = copper[pairs[k]!]!;
      const b = nodes[pairs[k + 1]!]!;
      if (a < 0 || b < 0) continue;
      const x = net[of[a]!]!;
      const y = net[of[b]!]!;
      if (x === y) continue;
      const isWrong = whole.net[x] !== whole.net[y];
      groups.unite(x, y, a, b, isWrong);
      if (isWrong) wrong++;
      const one = bits[x]!;
      const other = bits[y]!;
      if (!((one | other) & UNKNOWN) || one === 0 || other === 0) continue;
      // What is unknown at home too is no news in a slot like it.
      const at = pairs[k + 1]!;
      if (own === undefined || own[pairs[k]!] !== socket.pins.claims[at]) unknown++;
    }
  }
  return wrong === 0 ? RIGHT : unknown;
}

/** Regulators that come to life in a placement, because a rail of their sign meets their input. */
function wake({ groups }: Bench, { idle, net, bits }: Assembly): Live[] {
  const woken: Live[] = [];
  for (let before = -1; before !== woken.length; ) {
    before = woken.length;
    for (const live of idle) {
      if (woken.includes(live) || !(groups.bitsAt(net[live.input!]!, bits) & bitOf(live))) continue;
      woken.push(live);
      groups.add(net[live.piece]!, bits, bitOf(live));
    }
  }
  return woken;
}

/** What is looked at in one placement. */
interface Look {
  readonly bench: Bench;
  readonly assembly: Assembly;
  readonly woken: readonly Live[];
  /** Whether an output that ground strains counts: along ribbons and cables. */
  readonly strains: boolean;
  readonly tell: Tell | undefined;
}

/** What all that is live on one group does on its other nets. */
function powerMeets(look: Look, root: number): Outcome {
  const { bench, assembly, woken, tell } = look;
  const { groups } = bench;
  let rank = HARMLESS;
  let unknown = 0;
  for (let one = root; one >= 0; one = groups.after(one)) {
    for (const live of livesOn(assembly, woken, one)) {
      const found = meetAll(look, live, root, one);
      if (found.rank < rank) rank = found.rank;
      unknown += found.unknown;
      if (rank === WORST && tell === undefined) return { rank, unknown };
    }
  }
  return { rank, unknown };
}

/** What is live on a net. The output of a regulator that nothing feeds is not. */
function livesOn({ bits, lives, net }: Assembly, woken: readonly Live[], one: number): readonly Live[] {
  const its = bits[one]! & LIVE ? lives.get(one)! : NONE;
  if (woken.length === 0) return its;
  const also = woken.filter(({ piece }) => net[piece] === one);
  return also.length === 0 ? its : [...its, ...also];
}

const NONE: readonly Live[] = [];

/** What one live rail or ground does on all other nets of its group. */
function meetAll(look: Look, live: Live, root: number, own: number): Outcome {
  const { bench, assembly, woken, tell } = look;
  const counts = live.kind === 'rail' || look.strains;
  const { machine, groups, whole, pieces } = bench;
  const { bits, next } = assembly;
  const shorted = (groups.bitsAt(root, bits) & GROUND) > 0;
  const known = askedOf(bench, live, shorted);
  // Nets that all plugs in their places join too do each other nothing new.
  const kin = whole.net[own]!;
  let rank = HARMLESS;
  let unknown = 0;
  for (let one = root; one >= 0; one = groups.after(one)) {
    if (one === own || whole.net[one] === kin) continue;
    const contacts = tell && groups.via(one === root ? own : one);
    for (const other of livesOn(assembly, woken, one)) {
      const meet = livesMeet(machine, live, other);
      if (meet === undefined) continue;
      rank = Math.min(rank, RANKS[meet.kind]);
      if (contacts) tell({ ...meet, contacts });
      else if (rank === WORST) return { rank, unknown };
    }
    if (!(bits[one]! & SUFFERS)) continue;
    for (let piece = one; piece >= 0; piece = next[piece]!) {
      const found = ask(bench, known, live, piece, shorted);
      if (found & DOUBT && counts) unknown++;
      if (found === WORST && tell === undefined) return { rank: WORST, unknown };
      if ((found & ~DOUBT) < rank) rank = found & ~DOUBT;
      if (contacts && (found & ~DOUBT) < HARMLESS)
        for (const meet of meetsOf(machine, live, pieces.content[piece]!, shorted))
          tell({ ...meet, contacts });
    }
  }
  return { rank, unknown };
}

const DOUBT = 16;

function askedOf({ asked, pieces }: Bench, live: Live, shorted: boolean): Uint8Array {
  let known = asked.get(live);
  if (known === undefined) {
    known = { alone: new Uint8Array(pieces.count), shorted: new Uint8Array(pieces.count) };
    asked.set(live, known);
  }
  return shorted ? known.shorted : known.alone;
}

/** What a live rail or ground does to a piece at worst, as `asked` keeps it. */
function ask(
  { machine, pieces }: Bench,
  known: Uint8Array,
  live: Live,
  piece: number,
  shorted: boolean,
): number {
  const before = known[piece]!;
  if (before !== 0) return before;
  const content = pieces.content[piece];
  const found = content === undefined ? HARMLESS : asking(machine, live, content, shorted);
  known[piece] = found;
  return found;
}

function asking(machine: Machine, live: Live, content: Content, shorted: boolean): number {
  let rank = HARMLESS;
  for (const { kind } of meetsOf(machine, live, content, shorted)) rank = Math.min(rank, RANKS[kind]);
  const doubt = content.uses.some((use) => isUnknownPin(machine, live, use));
  return doubt ? rank | DOUBT : rank;
}

/** What boards lose: their ground, or a bias. */
function judgeStakes(
  groups: Groups,
  { net, bits }: Assembly,
  { groundings, biases }: Stakes,
  tell: Tell | undefined,
): number {
  const at = (piece: number): number => groups.bitsAt(net[piece]!, bits);
  let rank = HARMLESS;
  for (const { board, grounds, pieces } of groundings) {
    // Where it stands on a rail instead, that is told already.
    if (grounds.some((one) => at(one) & LIVE) || !pieces.some((one) => at(one) & RAIL)) continue;
    rank = Math.min(rank, RANKS['ground-lost']);
    tell?.({ kind: 'ground-lost', board, contacts: NOWHERE });
  }
  for (const { board, part, chips, volts, bias, others } of biases) {
    if (at(bias) & signOf(volts) || !others.some((one) => at(one.piece) & signOf(one.volts))) continue;
    rank = Math.min(rank, RANKS['bias-lost']);
    tell?.({ kind: 'bias-lost', board, part, chips, volts, contacts: NOWHERE });
  }
  return rank;
}

const NOWHERE = [-1, -1] as const;
