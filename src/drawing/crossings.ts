import type { ChainStop } from '../analysis/chains.ts';
import { worstOf } from '../checks/severities.ts';
import type { Board, CardUse, Evidence, EvidenceKind, Instance, Slot, Source } from '../machine/types.ts';
import { briefReading } from './brief.ts';
import { type DrawnBus, spotOf } from './drawn-bus.ts';
import type { Crossing, Role } from './picture.ts';

/** What happens where a line with these contacts meets a slot and an edge in it; `stop` where it is a daisy chain. */
export function crossingOf(
  drawn: DrawnBus,
  socket: Instance,
  edge: Instance | undefined,
  contacts: readonly number[],
  stop: ChainStop | undefined,
): Crossing {
  const { view, foundAt, currentAt, lastReading } = drawn;
  const slot = socket.slot as Slot;
  const { board } = slot;
  const claim = socket.pins.claims[contacts[0]!];
  const net = view.machine.nets.of[socket.base + contacts[0]!]!;
  const own = edge?.pins.claims[contacts[0]!];
  const done = board && edge ? doneBy(drawn, board, edge, contacts, stop) : atEmpty(slot, stop);
  const bias = board && view.nets.of(net).biasings.find((one) => one.board === board)?.bias.word;
  const fingers = edge ? contacts.map((contact) => edge.base + contact) : [];
  const amps = done.amps ?? (board && firstOf(fingers, (finger) => currentAt(finger, board)));
  const read = lastReading([...contacts.map((contact) => socket.base + contact), ...fingers]);
  const reading = read && briefReading(read);
  const findings = [
    ...new Set(
      contacts.flatMap((contact) => [...foundAt(socket, contact), ...(edge ? foundAt(edge, contact) : [])]),
    ),
  ];
  const finding = worstOf(findings.map(({ severity }) => severity));
  return {
    role: done.role,
    evidence: weakest(claim, own, done.said),
    ...(amps === undefined ? {} : { amps }),
    ...(reading === undefined ? {} : { reading }),
    ...(bias ? { bias } : {}),
    ...(finding ? { finding } : {}),
    net: drawn.netNumber(net),
    origin: {
      contacts: contacts.map((contact) => socket.pins.connector.labels[contact]).join(' '),
      spot: spotOf((done.said ?? own ?? claim ?? slot).source),
      net,
      findings,
    },
  };
}

/** What is first found among these: contacts of one line are alike, and of a chain's two, one at most takes current. */
function firstOf(
  contacts: readonly number[],
  find: (contact: number) => number | undefined,
): number | undefined {
  for (const contact of contacts) {
    const found = find(contact);
    if (found !== undefined) return found;
  }
  return undefined;
}

interface Done {
  readonly role: Role;
  readonly said?: { readonly evidence: Evidence; readonly source: Source };
  readonly amps?: number;
}

function atEmpty(slot: Slot, stop: ChainStop | undefined): Done {
  if (stop?.bridged) return { role: 'bridge' };
  // Behind the last board nobody waits for the chain.
  const awaited = slot.backplane.slots.some(({ index, state }) => index > slot.index && state !== 'empty');
  return {
    role: slot.state === 'unsaid' || slot.state === 'fitted' ? 'unknown' : stop && awaited ? 'stops' : 'open',
  };
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
  { view }: DrawnBus,
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

/** From what a guess is to what a meter has shown. */
const WEIGHT: readonly EvidenceKind[] = ['guess', 'silkscreen', 'manual', 'trace', 'meter'];

/** The weakest of what is said; what says nothing of how it is known counts only where nothing else does. */
function weakest(...all: readonly ({ readonly evidence: Evidence } | undefined)[]): EvidenceKind | undefined {
  let least: EvidenceKind | undefined;
  for (const one of all) {
    const kind = one?.evidence.kind;
    if (kind !== undefined && (least === undefined || WEIGHT.indexOf(kind) < WEIGHT.indexOf(least)))
      least = kind;
  }
  return least;
}
