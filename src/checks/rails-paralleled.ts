import { differ } from '../analysis/meetings.ts';
import { pathBetween } from '../analysis/paths.ts';
import { RANKS } from '../analysis/wrong-mating/harms.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { RailSource } from '../machine/types.ts';
import { edit, withEdits } from './edits.ts';
import { stepsBetween } from './explain.ts';
import { saidAt } from './matings.ts';
import { keyOf, Told } from './power.ts';
import { spokenCase, spokenHarm, spokenVerdict } from './spoken-mating.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** Two supplies or regulators of equal voltage on one net that nobody declares joined. Unequal ones are a rail-conflict. */
export const railsParalleled: Rule = {
  id: 'rails-paralleled',
  severity: 'warning',
  summary: 'two supplies or regulators are joined on one net',
  *check(view) {
    const told = new Told();
    // Boards of one card are alike: one way between two statements is looked for once a net.
    const looked = new Map<string, boolean>();
    for (const { net, sources } of view.nets.views) {
      const first = sources[0];
      if (first === undefined) continue;
      for (const other of sources.slice(1)) {
        const key = [first, other].map(({ source }) => keyOf(source)).join(' ');
        const bad = looked.get(`${net} ${key}`) ?? undeclared(view, first, other);
        looked.set(`${net} ${key}`, bad);
        if (!bad) continue;
        told.add(key, net, 'net', () => ({
          rule: 'rails-paralleled',
          severity: 'warning',
          message: `${spoken(first)} and ${spoken(other)} are joined on one net: the stronger carries the load of both and feeds back into the weaker`,
          source: other.source,
          path: stepsBetween(view, first.node, other.node, other.source),
          fix:
            first.rail === other.rail
              ? 'find the cut or diode that keeps them apart; where they are joined on purpose, say so with `strap`, or `allow` it with the reason'
              : `find what keeps them apart, or say that they are joined with \`strap ${first.rail}, ${other.rail}\``,
          ...withEdits(strapped(view, first, other)),
          about: [first.rail, other.rail, first.owner, other.owner],
        }));
      }
    }
    yield* told.all();
    yield* byWrongMating(view);
  },
};

/** The same of what a wrong plug would join, where it does nothing worse. */
function* byWrongMating(view: View): Iterable<Finding> {
  const wrong = wrongMatingOf(view.machine);
  const told = new Set<string>();
  for (const one of wrong.open()) {
    if (wrong.outcome(one).rank !== RANKS['rails-paralleled']) continue;
    const harm = wrong.worst(one);
    const { power, other } = harm!;
    const key = `${one.plug.name} ${[power!.owner, other!.owner].sort().join(' ')}`;
    if (told.has(key)) continue;
    told.add(key);
    yield {
      rule: 'rails-paralleled',
      severity: one.verdict.state === 'open' ? 'warning' : 'question',
      message: `${spokenCase(one)}: ${spokenHarm(harm!)}; ${spokenVerdict(one.verdict)}`,
      source: saidAt(one),
      path: [],
      fix: `label ${one.plug.name} with the place that it belongs to, and read the label before plugging in`,
      about: [one.plug.name, one.place.path, power!.name, power!.owner, other!.owner],
    };
  }
}

const spoken = ({ kind, rail, owner, make }: RailSource): string =>
  kind === 'supply' ? `${rail} of ${owner}` : `${rail} of ${make?.part ?? 'a regulator'} on ${owner}`;

function undeclared({ machine }: View, a: RailSource, b: RailSource): boolean {
  // Regulators of one board on one rail are one regulator in several cases.
  if (a.board !== undefined && a.board === b.board) return false;
  if (differ(a, b) || machine.aliases.has(`${a.rail}\n${b.rail}`)) return false;
  const { joins } = machine;
  const path = pathBetween(machine, a.node, b.node) ?? [];
  return !path.some(({ join }) => join >= 0 && joins.causes[joins.cause[join]!]!.kind === 'strap');
}

/** Two rails of one supply said to be joined. Between supplies there is no block in which a strap could stand. */
function strapped({ machine }: View, a: RailSource, b: RailSource): Edit[] {
  const supply = machine.supplies.find(({ name }) => name === a.owner);
  if (supply === undefined || a.owner !== b.owner || a.rail === b.rail) return [];
  const line = `strap ${a.rail}, ${b.rail}`;
  return [
    edit(`say that they are joined on purpose: \`${line}\``, { kind: 'add', line, into: supply.source }),
  ];
}
