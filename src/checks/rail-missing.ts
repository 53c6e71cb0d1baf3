import { busRailsOf } from '../analysis/bus-rails.ts';
import { crossedNets } from '../analysis/crossings.ts';
import { clashingNets } from '../analysis/meetings.ts';
import { reach } from '../analysis/paths.ts';
import { sourcesAt } from '../analysis/rails.ts';
import { boardsInPlay, isFed, type Want, wantsOf } from '../analysis/wants.ts';
import type { Machine } from '../machine/types.ts';
import { asTheBus } from './claim-edits.ts';
import { withEdits } from './edits.ts';
import { claimOf, placeOf, spokenClaim, stepAt, stepsBetween } from './explain.ts';
import { agree } from './lists.ts';
import { keyOf, more, spokenVolts } from './power.ts';
import type { Finding, Rule, View } from './types.ts';

/** A board or chip wants a rail that no path brings to it. One finding per statement that wants it. */
export const railMissing: Rule = {
  id: 'rail-missing',
  severity: 'error',
  summary: 'a card or part wants a rail that no path brings to it',
  *check(view) {
    const { machine } = view;
    if (machine.railSources.some(({ kind }) => kind === 'supply')) yield* missing(view);
    else yield* undescribed(machine);
  },
};

function* missing(view: View): Iterable<Finding> {
  const { machine } = view;
  const elsewhere = explained(view);
  const netsSeen = new Map<string, Group>();
  const groups = new Map<string, Group>();
  for (const want of wanted(machine)) {
    if (isFed(machine, want)) continue;
    const net = want.node === undefined ? undefined : machine.nets.of[want.node]!;
    if (net !== undefined && elsewhere.has(net)) continue;
    const place = net === undefined ? `${want.board.name} ${want.volts?.low}` : `${net}`;
    const group = netsSeen.get(place) ?? groups.get(keyOf(want.source));
    if (group) {
      group.boards.add(want.board);
      netsSeen.set(place, group);
    } else {
      const made = { want, boards: new Set([want.board]) };
      netsSeen.set(place, made);
      groups.set(keyOf(want.source), made);
    }
  }
  const open = openEnds(machine);
  for (const { want, boards } of groups.values()) yield notThere(view, want, boards, open);
}

interface Group {
  readonly want: Want;
  readonly boards: Set<Want['board']>;
}

/** Nets whose trouble another rule tells: a line of the bus that nothing feeds, a rail that meets another, a crossed ribbon. */
function explained(view: View): Set<number> {
  const { machine, nets } = view;
  const found = new Set([...clashingNets(machine, nets), ...crossedNets(machine, nets)]);
  for (const { claim, fed, takers, nets: its } of busRailsOf(machine)) {
    if (claim.kind === 'rail' && !fed && takers > 0) for (const net of its) found.add(net);
  }
  return found;
}

function* wanted(machine: Machine): Iterable<Want> {
  const wants = wantsOf(machine);
  for (const board of boardsInPlay(machine)) yield* wants.get(board) ?? [];
}

/** Nets with a ribbon's conductor whose other end nobody knows. */
function openEnds(machine: Machine): Set<number> {
  const open = new Set<number>();
  for (const { ends, base, conductors } of machine.ribbons) {
    if (base < 0 || ends.every(({ instance }) => instance !== undefined)) continue;
    for (let k = 0; k < conductors; k++) open.add(machine.nets.of[base + k]!);
  }
  return open;
}

