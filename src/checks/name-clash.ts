import { copperAt } from '../machine/copper.ts';
import { matingEdge } from '../machine/mating.ts';
import { signalName } from '../machine/names.ts';
import type { Claim, Instance, Machine } from '../machine/types.ts';
import { sayingAnew, writtenClaim } from './claim-edits.ts';
import { edit, saying, withEdits } from './edits.ts';
import { placeOf, spokenEvidence, stepAt } from './explain.ts';
import { agree, spokenNames } from './lists.ts';
import type { Change, Edit, Finding, Rule, View } from './types.ts';

/** How two names of one line differ: in their marks only, in what they mean, or in all; or one name means two lines. */
type Difference = 'style' | 'polarity' | 'name' | 'moved';

/** Two claims on one piece of copper, without a ribbon between. */
interface Clash {
  readonly difference: Difference;
  /** What the bus, or the card that came first, says; what this card says. */
  readonly left: Claim;
  readonly right: Claim;
  /** Whether the card says so only because it takes the table of its bus over. */
  readonly inherited: boolean;
  /** A contact where each is said. */
  readonly at: readonly [number, number];
  /** Where the bus has the name that the card gives to another finger. */
  readonly elsewhere?: { readonly claim: Claim; readonly contact: number };
}

/** One line under two names, or one name on two lines, where a board meets its slot. */
export const nameClash: Rule = {
  id: 'name-clash',
  severity: 'warning',
  summary: 'one line under two names, or one name on two lines',
  *check(view) {
    const groups = new Map<string, Clash[]>();
    for (const clash of clashesOf(view)) {
      const { difference, left, right, inherited } = clash;
      // The members of a vector are written in one place: they are one finding. So is a card made for another bus.
      const ends = [left, right].map(({ owner, source }) =>
        inherited ? owner : `${source.file}:${source.from}`,
      );
      const key = [difference, ...ends].join('\n');
      const list = groups.get(key);
      if (list) list.push(clash);
      else groups.set(key, [clash]);
    }
    for (const group of groups.values()) yield finding(view, group);
  },
};

/** Each pair of claims once, however many boards and slots share it. Linear in the contacts of the boards. */
function* clashesOf({ machine }: View): Iterable<Clash> {
  const told = new Map<Claim, Set<Claim>>();
  const bussed = new Map<string, { claim: Claim; contact: number }>();
  for (const board of machine.boards) {
    for (const socket of board.slot?.instances ?? []) {
      const edge = matingEdge(board.instances, socket);
      if (edge === undefined) continue;
      for (let i = 0; i < edge.pins.claims.length; i++) {
        const right = edge.pins.claims[i];
        if (right?.kind !== 'signal' || right === socket.pins.claims[i] || right.private) continue;
        if (copperAt(edge, i) === 'no') continue;
        const clash = clashAt(machine, socket, edge, i, right, bussed);
        if (clash === undefined || told.get(clash.left)?.has(right)) continue;
        told.set(clash.left, (told.get(clash.left) ?? new Set()).add(right));
        yield clash;
      }
    }
  }
}

function clashAt(
  machine: Machine,
  socket: Instance,
  edge: Instance,
  contact: number,
  right: Claim,
  bussed: Map<string, { claim: Claim; contact: number }>,
): Clash | undefined {
  const left = socket.pins.claims[contact];
  const at = [socket.base + contact, edge.base + contact] as const;
  const inherited = edge.pins.own[contact] === undefined;
  if (left !== undefined && (left.kind === 'rail' || left.kind === 'ground')) return undefined;
  const elsewhere = homeOf(socket, right, contact);
  if (left?.kind === 'signal' && !left.private) {
    const difference = differenceOf(machine, left, right);
    if (difference === undefined) return undefined;
    return {
      difference,
      left,
      right,
      inherited,
      at,
      ...(elsewhere && difference === 'name' ? { elsewhere } : {}),
    };
  }
  if (elsewhere !== undefined && isMoved(edge, elsewhere.index, right, left))
    return { difference: 'moved', left: elsewhere.claim, right, inherited, at, elsewhere };
  if (left?.kind !== 'spare') return undefined;
  // A spare line is bussed: what one card uses it for meets what another does.
  const line = `${socket.backplane?.name}\n${socket.port.bus?.name}\n${contact}`;
  const first = bussed.get(line);
  if (first === undefined) bussed.set(line, { claim: right, contact: at[1] });
  const difference = first && differenceOf(machine, first.claim, right);
  if (first === undefined || difference === undefined) return undefined;
  return { difference, left: first.claim, right, inherited, at: [first.contact, at[1]] };
}

/** Where the bus of a socket has a signal of this name, other than here. */
function homeOf(
  socket: Instance,
  { name }: Claim,
  contact: number,
): { claim: Claim; contact: number; index: number } | undefined {
  const index = homes(socket).get(name);
  if (index === undefined || index === contact || socket.pins.claims[contact]?.name === name)
    return undefined;
  return { claim: socket.pins.claims[index]!, contact: socket.base + index, index };
}

const homeTables = new WeakMap<readonly unknown[], ReadonlyMap<string, number>>();

/** The first contact of each bussed signal of a map. */
function homes({ pins: { claims } }: Instance): ReadonlyMap<string, number> {
  const kept = homeTables.get(claims);
  if (kept) return kept;
  const table = new Map<string, number>();
  claims.forEach((claim, index) => {
    if (claim?.kind === 'signal' && !claim.private && !table.has(claim.name)) table.set(claim.name, index);
  });
  homeTables.set(claims, table);
  return table;
}

