import { worstOf } from '../checks/severities.ts';
import type { Finding } from '../checks/types.ts';
import type { Declared, Evidence, EvidenceKind, Instance, Slot } from '../machine/types.ts';
import { briefReading } from './brief.ts';
import { type DrawnBus, spotOf } from './drawn-bus.ts';
import { type ChainLink, type Done, doneAt, fingersAt, isDivided } from './finger-roles.ts';
import type { Crossing, Spot } from './picture.ts';

/** What happens where a line with these contacts meets a slot and an edge in it; of a chain, its in contact first. */
export function crossingOf(
  drawn: DrawnBus,
  socket: Instance,
  edge: Instance | undefined,
  contacts: readonly number[],
  link: ChainLink | undefined,
): Crossing {
  const { view } = drawn;
  const fingers = fingersAt(socket, edge, contacts);
  const done = doneAt(drawn, { socket, edge, contacts, fingers, link });
  const [first, last] = [contacts[0]!, contacts.at(-1)!];
  const net = view.machine.nets.of[socket.base + first]!;
  const out = link && view.machine.nets.of[socket.base + last]!;
  const amps = done.role === 'takes' ? done.amps : ampsAt(drawn, fingers, done, link);
  const read = readingAt(drawn, socket, edge, contacts);
  const findings = findingsAt(drawn, socket, edge, contacts);
  const finding = findings.length === 0 ? undefined : worstOf(findings.map(({ severity }) => severity));
  const all: Declared[] = [...done.said, ...done.biases];
  for (const pins of [edge?.pins, socket.pins]) {
    for (const contact of contacts) {
      const claim = pins?.claims[contact];
      if (claim) all.push(claim);
    }
  }
  const parted = out !== undefined && out !== net;
  return {
    role: done.role,
    evidence: weakest(all),
    ...(amps === undefined ? {} : { amps }),
    ...(read === undefined ? {} : { reading: read }),
    ...(done.biases.length > 0 ? { biases: done.biases.map(({ word }) => word) } : {}),
    ...(finding ? { finding } : {}),
    net: drawn.netNumber(net),
    ...(parted ? { out: drawn.netNumber(out) } : {}),
    origin: {
      contacts: contacts.map((contact) => socket.pins.connector.labels[contact]).join(' '),
      spots: spotsOf(all, socket.slot as Slot),
      net,
      ...(parted ? { out } : {}),
      findings,
    },
  };
}

/** The last that was read at these contacts of a slot or its board. */
function readingAt(
  { view, lastReading }: DrawnBus,
  socket: Instance,
  edge: Instance | undefined,
  contacts: readonly number[],
): string | undefined {
  if (view.machine.readings.length === 0) return undefined;
  const nodes = [socket, edge].flatMap((one) => (one ? contacts.map((contact) => one.base + contact) : []));
  const read = lastReading(nodes);
  return read && briefReading(read);
}

/** Each once. */
function findingsAt(
  { foundAt }: DrawnBus,
  socket: Instance,
  edge: Instance | undefined,
  contacts: readonly number[],
): readonly Finding[] {
  const found: Finding[] = [];
  for (const contact of contacts) {
    found.push(...foundAt(socket, contact));
    if (edge) found.push(...foundAt(edge, contact));
  }
  return found.length < 2 ? found : [...new Set(found)];
}

/** What the rules reckon. A board drives a chain that it starts at its out; all others hear it at their in. */
function ampsAt(
  drawn: DrawnBus,
  fingers: readonly number[],
  { role }: Done,
  link: ChainLink | undefined,
): number | undefined {
  const finger = link && role === 'starts' ? fingers.at(-1) : fingers[0];
  if (finger === undefined) return undefined;
  const amps = drawn.currentAt(finger);
  return amps === undefined || isDivided(drawn, fingers) ? undefined : amps;
}

/** Each place once. */
function spotsOf(all: readonly Declared[], slot: Slot): [Spot, ...Spot[]] {
  const spots: Spot[] = [];
  for (const { source } of all) {
    const spot = spotOf(source);
    if (!spots.some((one) => one.from === spot.from && one.file === spot.file)) spots.push(spot);
  }
  const [first = spotOf(slot.source), ...others] = spots;
  return [first, ...others];
}

/** From what a guess is to what a meter has shown. */
const WEIGHT: readonly EvidenceKind[] = ['guess', 'silkscreen', 'manual', 'trace', 'meter'];

/** The weakest of what is said; what says nothing of how it is known counts only where nothing else does. */
function weakest(all: readonly { readonly evidence: Evidence }[]): EvidenceKind | undefined {
  let least: EvidenceKind | undefined;
  for (const { evidence } of all) {
    const { kind } = evidence;
    if (kind !== undefined && (least === undefined || WEIGHT.indexOf(kind) < WEIGHT.indexOf(least)))
      least = kind;
  }
  return least;
}
