import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { Harm } from '../analysis/wrong-mating/harms.ts';
import type { Outcome } from '../analysis/wrong-mating/judge.ts';
import { keyPlansOf, lackFor } from '../analysis/wrong-mating/plans.ts';
import { isHarmful, type WrongMating, wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Board, Slot, Source } from '../machine/types.ts';
import { withEdits } from './edits.ts';
import { stepAt } from './explain.ts';
import { lackEdits } from './key-edits.ts';
import { agree, spokenList } from './lists.ts';
import { spokenLack, whatToDo, whatToLookAt } from './mating-advice.ts';
import {
  spokenCases,
  spokenContacts,
  spokenHarm,
  spokenPlug,
  spokenVerdict,
  spokenWay,
} from './spoken-mating.ts';
import type { Finding, Severity, View } from './types.ts';

/** Wrong ways that one rule reports together: of all boards of a card, or of a ribbon. */
interface Group {
  readonly cases: { readonly one: Case; readonly outcome: Outcome }[];
}

/**
 * The findings of one rule on wrong matings: those that nothing prevents, and, as questions, those that only an unsaid half of a
 * key could prevent or that meet contacts which nobody knows. One finding for all boards of a card, or for a ribbon.
 */
export function* matings(rule: string, view: View, isMeant: (one: Case) => boolean): Iterable<Finding> {
  const wrong = wrongMatingOf(view.machine);
  const groups = new Map<string, Group>();
  for (const one of wrong.open()) {
    if (!isMeant(one)) continue;
    const outcome = wrong.outcome(one);
    const isHarm = isHarmful(one, outcome);
    if (!isHarm && outcome.unknown === 0) continue;
    const key = keyOf(one, isHarm);
    const group = groups.get(key);
    if (group) group.cases.push({ one, outcome });
    else groups.set(key, { cases: [{ one, outcome }] });
  }
  // Where a way that does harm is told, one that cannot be judged adds nothing.
  const doesHarm = ({ cases: [first] }: Group): boolean => isHarmful(first!.one, first!.outcome);
  const all = [...groups.values()];
  const harmful = new Set(all.filter(doesHarm).map(({ cases }) => keyOfPlug(cases[0]!.one)));
  for (const group of all) {
    if (doesHarm(group)) yield harm(rule, view, wrong, group);
    else if (!harmful.has(keyOfPlug(group.cases[0]!.one))) yield doubt(rule, group);
  }
}

/** Boards of one card in one cage are told together: what they do elsewhere is another matter. */
const keyOfPlug = ({ plug, place }: Case): string =>
  plug.kind === 'board'
    ? `card ${plug.board!.card.name} ${place.slot!.backplane.name}`
    : `ribbon ${plug.name}`;

/**
 * What is told together: harm by what is plugged in. What one look answers is one question: the same half, unsaid of one
 * connector, or what is on its unknown contacts.
 */
function keyOf(one: Case, isHarm: boolean): string {
  const { plug, verdict, meetings, place } = one;
  if (isHarm && verdict.state === 'open') return keyOfPlug(one);
  const whose =
    plug.kind === 'board' && !verdict.by.includes('notch')
      ? `${meetings[0]!.socket.pins.connector.name} ${place.slot!.backplane.name}`
      : plug.name;
  return `${isHarm} ${verdict.state} ${verdict.by.join()} ${whose}`;
}

function harm(rule: string, view: View, wrong: WrongMating, { cases }: Group): Finding {
  const worst = worstOf(cases);
  const { state } = worst.verdict;
  // All that it does, the report and the drawing tell: to find that out for each board would take longer than a pause in typing.
  const first = wrong.worst(worst)!;
  const where = spokenContacts(view, first);
  const others = countOthers(cases, worst);
  const source = saidAt(worst);
  const lacking = lackFor(keyPlansOf(view.machine, wrong), worst);
  const severity: Severity = state === 'open' ? 'warning' : 'question';
  return {
    rule,
    severity,
    message: `${spokenSubject(cases, worst)}: ${spokenHarm(first)}${where === '' ? '' : ` (${where})`}; ${spokenVerdict(worst.verdict)}${others}`,
    source,
    path: stepsOf(view, first, source),
    fix:
      state === 'open'
        ? [...spokenLack(lacking), whatToDo(worst)].join('; until then ')
        : whatToLookAt(worst),
    ...withEdits(state === 'open' && lacking ? lackEdits(view, lacking) : []),
    about: aboutOf(cases, first),
  };
}

function doubt(rule: string, { cases }: Group): Finding {
  const worst = cases.reduce((a, b) => (b.outcome.unknown > a.outcome.unknown ? b : a));
  const count = worst.outcome.unknown;
  const source = saidAt(worst.one);
  const prevented = worst.one.verdict.state === 'unsaid' ? `; ${spokenVerdict(worst.one.verdict)}` : '';
  return {
    rule,
    severity: 'question',
    message: `${spokenSubject(cases, worst.one)} meets ${count} unknown ${agree(count, 'contact', 'contacts')}: whether that does harm nobody can tell${prevented}`,
    source,
    path: [],
    fix: `find out what is on the unknown contacts of ${worst.one.place.path} and ${spokenPlug(worst.one)} before anything is plugged in there`,
    about: aboutOf(cases, undefined),
  };
}

