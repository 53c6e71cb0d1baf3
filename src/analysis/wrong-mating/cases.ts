import type { Placement } from './bench.ts';
import { crimpCases, exchangedEnds } from './ends.ts';
import { type Fitting, type Guarded, isMadeFor, movesOf, type Setting } from './fitting.ts';
import type { Verdict } from './guards.ts';
import type { Mate, Plug } from './plugs.ts';
import { isStraight, type Way } from './ways.ts';

/** What somebody did wrong. */
type Fault =
  | 'turned'
  | 'shifted'
  | 'over'
  | 'wrong place'
  /** Both ends of a cable, each where the other belongs. */
  | 'exchanged'
  | 'crimped turned'
  | 'crimped over';

/** A wrong way to plug something in, and whether anything keeps it from happening. */
export interface Case extends Placement {
  readonly fault: Fault;
  readonly verdict: Verdict;
}

/** The wrong ways to plug in what a machine is made of, of those with such a verdict. Electrically nothing is judged yet. */
export function casesOf(fitting: Fitting, isMeant: (verdict: Verdict) => boolean): Case[] {
  const { plugs, settings } = fitting;
  return [
    ...settings.flatMap((setting) =>
      casesAt(
        setting,
        movesOf(setting).filter(({ verdict }) => isMeant(verdict)),
      ),
    ),
    ...[...exchangedEnds(fitting), ...plugs.flatMap((plug) => crimpCases(plugs, plug))].filter(
      ({ verdict }) => isMeant(verdict),
    ),
  ];
}

function casesAt({ plug, place, mates, isHome }: Setting, moves: readonly Guarded[]): Case[] {
  const isRight = isHome || (plug.out && plug.kind === 'board' && isMadeFor(mates));
  const cases: Case[] = [];
  for (const { way, pairs, verdict } of moves) {
    if (isStraight(way) ? isRight : plug.rigid && way.turned) continue;
    const meetings = mates.map(({ part, socket }, i) => ({ part, socket, pairs: pairs[i]! }));
    cases.push({ plug, place, way, meetings, fault: faultOf(plug, isHome, mates, way), verdict });
  }
  return cases;
}

function faultOf(plug: Plug, isHome: boolean, mates: readonly Mate[], way: Way): Fault {
  if (plug.kind !== 'board') {
    if (!isHome) return 'wrong place';
    return way.turned ? 'turned' : 'over';
  }
  if (isStraight(way) || !isMadeFor(mates)) return 'wrong place';
  return way.turned ? 'turned' : 'shifted';
}
