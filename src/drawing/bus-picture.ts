import { type ChainStop, chainRunsOf } from '../analysis/chains.ts';
import { placeOf, spokenAmount } from '../checks/explain.ts';
import type { Finding, Severity, View } from '../checks/types.ts';
import { matingEdge } from '../machine/mating.ts';
import type {
  Backplane,
  Biasing,
  Board,
  Bus,
  CardUse,
  Chain,
  Claim,
  Evidence,
  EvidenceKind,
  Instance,
  Slot,
  Source,
} from '../machine/types.ts';
import { GROUPS, type Group, groupsOf, numbered } from './line-groups.ts';
import type { BusPicture, Crossing, EndMark, LineRow, Role, Spot } from './picture.ts';

/** Each bus of each backplane as a picture, with these findings on the crossings they name. Linear in the contacts. */
export function busPictures(view: View, findings: readonly Finding[]): BusPicture[] {
  const { machine } = view;
  const severities = worstByPlace(findings);
  return machine.backplanes.flatMap((backplane) =>
    backplane.buses.map(({ place, bus }) => {
      const sockets = backplane.slots.map((slot) =>
        slot.instances.find(({ port }) => port.bus === bus && (place === '' || port.name === place)),
      );
      return {
        title: machine.title,
        backplane: backplane.name,
        bus: place === '' ? bus.name : `${bus.name} ${place}`,
        slots: backplane.slots.map((slot) => ({
          label: slot.label,
          board: slot.board?.name ?? '',
          state: slot.state,
          spot: spotOf(slot.board?.source ?? slot.source),
        })),
        lines: rowsOf({ view, backplane, bus, sockets, severities }),
      };
    }),
  );
}

export const spotOf = ({ file, from, to }: Source): Spot => ({ file, from, to });

const RANK: readonly Severity[] = ['note', 'question', 'warning', 'error'];

function worstByPlace(findings: readonly Finding[]): ReadonlyMap<string, Severity> {
  const worst = new Map<string, Severity>();
  for (const { path, severity } of findings) {
    for (const { contact } of path) {
      const before = worst.get(contact);
      if (before === undefined || RANK.indexOf(before) < RANK.indexOf(severity)) worst.set(contact, severity);
    }
  }
  return worst;
}

/** A bus on its way through the slots of a backplane; `sockets` by slot. */
interface Drawn {
  readonly view: View;
  readonly backplane: Backplane;
  readonly bus: Bus;
  readonly sockets: readonly (Instance | undefined)[];
  readonly severities: ReadonlyMap<string, Severity>;
}

/** A line while its contacts are gathered: by slot, indices into the bus's connector. */
interface Gathered {
  readonly key: string;
  readonly name: string;
  readonly claim: Claim | undefined;
  readonly chain: Chain | undefined;
  readonly first: number;
  readonly bySlot: number[][];
}

function rowsOf(drawn: Drawn): LineRow[] {
  const gathered = [...gather(drawn).values()];
  const groups = groupsOf(gathered.flatMap(({ name, claim }) => (claim?.kind === 'signal' ? [name] : [])));
  const stops = new Map(
    chainRunsOf(drawn.view.machine, drawn.view.nets)
      .filter(({ backplane }) => backplane === drawn.backplane)
      .map((run) => [run.chain, run.stops]),
  );
  const ends = endsByNet(drawn);
  const ordered = gathered.map((line) => ({ line, group: groupOf(line, groups) }));
  ordered.sort((a, b) => GROUPS.indexOf(a.group) - GROUPS.indexOf(b.group) || inGroup(a, b));
  return ordered.map(({ line, group }) =>
    rowOf(drawn, line, group, line.chain && stops.get(line.chain), ends),
  );
}

/** A line for each name, and for each contact of which no name is said; what holds in some slots only is apart. */
function gather({ bus, sockets }: Drawn): ReadonlyMap<string, Gathered> {
  const lines = new Map<string, Gathered>();
  const chains = new Map(
    bus.chains.flatMap((chain) => [[chain.input, chain] as const, [chain.output, chain] as const]),
  );
  sockets.forEach((socket, slot) => {
    socket?.pins.claims.forEach((claim, contact) => {
      const chain = claim?.kind === 'signal' ? chains.get(contact) : undefined;
      const name = chain?.name ?? nameOf(claim);
      const isLine = claim !== undefined && claim.name !== '' && !claim.private;
      const key = chain
        ? `chain ${chain.name}`
        : isLine
          ? `${claim.kind} ${name}`
          : `contact ${contact} ${name}`;
      let line = lines.get(key);
      if (line === undefined) {
        line = { key, name, claim, chain, first: contact, bySlot: sockets.map(() => []) };
        lines.set(key, line);
      }
      line.bySlot[slot]!.push(contact);
    });
  });
  return lines;
}

const nameOf = (claim: Claim | undefined): string =>
  claim === undefined ? 'not said' : claim.name === '' ? claim.kind : claim.name;