function notThere(
  view: View,
  want: Want,
  boards: ReadonlySet<Want['board']>,
  open: ReadonlySet<number>,
): Finding {
  const { machine } = view;
  const { board, node, source } = want;
  const rail = spokenWant(want);
  const says = (one: string, several: string): string => agree(want.chips ?? 1, one, several);
  const subject =
    want.by === ''
      ? `${board.name} takes ${rail}`
      : `${want.by} on ${board.name} ${says('needs', 'need')} ${rail}`;
  const others = boards.size - 1;
  const about = [want.rail ?? '', ...[...boards].map(({ name }) => name), board.card.name].filter(
    (name) => name !== '',
  );
  const shared = { rule: 'rail-missing', source, about } as const;
  const tail = more(others, 'board');
  if (node === undefined || !carried(view, want)) {
    const message =
      want.by === '' || board.card.takes.some((take) => take.rail === want.rail)
        ? `${subject}, but no contact of ${board.name} carries it`
        : `${subject}, which ${board.name} neither takes nor makes`;
    const path = node === undefined ? [] : [stepAt(view, node, source)];
    const fix = `find out by which contact or regulator ${rail} comes to ${board.name}, and say it in its table or with \`makes\``;
    const edits =
      others > 0 ? [] : asTheBus(board, ({ name, kind }) => kind === 'rail' && name === want.rail);
    return { ...shared, severity: 'error', message: message + tail, path, fix, ...withEdits(edits) };
  }
  const end = endOfPath(view, node);
  const path = stepsBetween(view, node, end.node, source);
  const wrong = sourcesAt(machine, node)[0];
  if (wrong) {
    const message = `${subject}, but ${says('gets', 'get')} ${spokenVolts(wrong)} from ${wrong.owner}`;
    return {
      ...shared,
      severity: 'error',
      message: message + tail,
      path,
      fix: 'find out which of the two is wrong',
    };
  }
  const unsaid = end.unsaid || open.has(machine.nets.of[node]!);
  const place = placeOf(view, end.node);
  const claim = claimOf(view, end.node);
  const is = claim === undefined ? 'which nobody describes' : `said to be ${spokenClaim(claim)}`;
  return {
    ...shared,
    severity: unsaid ? 'question' : 'error',
    message: `${subject}, but no supply's ${rail} reaches ${says('it', 'them')}: the path ends at ${place}, ${is}${tail}`,
    path,
    fix: unsaid
      ? `find out with the meter whether ${rail} is at ${place}, and say where it comes from`
      : `look for the way by which ${rail} comes to ${place}: a \`feed\`, a ribbon, or a wire nobody noted`,
  };
}

const spokenWant = ({ rail, volts }: Want): string => rail ?? (volts ? spokenVolts(volts) : 'a rail');

/** Whether a contact of the board is on the net of the rail. */
function carried({ machine, nets }: View, { board, node }: Want): boolean {
  const { start, members, of } = machine.nets;
  const net = of[node!]!;
  for (let i = start[net]!; i < start[net + 1]!; i++) {
    const member = members[i]!;
    if (member >= machine.contactCount) return false;
    if (nets.instanceOf(member).board === board) return true;
  }
  return false;
}

/** The contact in which the copper from a place ends; preferably one off the board of which nobody knows what it is. */
function endOfPath(view: View, node: number): { node: number; unsaid: boolean } {
  const { machine, nets } = view;
  const own = node < machine.contactCount ? nets.instanceOf(node).board : undefined;
  let end = node;
  for (const one of reach(machine, node, () => true)) {
    if (one >= machine.contactCount) continue;
    const { board } = nets.instanceOf(one);
    const kind = claimOf(view, one)?.kind ?? 'unknown';
    if (kind === 'unknown' && (board === undefined || board !== own)) return { node: one, unsaid: true };
    end = one;
  }
  return { node: end, unsaid: false };
}

/** Without any supply there is nothing that a rail could be missing from: one question a backplane. */
function* undescribed(machine: Machine): Iterable<Finding> {
  const asked = new Set<object>();
  for (const { board } of wanted(machine)) {
    const about = board.slot?.backplane ?? machine;
    if (asked.has(about)) continue;
    asked.add(about);
    const place = board.slot?.backplane.name ?? board.name;
    yield {
      rule: 'rail-missing',
      severity: 'question',
      message: `no supply is described, so nobody can tell what reaches the boards of ${place}`,
      source: board.slot?.backplane.source ?? board.source,
      path: [],
      fix: 'describe the supply with its rails, and say with `feed` where each enters',
      about: [place],
    };
  }
}
