import { busRailsOf } from '../analysis/bus-rails.ts';
import { sourcesAt } from '../analysis/rails.ts';
import { boardsInPlay, gives, type Want, wantsOf } from '../analysis/wants.ts';
import { isGroundName } from '../machine/names.ts';
import type { Board, Machine, RailSource, Supply } from '../machine/types.ts';
import { asTheBus, sayingIs } from './claim-edits.ts';
import { edit, withEdits } from './edits.ts';
import { placeOf, stepAt, stepsBetween } from './explain.ts';
import { feeding } from './feed-edits.ts';
import { keyOf, more } from './power.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** A rail arrives and no ground goes back to where it comes from. One finding per cause. */
export const groundMissing: Rule = {
  id: 'ground-missing',
  severity: 'error',
  summary: 'a board gets a rail, but no return to the supply that gives it',
  *check(view) {
    const { machine } = view;
    const ground = groundsOf(machine);
    const found = new Map<string, { finding: Finding; boards: Set<Board> }>();
    for (const { want, source } of arrivals(machine)) {
      const returns = source.board ? ground.ofBoard(source.board) : ground.ofSupply(source.owner);
      const own = ground.ofBoard(want.board);
      if ([...own].some((net) => returns.has(net))) continue;
      const { key, finding } = causeOf(view, want, source, returns, own);
      const before = found.get(key);
      if (before) before.boards.add(want.board);
      else if (finding) found.set(key, { finding: finding(), boards: new Set([want.board]) });
    }
    for (const { finding, boards } of found.values()) {
      const [first, ...others] = [...boards].map(({ name }) => name);
      // Where a backplane or supply is the cause, no board is.
      const about = finding.about.includes(first!) ? [...finding.about, ...others] : finding.about;
      yield { ...finding, message: finding.message + more(others.length, 'board'), about };
    }
  },
};

/** Each rail that reaches a board from elsewhere, with what gives it. A pair of a.c. lines is its own return. */
function* arrivals(machine: Machine): Iterable<{ want: Want; source: RailSource }> {
  const wants = wantsOf(machine);
  for (const board of boardsInPlay(machine)) {
    for (const want of wants.get(board) ?? []) {
      for (const source of sourcesAt(machine, want.node)) {
        if (source.board !== board && !source.ac && gives(source, want)) yield { want, source };
      }
    }
  }
}

interface Grounds {
  ofSupply(name: string): ReadonlySet<number>;
  ofBoard(board: Board): ReadonlySet<number>;
}

/** The nets on which supplies and boards have their grounds. */
function groundsOf(machine: Machine): Grounds {
  const { of } = machine.nets;
  const { grounds, senses } = machine.railNames;
  // Names are the same on very many boards.
  const asked = new Map<string, boolean>();
  const isReturn = (name: string): boolean => {
    const known = asked.get(name) ?? ((isGroundName(name) || grounds.has(name)) && !senses.has(name));
    asked.set(name, known);
    return known;
  };
  const supplies = new Map<string, Set<number>>();
  for (const { supply, node } of machine.supplyGrounds) {
    const nets = supplies.get(supply.name) ?? new Set();
    supplies.set(supply.name, nets.add(of[node]!));
  }
  const boards = new Map<Board, Set<number>>();
  return {
    ofSupply: (name) => supplies.get(name) ?? new Set(),
    ofBoard: (board) => {
      let nets = boards.get(board);
      if (nets === undefined) {
        nets = new Set();
        for (const [name, node] of machine.boardNames.get(board) ?? []) {
          if (isReturn(name)) nets.add(of[node]!);
        }
        boards.set(board, nets);
      }
      return nets;
    },
  };
}

interface Cause {
  readonly key: string;
  /** Undefined where another finding says it already. */
  readonly finding?: () => Finding;
}