function groupOf({ claim, chain, name }: Gathered, groups: ReadonlyMap<string, Group>): Group {
  if (chain) return 'chains';
  if (claim?.kind === 'rail' || claim?.kind === 'ground') return 'power';
  return claim?.kind === 'signal' && !claim.private ? (groups.get(name) ?? 'control') : 'unknown';
}

type Sorted = { readonly line: Gathered; readonly group: Group };

/** Words by their numbers, all else by its first contact. */
function inGroup(a: Sorted, b: Sorted): number {
  if (a.group !== 'address' && a.group !== 'data') return a.line.first - b.line.first;
  const [one, other] = [numbered(a.line.name)!, numbered(b.line.name)!];
  return one.stem.localeCompare(other.stem) || one.number - other.number;
}

function rowOf(
  drawn: Drawn,
  line: Gathered,
  group: Group,
  stops: readonly ChainStop[] | undefined,
  ends: ReadonlyMap<number, readonly EndMark[]>,
): LineRow {
  const { sockets, bus, view } = drawn;
  const { of } = view.machine.nets;
  const stopAt = new Map(stops?.map((stop) => [stop.slot, stop]));
  const nets = sockets.map((socket, slot) => {
    const [contact] = line.bySlot[slot]!;
    return socket && contact !== undefined ? of[socket.base + contact]! : -1;
  });
  const own = [...new Set(line.bySlot.flatMap((contacts, slot) => netsIn(drawn, slot, contacts)))];
  const labels = [...new Set(line.bySlot.flat())]
    .sort((a, b) => a - b)
    .map((one) => bus.pins.connector.labels[one]!);
  const chain = line.chain;
  const [input, output] = chain
    ? [chain.input, chain.output].map((one) => bus.pins.connector.labels[one]!)
    : [];
  return {
    name: line.name,
    contacts: chain ? `${input} > ${output}` : labels.join(' '),
    group,
    crossings: sockets.map((socket, slot) => {
      const contacts = line.bySlot[slot]!;
      return socket && contacts.length > 0
        ? crossingOf(drawn, socket, contacts, stopAt.get(socket.slot!))
        : undefined;
    }),
    links: nets.slice(1).map((net, i) => {
      const next = sockets[i + 1]?.slot;
      return chain ? next !== undefined && stopAt.get(next)?.linked === true : net >= 0 && net === nets[i];
    }),
    chain: chain !== undefined,
    ends: own.flatMap((net) => ends.get(net) ?? []),
    beyond: beyondOf(drawn, own),
    spot: line.claim && spotOf(line.claim.source),
  };
}

const netsIn = ({ sockets, view }: Drawn, slot: number, contacts: readonly number[]): number[] =>
  contacts.map((contact) => view.machine.nets.of[sockets[slot]!.base + contact]!);

// ---- what a board does ----

function crossingOf(
  drawn: Drawn,
  socket: Instance,
  contacts: readonly number[],
  stop: ChainStop | undefined,
): Crossing {
  const { view, severities } = drawn;
  const slot = socket.slot as Slot;
  const { board } = slot;
  const claim = socket.pins.claims[contacts[0]!];
  const net = view.machine.nets.of[socket.base + contacts[0]!]!;
  const edges = board?.instances.filter(({ kind }) => kind === 'edge') ?? [];
  const edge = matingEdge(edges, socket);
  const places = contacts.flatMap((contact) => [
    placeOf(view, socket.base + contact),
    ...(edge ? [placeOf(view, edge.base + contact)] : []),
  ]);
  const own = edge?.pins.claims[contacts[0]!];
  const done = board && edge ? doneBy(drawn, board, edge, contacts, stop) : atEmpty(slot, stop);
  const bias = board && view.nets.of(net).biasings.find((one) => one.board === board)?.bias.word;
  const finding = worst(places.flatMap((place) => severities.get(place) ?? []));
  return {
    contacts: contacts.map((contact) => socket.pins.connector.labels[contact]).join(' '),
    role: done.role,
    evidence: weakest([claim, own, done.said].flatMap((one) => one?.evidence ?? [])),
    ...(done.amps === undefined ? {} : { amps: done.amps }),
    ...(bias ? { bias } : {}),
    ...(finding ? { finding } : {}),
    spot: spotOf((done.said ?? own ?? claim ?? slot).source),
    net,
  };
}

interface Done {
  readonly role: Role;
  readonly said?: { readonly evidence: Evidence; readonly source: Source };
  readonly amps?: number;
}

function atEmpty(slot: Slot, stop: ChainStop | undefined): Done {
  if (stop?.bridged) return { role: 'bridge' };
  return { role: slot.state === 'unsaid' || slot.state === 'fitted' ? 'unknown' : stop ? 'stops' : 'open' };
}

const DOES: Readonly<Record<CardUse['kind'], Role>> = {
  drives: 'drives',
  transceives: 'both',
  receives: 'receives',
  pulls: 'pulls',
  starts: 'starts',
  passes: 'passes',
  untouched: 'untouched',
};

