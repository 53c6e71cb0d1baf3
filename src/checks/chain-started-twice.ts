import { type ChainRun, type ChainStop, chainRunsOf } from '../analysis/chains.ts';
import type { NetView } from '../analysis/nets.ts';
import { partiesOf } from '../analysis/parties.ts';
import { outputKind } from '../analysis/parts.ts';
import type { Board, Use } from '../machine/types.ts';
import { passingInstead } from './chain-edits.ts';
import { edit, withEdits } from './edits.ts';
import { placeOf, stepAt } from './explain.ts';
import { agree, spokenList, spokenNames } from './lists.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** Two boards that start one chain, or two that drive one clock. */
export const chainStartedTwice: Rule = {
  id: 'chain-started-twice',
  severity: 'error',
  summary: 'two boards start one daisy chain, or drive one clock',
  *check(view) {
    const byBoards = new Map<string, ChainRun[]>();
    for (const run of chainRunsOf(view.machine, view.nets)) {
      const slots = startsOf(run).map(({ slot }) => slot.label);
      if (slots.length < 2) continue;
      const key = [run.backplane.name, ...slots].join('\n');
      byBoards.set(key, [...(byBoards.get(key) ?? []), run]);
    }
    for (const runs of byBoards.values()) yield twoStarts(view, runs);
    for (const net of view.nets.views) {
      if (!net.claims.some(({ claim }) => claim.clock)) continue;
      const clocks = clocksOf(view, net);
      if (clocks.size > 1) yield twoClocks(view, net, clocks);
    }
  },
};

const startsOf = ({ stops }: ChainRun): ChainStop[] => stops.filter(({ doing }) => doing === 'starts');

function twoStarts(view: View, runs: readonly ChainRun[]): Finding {
  const { chain, backplane } = runs[0]!;
  const starts = startsOf(runs[0]!);
  const names = spokenNames(runs.map((run) => run.chain.name));
  const boards = starts.map(({ slot }) => (slot.board as Board).name);
  const where = starts.map(({ slot }) => `${slot.board?.name} in ${backplane.name}.${slot.label}`);
  const { slot } = starts[1]!;
  return {
    rule: 'chain-started-twice',
    severity: 'error',
    message: `${names} ${agree(runs.length, 'is', 'are')} started by ${spokenList(where)}: two arbiters grant at the same time`,
    source: slot.source,
    path: starts.map(({ instance, use }) =>
      stepAt(view, instance.base + chain.output, use?.source ?? chain.claim.source),
    ),
    fix: `let one board start ${names}, and set the other to pass it on`,
    // What starts first has nothing before it to pass on.
    ...withEdits(
      starts.length > 2
        ? []
        : passingInstead(
            view,
            runs.map((run) => run.chain.name),
            starts[1]!,
          ),
    ),
    about: [...new Set(runs.flatMap((run) => [run.chain.name, run.chain.outName])), ...boards],
  };
}

/** The boards that drive a clock with more than an open collector, each with one such use. */
function clocksOf({ machine }: View, { uses, claims }: NetView): Map<Board, Use> {
  const clocks = new Map<Board, Use>();
  const wired = claims.some(({ claim }) => claim.wiredOr);
  for (const use of uses) {
    if (use.card.kind !== 'drives') continue;
    const kind = outputKind(machine, use.card) ?? (wired ? 'open-collector' : undefined);
    if (kind !== 'open-collector') clocks.set(use.board, use);
  }
  return clocks;
}

function twoClocks(view: View, net: NetView, clocks: ReadonlyMap<Board, Use>): Finding {
  const name = net.claims.find(({ claim }) => claim.clock)!.claim.name;
  const parties = partiesOf(view.machine, view.nets, net);
  const contacts = [...clocks].map(([board, use]) => parties.boards.get(board) ?? use.node);
  const boards = [...clocks.keys()].map((board) => board.name);
  const where = boards.map((board, i) => `${board} at ${placeOf(view, contacts[i]!)}`);
  const second = [...clocks.values()][1]!;
  return {
    rule: 'chain-started-twice',
    severity: 'error',
    message: `the clock ${name} is driven by ${spokenList(where)}: two clocks on one line`,
    source: second.card === [...clocks.values()][0]!.card ? second.board.source : second.card.source,
    path: contacts.map((contact) => stepAt(view, contact, second.card.source)),
    fix: `let one board give ${name}: most cards have a jumper or a socket for it`,
    ...withEdits(hearing(view, name, [...clocks.values()])),
    about: [name, ...boards],
  };
}

/** One of two boards that drive a clock said to hear it, the later first. */
function hearing({ machine }: View, name: string, uses: readonly Use[]): Edit[] {
  const [one, other] = uses.map(({ board }) => board.card);
  if (uses.length !== 2 || one === other) return [];
  return [...uses].reverse().flatMap(({ board: { card }, card: use }) => {
    if (use.name !== name || machine.boards.filter((board) => board.card === card).length > 1) return [];
    return [
      edit(
        `let ${card.name} hear ${name} instead of driving it`,
        { kind: 'list', source: use.source, from: [name], to: [] },
        { kind: 'add', line: `receives ${name}`, into: card.source },
      ),
    ];
  });
}
