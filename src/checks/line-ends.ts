import { crossedNets } from '../analysis/crossings.ts';
import type { NetView } from '../analysis/nets.ts';
import { type Parties, partiesOf, type Unsaid } from '../analysis/parties.ts';
import type { Board, Use } from '../machine/types.ts';
import { stepAt } from './explain.ts';
import { agree, spokenList, stemOf } from './lists.ts';
import type { Severity, Step, View } from './types.ts';

/** Lines with one cause: the members of a vector, or all that the same unsaid thing leaves open. */
export interface LineGroup {
  readonly severity: Severity;
  readonly names: string[];
  /** The first line of the group. */
  readonly parties: Parties;
  readonly uses: readonly Use[];
  /** Every board of the group, with its contact on the first of the group's lines that it is on. */
  readonly boards: Map<Board, number>;
}

/** What a rule thinks of a line: undefined where all is well, else the boards that are left alone on it. */
export interface Verdict {
  readonly uses: readonly Use[];
  /** How bad it is where nothing is unsaid. */
  readonly severity: (parties: Parties) => Severity;
}

/**
 * Lines that have one side only, grouped by cause. Silent: lines of a single board with nothing plugged in, links of
 * daisy chains (`chain-broken` looks at them), lines to a supply or to a ribbon that was found unplugged,
 * lines over a ribbon that is crossed (`ribbon-crossed` tells it).
 */
export function lonelyLines(view: View, judge: (net: NetView) => Verdict | undefined): LineGroup[] {
  const groups = new Map<string, LineGroup>();
  const crossed = crossedNets(view.machine, view.nets);
  for (const net of view.nets.views) {
    if (net.uses.length === 0 || crossed.has(net.net) || !isLine(net)) continue;
    const verdict = judge(net);
    if (verdict === undefined) continue;
    const parties = partiesOf(view.machine, view.nets, net);
    if (parties.chain || parties.supply || parties.unplugged) continue;
    const leadsOn = parties.unsaid.some(({ kind }) => kind !== 'board');
    if (!parties.bussed && parties.boards.size < 2 && !leadsOn) continue;
    add(groups, net, parties, verdict);
  }
  return [...groups.values()];
}

/** A signal that is no rail and tied to none. */
function isLine({ claims, sources }: NetView): boolean {
  if (sources.length > 0) return false;
  if (claims.some(({ claim }) => claim.kind === 'rail' || claim.kind === 'ground')) return false;
  return claims.some(({ claim }) => claim.kind === 'signal' && !claim.private);
}

function add(groups: Map<string, LineGroup>, net: NetView, parties: Parties, verdict: Verdict): void {
  const name = net.claims.find(({ claim }) => claim.kind === 'signal')!.claim.name;
  const severity = parties.unsaid.length > 0 ? 'question' : verdict.severity(parties);
  const acting = [...new Set(verdict.uses.map(({ board }) => board))];
  const cause =
    severity === 'question'
      ? parties.unsaid.map((one) => `${one.kind} ${one.name}`).sort()
      : [...acting.map((board) => board.name), severity === 'warning' ? stemOf(name) : ''];
  const key = [severity, ...cause].join('\n\n');
  const { uses } = verdict;
  const group: LineGroup = groups.get(key) ?? { severity, names: [], parties, uses, boards: new Map() };
  groups.set(key, group);
  group.names.push(name);
  for (const board of acting) {
    if (!group.boards.has(board)) group.boards.set(board, parties.boards.get(board) ?? uses[0]!.node);
  }
}

/** `IO and RAM do not say all that they use, nothing is said of slot CAGE.7`. */
export function spokenUnsaid(unsaid: readonly Unsaid[]): string {
  const named = (kind: Unsaid['kind']): string[] =>
    unsaid.filter((one) => one.kind === kind).map(({ name }) => name);
  const [boards, slots, ribbons, pins] = [named('board'), named('slot'), named('ribbon'), named('pin')];
  const parts: string[] = [];
  if (boards.length > 0)
    parts.push(`${spokenList(boards)} ${agree(boards.length, 'does', 'do')} not say all that is used`);
  if (slots.length > 0) parts.push(`nothing is said of ${spokenList(slots)}`);
  if (ribbons.length > 0) parts.push(`the far end of ${spokenList(ribbons)} is unknown`);
  if (pins.length > 0)
    parts.push(`what ${spokenList(pins)} ${agree(pins.length, 'does', 'do')} there is not said`);
  return parts.join(', ');
}

const MOST_STEPS = 8;

export const stepsOf = (view: View, { boards, uses }: LineGroup): Step[] =>
  [...boards.values()].slice(0, MOST_STEPS).map((contact) => stepAt(view, contact, uses[0]!.card.source));

export function aboutOf({ names, boards, parties }: LineGroup): string[] {
  return [...names, ...[...boards.keys()].map(({ name }) => name), ...parties.unsaid.map(({ name }) => name)];
}