function causeOf(
  view: View,
  want: Want,
  source: RailSource,
  returns: ReadonlySet<number>,
  own: ReadonlySet<number>,
): Cause {
  const { machine } = view;
  const supply = machine.supplies.find(({ name }) => name === source.owner);
  if (source.kind === 'supply' && supply && returns.size === 0) {
    return { key: `supply ${supply.name}`, finding: () => unsaidGround(supply) };
  }
  const backplane = want.board.slot?.backplane;
  const lines = backplane
    ? busRailsOf(machine).filter((rail) => rail.backplane === backplane && rail.claim.kind === 'ground')
    : [];
  const reached = lines.some(({ nets }) => [...nets].some((net) => returns.has(net)));
  // Where no ground of the bus goes back, that is the cause for every board on it.
  if (backplane && supply && own.size > 0 && lines.length > 0 && !reached) {
    return {
      key: `backplane ${backplane.name} ${supply.name}`,
      finding: () => ({
        rule: 'ground-missing',
        severity: 'error',
        message: `${backplane.name} gets ${source.rail} from ${supply.name}, but no ground of it goes back to ${supply.name}`,
        source: backplane.source,
        path: [stepAt(view, source.node, source.source), stepAt(view, lines[0]!.contact, backplane.source)],
        fix: `find where ground enters, and say it: \`feed ${supply.grounds[0]} from ${supply.name} at ${placeOf(view, lines[0]!.contact).split('.').at(-1)}\``,
        ...withEdits(supply.grounds.flatMap((ground) => feeding(backplane, ground, supply))),
        about: [backplane.name, supply.name, ...supply.grounds],
      }),
    };
  }
  return { key: keyOf(want.board.card.source), finding: () => noReturn(view, want, source, returns) };
}

function unsaidGround(supply: Supply): Finding {
  return {
    rule: 'ground-missing',
    severity: 'question',
    message: `${supply.name} gives rails, but nobody says what its ground is called and where it goes`,
    source: supply.source,
    path: [],
    fix: 'find the return of its rails with the meter, and say it with a `ground` line and a `feed`',
    about: [supply.name],
  };
}

function noReturn(view: View, want: Want, source: RailSource, returns: ReadonlySet<number>): Finding {
  const { board, rail } = want;
  const unknown = unknownReturn(view, board, returns);
  const shared = {
    rule: 'ground-missing',
    source: want.source,
    path: stepsBetween(view, source.node, want.node!, want.source),
    about: [board.name, board.card.name, source.owner, rail ?? ''].filter((name) => name !== ''),
  } as const;
  const gets = `${board.name} gets ${rail} from ${source.owner}`;
  if (unknown !== undefined) {
    const place = placeOf(view, unknown);
    return {
      ...shared,
      severity: 'question',
      message: `${gets}, and its only way back may be ${place}, of which nobody knows what it is`,
      fix: `find out with the meter whether ${place} is ground on the board`,
      ...withEdits(grounding(view, unknown, source)),
    };
  }
  return {
    ...shared,
    severity: 'error',
    message: `${gets}, but no contact of it is on a ground that goes back there`,
    ...withEdits(asTheBus(board, ({ kind }) => kind === 'ground')),
    fix: 'find the contact or wire by which ground comes to the board, and say it; without it, current returns through the logic',
  };
}

/** A contact of the board of which nobody knows what it is, and that meets a ground of the supply. */
function unknownReturn({ machine }: View, board: Board, returns: ReadonlySet<number>): number | undefined {
  for (const { pins, base } of board.instances) {
    const contact = pins.connector.labels.findIndex(
      (_, i) => (pins.claims[i]?.kind ?? 'unknown') === 'unknown' && returns.has(machine.nets.of[base + i]!),
    );
    if (contact >= 0) return base + contact;
  }
  return undefined;
}

/** The contact said to be ground, by the name that the supply has for it. */
function grounding(view: View, node: number, { owner }: RailSource): Edit[] {
  const ground = view.machine.supplies.find(({ name }) => name === owner)?.grounds[0];
  const { port, board } = view.nets.instanceOf(node);
  if (ground === undefined || board === undefined) return [];
  return [
    edit(
      `write \`${ground}\` at ${placeOf(view, node)}`,
      sayingIs(view, node, `${ground} by meter`, port.source),
    ),
  ];
}
