import {
  type Clash,
  clashes,
  clashOf,
  type Meeting,
  meetingsOf,
  type PowerAt,
} from '../analysis/meetings.ts';
import { type Border, bordersBetween, pathBetween } from '../analysis/paths.ts';
import type { Source } from '../machine/types.ts';
import { edit, withEdits } from './edits.ts';
import { stepsBetween } from './explain.ts';
import { Meetings, unjoining, untouching } from './meeting-edits.ts';
import { isAlongCable, joinedBy, keyOfCause, powerNodes, spokenPower, Told } from './power.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** Two rails, or a rail and ground, on one net. One finding per pair of statements, however many nets they meet on. */
export const railConflict: Rule = {
  id: 'rail-conflict',
  severity: 'error',
  summary: 'two rails, or a rail and ground, meet on one net',
  *check(view) {
    const told = new Told();
    const places = new Meetings(view);
    for (const meeting of meetingsOf(view.machine, view.nets)) {
      const pairs = clashes(view.machine, meeting);
      if (pairs.length === 0) continue;
      const met = encounters(view, meeting);
      // Two supplies may differ while each agrees with the line between them, whose range is wide.
      for (const { a, b, clash, border } of met.length > 0
        ? met
        : pairs.map((pair) => ({ ...pair, border: wayBack(view, pair) }))) {
        if (isAlongCable(view, border) && clash !== 'names' && clash !== 'grounds') continue;
        const cause = joinedBy(view, border);
        const source = cause?.source ?? statementOf(view, a, b).source;
        const key = keyOfCause(cause, source, [a.source, b.source]);
        places.add(key, a, b);
        const edits = (): Edit[] =>
          cause
            ? unjoining(view, cause)
            : editsOf(view, { a, b, clash }, places.edits(key, [a.name, b.name], source));
        told.add(key, meeting.net, cause?.cable ? 'line' : 'net', () => ({
          ...conflict(view, a, b, clash, source),
          ...withEdits(edits()),
        }));
      }
    }
    yield* told.all();
  },
};

/** The joins from the later of two powers to the earlier one. */
function wayBack({ machine }: View, { a, b }: Pick<Encounter, 'a' | 'b'>): Border {
  const joins = (pathBetween(machine, b.node, a.node) ?? [])
    .map(({ join }) => join)
    .filter((join) => join >= 0);
  return { a: b.node, b: a.node, joins };
}

interface Encounter {
  readonly a: PowerAt;
  readonly b: PowerAt;
  readonly clash: Clash;
  readonly border: Border;
}

/** The places on a net where one power ends and another begins: each is a cause of its own. */
function encounters(view: View, meeting: Meeting): Encounter[] {
  const { machine } = view;
  const power = powerNodes(view, meeting);
  const clash = (a: number, b: number): Clash | undefined => clashOf(machine, power.get(a)!, power.get(b)!);
  const borders = bordersBetween(machine, [...power.keys()], (a, b) => clash(a, b) !== undefined);
  return borders.map((border) => {
    const [a, b] = [power.get(border.a)!, power.get(border.b)!];
    return { a, b, clash: clashOf(machine, a, b)!, border };
  });
}

function conflict(view: View, a: PowerAt, b: PowerAt, clash: Clash, source: Source): Finding {
  return {
    rule: 'rail-conflict',
    severity: severityOf(a, b, clash),
    message: sentence(view, a, b, clash),
    source,
    path: stepsBetween(view, a.node, b.node, source),
    fix: fixOf(a, b, clash),
    about: aboutOf(view, a, b),
  };
}

/** What can be said of the two, before either gives way: that they are one on purpose, or that there is no copper. */
function editsOf(
  view: View,
  { a, b, clash }: Pick<Encounter, 'a' | 'b' | 'clash'>,
  changes: readonly Edit[],
): Edit[] {
  if ([a, b].some(({ copper }) => copper === 'unsaid')) return untouching(view, [a, b]);
  return [...(clash === 'grounds' ? oneGround(view, a, b) : []), ...changes];
}

/** Two grounds said to be one, on a line of a supply that has either. */
function oneGround({ machine }: View, a: PowerAt, b: PowerAt): Edit[] {
  for (const [one, other] of [[a.name, b.name] as const, [b.name, a.name] as const]) {
    for (const { groundLines } of machine.supplies) {
      const line = groundLines.get(one);
      if (line === undefined) continue;
      const change = { kind: 'list', source: line.source, from: [], to: [other] } as const;
      return [edit(`say that they are one ground: \`ground ${one}, ${other}\``, change)];
    }
  }
  return [];
}

/** The claim of a card or port goes before that of a bus: it is where the text was probably written wrongly. */
function statementOf(view: View, a: PowerAt, b: PowerAt): PowerAt {
  const onBoard = ({ node, claim, from }: PowerAt): boolean =>
    (claim !== undefined && view.nets.instanceOf(node).board !== undefined) ||
    (from !== undefined && 'board' in from);
  return !onBoard(b) && onBoard(a) ? a : b;
}

function severityOf(a: PowerAt, b: PowerAt, clash: Clash): Finding['severity'] {
  if (a.copper === 'unsaid' || b.copper === 'unsaid') return 'question';
  return clash === 'names' || clash === 'grounds' ? 'warning' : 'error';
}

function sentence(view: View, a: PowerAt, b: PowerAt, clash: Clash): string {
  const how = clash === 'reversed' ? ', which are of opposite sign: one is reversed' : '';
  const unsaid = [a, b].find(({ copper }) => copper === 'unsaid');
  const board = unsaid && view.nets.instanceOf(unsaid.node).board;
  const doubt = unsaid ? `, if ${board?.name} has copper there, which nobody says` : '';
  return `${spokenPower(view, a)} meets ${spokenPower(view, b)} on one net${how}${doubt}`;
}

function fixOf(a: PowerAt, b: PowerAt, clash: Clash): string {
  const unsaid = [a, b].find(({ copper }) => copper === 'unsaid');
  if (unsaid)
    return `look whether a track leads from that finger; say \`takes ${unsaid.name}\` or \`untouched ${unsaid.name}\``;
  if (clash === 'names') return `if they are joined on purpose, say so with \`strap ${a.name}, ${b.name}\``;
  if (clash === 'grounds') return `if they are one ground, say so with \`ground ${a.name}, ${b.name}\``;
  return 'check both places with the meter before power is applied, and correct the one that is wrong';
}

function aboutOf(view: View, a: PowerAt, b: PowerAt): string[] {
  const names = [a, b].flatMap(({ name, claim, from, node }) => [
    name,
    ...(claim ? [claim.owner, view.nets.instanceOf(node).board?.name ?? ''] : []),
    ...(from ? ['supply' in from ? from.supply.name : from.owner] : []),
  ]);
  return [...new Set(names)].filter((name) => name !== '');
}