function doneBy(
  { view }: Drawn,
  board: Board,
  edge: Instance,
  contacts: readonly number[],
  stop: ChainStop | undefined,
): Done {
  const { card } = board;
  if (stop) {
    const said = stop.use ? { said: stop.use } : {};
    if (stop.doing === 'starts' || stop.doing === 'passes') return { role: stop.doing, ...said };
    if (stop.doing === 'ends') return { role: 'receives', ...said };
    if (stop.bridged) return { role: 'bridge', ...said };
    return { role: stop.doing === 'unsaid' ? 'unknown' : 'stops', ...said };
  }
  const own = edge.pins.claims[contacts[0]!];
  const names = new Set([own?.name ?? '', ...(own?.aliases ?? [])]);
  const take = card.takes.find(
    ({ rail, at }) => names.has(rail) && (at === undefined || at === edge.port.name),
  );
  if (take)
    return { role: 'takes', said: take, ...(take.current === undefined ? {} : { amps: take.current }) };
  const make = card.makes.find(({ rail }) => names.has(rail));
  if (make) return { role: 'makes', said: make };
  if (own?.kind === 'ground') return { role: 'ground' };
  const { of } = view.machine.nets;
  const uses = contacts.flatMap((contact) =>
    view.nets.of(of[edge.base + contact]!).uses.filter((use) => use.board === board),
  );
  const [use] = uses;
  if (use === undefined) return { role: card.closed || own?.kind === 'spare' ? 'untouched' : 'unknown' };
  const roles = new Set(uses.map(({ card: one }) => DOES[one.kind]));
  const both = roles.has('both') || (roles.has('receives') && (roles.has('drives') || roles.has('pulls')));
  return { role: both ? 'both' : DOES[use.card.kind], said: use.card };
}

const worst = (severities: readonly Severity[]): Severity | undefined =>
  [...severities].sort((a, b) => RANK.indexOf(b) - RANK.indexOf(a))[0];

/** From what a guess is to what a meter has shown. */
const WEIGHT: readonly (EvidenceKind | undefined)[] = [
  undefined,
  'guess',
  'silkscreen',
  'manual',
  'trace',
  'meter',
];

/** The weakest of what is said; what says nothing of how it is known counts only where nothing else does. */
function weakest(all: readonly Evidence[]): EvidenceKind | undefined {
  const kinds = all.flatMap(({ kind }) => kind ?? []);
  return kinds.sort((a, b) => WEIGHT.indexOf(a) - WEIGHT.indexOf(b))[0];
}

// ---- what is at its ends, and elsewhere ----

/** Resistors of the backplane and rails that arrive, by net. */
function endsByNet({ view, backplane, bus, sockets }: Drawn): ReadonlyMap<number, readonly EndMark[]> {
  const ends = new Map<number, EndMark[]>();
  const add = (net: number, mark: EndMark): void => {
    ends.set(net, [...(ends.get(net) ?? []), mark]);
  };
  const { of } = view.machine.nets;
  for (const biasing of view.machine.biasings) {
    if (biasing.backplane !== backplane) continue;
    const { bias, source } = biasing;
    add(of[biasing.node]!, {
      kind: bias.word,
      gap: gapOf(backplane, biasing),
      text: bias.legs.map(({ ohms, rail }) => `${spokenAmount(ohms, 'ohm')} to ${rail}`).join(', '),
      guess: bias.evidence.kind === 'guess',
      spot: spotOf(source),
    });
  }
  const socket = sockets.find((one) => one !== undefined);
  for (const feed of backplane.feeds) {
    const own = feed.contacts.find(({ instanceBus }) => instanceBus === bus);
    const contact = own?.contact ?? bus.pins.claims.findIndex((claim) => claim?.name === feed.rail);
    if (socket === undefined || contact < 0) continue;
    add(of[socket.base + contact]!, {
      kind: 'feed',
      gap: 0,
      text: `from ${feed.supply.name}`,
      guess: feed.evidence.kind === 'guess',
      spot: spotOf(feed.source),
    });
  }
  return ends;
}

/** The gap between slots where a resistor sits; behind the last slot where that is not said. */
function gapOf({ slots }: Backplane, { bias: { place } }: Biasing): number {
  const index = slots.findIndex(({ label }) => label === (place?.of.split('.').at(-2) ?? place?.of));
  if (place === undefined || index < 0) return slots.length;
  return place.word === 'before' ? index : index + 1;
}

/** Contacts of these nets that are not of this bus's slots or the boards in them. */
function beyondOf({ view, backplane }: Drawn, nets: readonly number[]): string[] {
  const { start, members } = view.machine.nets;
  const places: string[] = [];
  for (const net of nets) {
    for (let i = start[net]!; i < start[net + 1]!; i++) {
      const node = members[i]!;
      if (node >= view.machine.contactCount) break;
      const { kind, slot, board } = view.nets.instanceOf(node);
      if (slot?.backplane === backplane) continue;
      if (kind === 'edge' && board?.slot?.backplane === backplane) continue;
      places.push(placeOf(view, node));
    }
  }
  return places;
}
