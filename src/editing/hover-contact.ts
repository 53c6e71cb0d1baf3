import { hazardsOf, neighboursOf } from '../analysis/neighbours.ts';
import { joinsAt } from '../analysis/paths.ts';
import { claimOf, placeOf, spokenAmount, spokenClaim, spokenEvidence } from '../checks/explain.ts';
import { spokenNames } from '../checks/lists.ts';
import type { View } from '../checks/types.ts';
import type { Claim, Instance, JoinKind } from '../machine/types.ts';
import type { ContactAt } from './contacts.ts';
import { code, codes, counted, list, paragraphs, plain } from './markdown.ts';

/**
 * What a contact is said to be, what it meets, where others say something else, and what lies beside it. `path` is the
 * one contact that is meant; without it the contact of a table, which a bus has once a slot.
 */
export function contactHover(view: View, at: ContactAt, path: string | undefined): string {
  const { label, pins, index, claim, instance } = at;
  const { connector } = pins;
  const isBus = path === undefined && instance?.kind === 'slot';
  const title = path ?? label;
  const absent = pins.pulled.has(index) ? 'pulled' : pins.plugged.has(index) ? 'plugged' : undefined;
  const what =
    claim === undefined ? 'nothing is said of it' : `${code(spokenClaim(claim))}, ${spoken(claim)}`;
  const meets =
    instance === undefined
      ? undefined
      : isBus
        ? busMeets(view, at, instance)
        : meetsOf(view, instance, index);
  const row = `row ${connector.row[index]! + 1}, position ${connector.position[index]! + 1}`;
  return paragraphs([
    [`**${code(title)}**`, what, absent].filter((part) => part !== undefined).join(' · '),
    list([
      ...(meets ?? ['no connector of this kind is in the machine']),
      `beside ${spokenNeighbours(at)}`,
      ...spokenHazards(view, at),
      `contact of ${code(connector.name)}: ${row}`,
    ]),
  ]);
}

const spoken = ({ evidence }: Claim): string => plain(spokenEvidence(evidence));

// ---- what it meets ----

/** What one contact is joined with, a join each. */
function meetsOf(view: View, instance: Instance, index: number): string[] {
  const { machine } = view;
  const node = instance.base + index;
  const own = instance.pins.claims[index];
  const lines: string[] = [];
  for (const { node: other, join } of joinsAt(machine, node)) {
    const { kind, evidence } = machine.joins.causes[machine.joins.cause[join]!]!;
    const place = code(placeOf(view, other));
    const word = HOW[kind] ?? `by ${kind} with`;
    const said = other < machine.contactCount ? differing(own, claimOf(view, other)) : '';
    const known = evidence.kind === undefined ? '' : `, ${plain(spokenEvidence(evidence))}`;
    lines.push(`${word} ${place}${said}${known}${kind === 'ribbon' ? beyond(view, other, node) : ''}`);
    if (lines.length === MOST_JOINS) break;
  }
  const { plugs } = instance;
  const out = plugs.filter(({ unplugged }) => unplugged).map(({ name }) => name);
  if (out.length > 0)
    lines.push(`${codes(out)} ${out.length > 1 ? 'belong' : 'belongs'} here and was found unplugged`);
  return lines.length > 0 ? lines : ['meets nothing'];
}

const MOST_JOINS = 8;

const HOW: Partial<Record<JoinKind, string>> = {
  finger: 'meets',
  bus: 'on the line',
  board: 'on the board',
  chain: 'chained with',
  feed: 'fed from',
  supply: 'gives',
  ground: 'is',
};

/** What else a ribbon's conductor meets: ` to `DISPLAY.J1.18``. */
function beyond(view: View, conductor: number, here: number): string {
  const ends: string[] = [];
  for (const { node } of joinsAt(view.machine, conductor)) if (node !== here) ends.push(placeOf(view, node));
  return ends.length === 0 ? '' : ` to ${codes(ends)}`;
}

/** Where the other contact is said to be something else. */
function differing(own: Claim | undefined, other: Claim | undefined): string {
  if (other === undefined || other === own) return '';
  const same = own !== undefined && own.kind === other.kind && namesMeet(own, other);
  return same ? '' : `, there said to be ${code(spokenClaim(other))} (${spoken(other)})`;
}

const namesMeet = (a: Claim, b: Claim): boolean =>
  a.name === b.name || a.aliases.includes(b.name) || b.aliases.includes(a.name);

/** A contact of a bus: the slots that carry it, the fingers that it meets, and the cards that say otherwise. */
function busMeets({ machine }: View, { index, claim }: ContactAt, { port }: Instance): string[] {
  const slots = machine.instances.filter((one) => one.kind === 'slot' && one.port.bus === port.bus);
  const boards = new Map<string, Claim | undefined>();
  for (const { base, slot } of slots) {
    for (const { node, join } of joinsAt(machine, base + index)) {
      const board = slot?.board;
      if (board === undefined || machine.joins.causes[machine.joins.cause[join]!]!.kind !== 'finger')
        continue;
      const edge = board.instances.find(
        (one) => node >= one.base && node < one.base + one.pins.claims.length,
      );
      if (edge) boards.set(board.name, edge.pins.claims[node - edge.base]);
    }
  }
  const [first] = slots;
  const labels = plain(spokenNames(slots.map(({ slot }) => slot!.label)));
  const others = new Map<string, string[]>();
  for (const [name, its] of boards) {
    const said = differing(claim, its);
    if (said !== '') others.set(said, [...(others.get(said) ?? []), name]);
  }
  return [
    `in ${counted(slots.length, 'slot')}, ${labels} of ${code(first?.slot?.backplane.name ?? '')}`,
    boards.size === 0 ? 'meets no finger' : `meets the fingers of ${codes([...boards.keys()])}`,
    ...[...others].slice(0, MOST_JOINS).map(([said, names]) => `${codes(names)}${said}`),
  ];
}

// ---- what lies beside it ----

function spokenNeighbours({ pins, index }: ContactAt): string {
  const beside: string[] = [];
  for (const [a, b] of neighboursOf(pins.connector)) {
    const other = a === index ? b : b === index ? a : undefined;
    if (other === undefined) continue;
    const claim = pins.claims[other];
    const said = claim === undefined ? '' : ` (${code(spokenClaim(claim))})`;
    beside.push(`${code(pins.connector.labels[other]!)}${said}`);
  }
  return beside.length === 0 ? 'nothing' : beside.join(', ');
}

/** Where one slip of the probe does harm. */
function spokenHazards({ machine }: View, { pins, index }: ContactAt): string[] {
  const does = { logic: 'kills logic', rails: 'joins two rails', ground: 'shorts the rail' } as const;
  return hazardsOf(machine, pins).flatMap(({ slip, rail, other, volts }) => {
    if (rail !== index && other !== index) return [];
    const beside = code(pins.connector.labels[rail === index ? other : rail]!);
    return [`a slip of the probe to ${beside} ${does[slip]}: ${spokenAmount(volts, 'V')}`];
  });
}