/** The worst; of several, the simplest way, at its own place. */
function worstOf(cases: Group['cases']): Case {
  const cost = ({ one: { way, place, meetings } }: Group['cases'][number]): number =>
    (way.turned ? 1 : 0) +
    Math.abs(way.shift) * 2 +
    Math.abs(way.over) * 3 +
    (meetings[0]!.part.home !== undefined && place.sockets.includes(meetings[0]!.part.home) ? 0 : 0.5);
  return cases.reduce((a, b) => {
    const by = a.outcome.rank - b.outcome.rank || cost(a) - cost(b);
    return by <= 0 ? a : b;
  }).one;
}

/** `RAM-A and RAM-B turned in any slot of CAGE`; `W1 turned at GAUGE.J1 and DISPLAY.J1`; `W1 at GAUGE.J1 plugged into CAGE.PANEL`. */
function spokenSubject(cases: Group['cases'], worst: Case): string {
  const way = spokenWay(worst);
  const alike = cases.filter(({ one }) => spokenWay(one) === way);
  const how = way === '' ? '' : ` ${way}`;
  const places = [...new Set(alike.map(({ one }) => one.place.path))];
  if (worst.plug.kind === 'board')
    return `${spokenBoards(cases)}${how === '' ? ' put into' : `${how} in`} ${spokenSlots(alike, worst)}`;
  if (worst.fault === 'exchanged')
    return spokenCases(
      alike.map(({ one }) => one),
      worst.plug.name,
      worst.place.path,
    );
  if (worst.fault !== 'wrong place') return `${worst.plug.name}${how} at ${spokenList(places, 3)}`;
  const own = alike.filter(({ one }) => one.plug === worst.plug).map(({ one }) => one.place.path);
  return `${spokenPlug(worst)} plugged into ${spokenList([...new Set(own)], 3)}${way === '' ? '' : `, ${way}`}`;
}

function spokenBoards(cases: Group['cases']): string {
  const boards = [...new Set(cases.map(({ one }) => one.plug.board!))];
  const [first] = boards as [Board];
  const names = boards.map(({ name }) => name);
  return boards.length === 1 ? first.name : spokenList(names, 3);
}

function spokenSlots(cases: Group['cases'], worst: Case): string {
  const slots = [...new Set(cases.map(({ one }) => one.place.slot!))];
  const { backplane } = worst.place.slot!;
  const all = (its: readonly Slot[]): boolean => its.length > 1 && its.every((slot) => slots.includes(slot));
  if (all(backplane.slots)) return `any slot of ${backplane.name}`;
  return spokenList(
    [...new Set([worst.place.path, ...slots.map(({ backplane: its, label }) => `${its.name}.${label}`)])],
    3,
  );
}

/** `; 3 other ways do harm too`: a way is one of a plug, wherever it goes in so. */
function countOthers(cases: Group['cases'], worst: Case): string {
  const wayOf = (one: Case): string =>
    `${one.plug.kind === 'board' ? '' : one.plug.end} ${spokenWay(one)} ${one.fault === 'wrong place' && one.plug.kind !== 'board' ? one.place.path : ''}`;
  const ways = new Set(cases.map(({ one }) => wayOf(one)));
  // What the sentence names is told.
  for (const { one } of cases)
    if (spokenWay(one) === spokenWay(worst) && (one.fault !== 'wrong place' || one.plug === worst.plug))
      ways.delete(wayOf(one));
  const count = ways.size;
  return count === 0 ? '' : `; ${count} other ${agree(count, 'way does', 'ways do')} harm too`;
}

/** The line by which a plug is in the machine: a board's, or that of a ribbon's end. */
export const saidAt = ({ plug }: Case): Source =>
  plug.kind === 'board' ? plug.board!.source : plug.ribbon!.ends[plug.end!]!.source;

/** The two contacts that meet, the plug's first. Wires of a cable have none of their own. */
const stepsOf = (view: View, { contacts }: Harm, source: Source): Finding['path'] =>
  contacts.flatMap((node) =>
    node >= 0 && node < view.machine.nodeCount ? [stepAt(view, node, source)] : [],
  );

/** The boards and ribbons that go in wrong and what they go into; a slot by itself only where it is the wrong one. */
function aboutOf(cases: Group['cases'], harm: Harm | undefined): string[] {
  const names = cases.flatMap(({ one: { plug, place, fault } }) => [
    plug.name,
    ...(plug.board ? [plug.board.card.name] : [plug.ribbon!.ends[plug.end!]!.place]),
    ...(place.slot ? [place.slot.backplane.name] : []),
    ...(fault === 'wrong place' ? [place.path] : []),
  ]);
  return [...new Set([...names, ...(harm?.board ? [harm.board.name] : [])])];
}
