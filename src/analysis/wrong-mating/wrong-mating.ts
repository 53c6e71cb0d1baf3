import { keeping } from '../../machine/keep.ts';
import type { Machine } from '../../machine/types.ts';
import { type Bench, benchOf, joinedIn, type Placement } from './bench.ts';
import { type Case, casesOf } from './cases.ts';
import { type Fitting, fittingOf } from './fitting.ts';
import { type Harm, RANKS } from './harms.ts';
import { harmsOf, NOTHING, type Outcome, outcomeOf, worstOf } from './judge.ts';
import { type Plug, socketNodes } from './plugs.ts';
import { type Trace, traceOf } from './traces.ts';
import { keyedInVain } from './vain-keys.ts';
import { isStraight } from './ways.ts';

/** From this rank up a wrong mating is harm. Along a ribbon a strained output counts too: nobody looks at it for years. */
const HARM: Readonly<Record<Plug['kind'], number>> = {
  board: RANKS['rail-on-output'],
  ribbon: RANKS['ground-on-output'],
  cable: RANKS['ground-on-output'],
};

export const isHarmful = ({ plug }: Placement, { rank }: Outcome): boolean => rank <= HARM[plug.kind];

/** All wrong matings of one machine. */
export interface WrongMating {
  readonly plugs: readonly Plug[];
  /** Every wrong way, prevented or not, and what comes of each. */
  readonly cases: () => readonly Case[];
  /** Those that nothing that is said prevents, without boards in slots that are as their own. */
  readonly open: () => readonly Case[];
  readonly outcome: (one: Placement) => Outcome;
  /** All that happens, worst first. */
  readonly harms: (one: Placement) => Harm[];
  /** The first of all that happens. */
  readonly worst: (one: Placement) => Harm | undefined;
  /** Plugs with keys, on either half, that keep nothing out which could go in. */
  readonly keyedInVain: () => readonly Plug[];
  /** Which net each node is on then: a number, the same where two are joined. */
  readonly joined: (one: Placement) => (node: number) => number;
  /** Contact by contact: what nobody can judge, and through what a harm comes about. */
  readonly trace: (one: Placement) => Trace;
}

/** Everything is found when it is asked for: where keys prevent all, nothing is judged. */
export const wrongMatingOf = keeping((machine: Machine): WrongMating => {
  const fitting = fittingOf(machine);
  let bench: Bench | undefined;
  const made = (): Bench => {
    bench ??= benchOf(machine, fitting);
    return bench;
  };
  let all: readonly Case[] | undefined;
  const outcomes = new Map<Placement, Outcome>();
  const outcome = (one: Placement): Outcome => {
    const before = outcomes.get(one);
    if (before) return before;
    const found = isRight(machine, one) ? NOTHING : outcomeOf(made(), one);
    outcomes.set(one, found);
    return found;
  };
  return {
    plugs: fitting.plugs,
    cases: () => {
      all ??= casesOf(fitting, () => true);
      return all;
    },
    open: () => openOf(machine, fitting),
    outcome,
    harms: (one) => harmsOf(made(), one),
    worst: (one) => worstOf(made(), one, outcome(one)),
    keyedInVain: () => keyedInVain(fitting),
    joined: (one) => joinedIn(made(), one),
    trace: (one) => traceOf(made(), one),
  };
});

const opens = new WeakMap<Fitting, { readonly nets: Machine['nets']; readonly open: readonly Case[] }>();

/** The same from version to version as long as nothing is joined otherwise. */
function openOf(machine: Machine, fitting: Fitting): readonly Case[] {
  const before = opens.get(fitting);
  if (before?.nets === machine.nets) return before.open;
  const open = casesOf(fitting, ({ state }) => state !== 'prevented').filter((one) => !isRight(machine, one));
  opens.set(fitting, { nets: machine.nets, open });
  return open;
}

/** Whether every contact meets the line that it is on at home: a board in another slot of its bus. */
function isRight({ nets }: Machine, { meetings, also, way }: Placement): boolean {
  return (
    also === undefined &&
    isStraight(way) &&
    meetings.every(({ part, socket, pairs }) => {
      if (part.edge === undefined) return false;
      const sockets = socketNodes(socket);
      for (let k = 0; k < pairs.length; k += 2) {
        const [a, b] = [part.copper[pairs[k]!]!, sockets[pairs[k + 1]!]!];
        if (a >= 0 && b >= 0 && nets.of[a] !== nets.of[b]) return false;
      }
      return true;
    })
  );
}