/**
 * Whether a card that gives a bus signal's name to another finger means two lines by it. On a finger of which the bus
 * knows nothing, and with the name at home too, the card only tells what that finger is.
 */
function isMoved(edge: Instance, home: number, right: Claim, left: Claim | undefined): boolean {
  return left?.kind === 'spare' || edge.pins.claims[home]?.name !== right.name;
}

const namesOf = ({ name, aliases }: Claim): readonly string[] => [name, ...aliases];

/** Undefined where the two mean one line. */
function differenceOf({ aliases, activeLow }: Machine, left: Claim, right: Claim): Difference | undefined {
  if (namesOf(left).some((name) => namesOf(right).includes(name))) return undefined;
  if (aliases.has(`${left.name}\n${right.name}`)) return undefined;
  const ones = namesOf(left).map((name) => signalName(name, activeLow));
  const others = namesOf(right).map((name) => signalName(name, activeLow));
  const same = ones.flatMap((one) =>
    others
      .filter(({ base }) => base.toUpperCase() === one.base.toUpperCase())
      .map((other) => other.low === one.low),
  );
  if (same.length === 0) return 'name';
  return same.includes(true) ? 'style' : 'polarity';
}

function finding(view: View, group: readonly Clash[]): Finding {
  const [{ difference, left, right, at, elsewhere }] = group as [Clash, ...Clash[]];
  const many = group.length;
  const ours = spokenNames(group.map((clash) => clash.left.name));
  const theirs = spokenNames(group.map((clash) => clash.right.name));
  const place = placeOf(view, at[1]);
  const says = `${right.owner} calls ${place} ${right.name} (${spokenEvidence(right.evidence)})`;
  const known = `${left.name} (${spokenEvidence(left.evidence)})`;
  const rest = many > 1 ? `, and so on: ${theirs} for ${ours}` : '';
  const home = elsewhere && placeOf(view, elsewhere.contact);
  return {
    rule: 'name-clash',
    severity: difference === 'style' ? 'note' : 'warning',
    message: {
      style: `${says}, ${left.owner} marks the same line ${known}${rest}`,
      polarity: `${says}, ${left.owner} calls it ${known}: one of them has the wrong polarity${rest}`,
      name: `${says}, ${left.owner} calls it ${known}${home && elsewhere.claim.owner === left.owner ? ` and has ${right.name} at ${home}` : ''}${rest}`,
      moved: `${says}, but ${left.owner} has ${known} at ${home}: one name on two lines${rest}`,
    }[difference],
    source: right.source,
    path: [
      ...(elsewhere ? [stepAt(view, elsewhere.contact, left.source)] : []),
      ...at.map((node) => stepAt(view, node, right.source)),
    ],
    fix:
      difference === 'style'
        ? `write ${agree(many, 'it', 'them')} one way, or say \`also ${right.name}\` where ${left.name} is said`
        : difference === 'polarity'
          ? `see on the board which level means yes, and correct the other name`
          : difference === 'moved'
            ? `trace both fingers of ${right.owner}, and correct the table that is wrong`
            : `trace the finger; if both names mean one line, say \`also ${right.name}\` where ${left.name} is said`,
    ...withEdits(editsOf(view, group)),
    about: [
      ...new Set(group.flatMap((clash) => [clash.left.name, clash.right.name])),
      left.owner,
      right.owner,
    ],
  };
}

/** Both names said to be one where that may be so; else the card takes over the bus's name, and its lines with it. */
function editsOf(view: View, group: readonly Clash[]): Edit[] {
  const [{ difference, inherited, left, right }] = group as [Clash, ...Clash[]];
  if (inherited || difference === 'moved') return [];
  const renaming = edit(
    `call ${agree(group.length, 'it', 'them')} ${spokenNames(group.map((clash) => clash.left.name))} on ${right.owner} too`,
    ...group.flatMap((clash) => renamed(view, clash)),
  );
  if (difference === 'polarity' || group.some(({ elsewhere }) => elsewhere)) return [renaming];
  const also = group.map((clash) => {
    const { base, pins } = view.nets.instanceOf(clash.at[0]);
    const names = [...clash.left.aliases, clash.right.name].join(', ');
    const places = {
      labels: pins.connector.labels,
      places: contactsOf(pins.claims, clash.left, clash.at[0] - base),
    };
    return saying(clash.left.source, { also: `also ${names}` }, places);
  });
  const declaring = edit(
    `say that both names mean one line: \`also ${spokenNames(group.map((clash) => clash.right.name))}\` at ${left.owner}`,
    ...also,
  );
  return difference === 'style' ? [renaming, declaring] : [declaring, renaming];
}

/** Every contact of a table that one statement gives one name to. */
function contactsOf(claims: Instance['pins']['claims'], claim: Claim, contact: number): number[] {
  const all = claims.flatMap((one, i) => (one === claim ? [i] : []));
  return all.includes(contact) ? all : [contact];
}

/** The name that the other side has, in the card's table and in the lines of the card that speak of it. */
function renamed(view: View, { left, right, at }: Clash): Change[] {
  const card = view.nets.instanceOf(at[1]).board?.card;
  const lines = [...(card?.uses ?? []), ...(card?.biases.flatMap(({ names }) => names) ?? [])];
  const speaking = new Map(
    lines.flatMap(({ name, source }) => (name === right.name ? [[source.from, source] as const] : [])),
  );
  const list = [...speaking.values()].map(
    (source) => ({ kind: 'list', source, from: [right.name], to: [left.name] }) as const,
  );
  return [...sayingAnew(view, [{ node: at[1], claim: right }], writtenClaim(left)), ...list];
}
