import { worstOf } from '../checks/severities.ts';
import { spokenPlace } from '../checks/terminators.ts';
import type { Finding, Severity, Step } from '../checks/types.ts';
import type { Instance, Machine, Source } from '../machine/types.ts';
import type { DrawnBus } from './drawn-bus.ts';
import { type Gathered, namesOf } from './gathered.ts';
import type { End } from './line-ends.ts';
import type { Spot } from './picture.ts';

/** What is found at a contact of a connector. */
export type FindingsAt = (instance: Instance, contact: number) => readonly Finding[];

/** Where findings stand in a bus: on a crossing, on a resistor or feed, or on a line as a whole. */
export interface FoundOn {
  readonly at: FindingsAt;
  readonly line: (line: Gathered) => readonly Finding[];
  readonly end: (end: End) => readonly Finding[];
}

/** What a drawn thing shows of what is found there. */
export function shownOf(findings: readonly Finding[]): {
  readonly finding?: Severity;
  readonly origin: { readonly findings: readonly Finding[] };
} {
  const finding = worstOf(findings.map(({ severity }) => severity));
  return { ...(finding ? { finding } : {}), origin: { findings } };
}

type Bus = Omit<DrawnBus, 'foundAt'>;
const NONE: readonly Finding[] = [];

/** Places each finding, once at each place. Linear in the findings with their paths. */
export function foundOn(
  drawn: Bus,
  lines: readonly Gathered[],
  ends: ReadonlyMap<Gathered, readonly End[]>,
  findings: readonly Finding[],
): FoundOn {
  const placed = { node: listed<number>(), line: listed<Gathered>(), end: listed<End>() };
  const look = lookOf(drawn, lines);
  for (const finding of findings) {
    const touched = new Set<Gathered>();
    const cross = (line: Gathered, slot: number | undefined): boolean => {
      const [contact] = (slot === undefined ? undefined : line.bySlot[slot]) ?? [];
      if (slot === undefined || contact === undefined) return false;
      placed.node.add(drawn.sockets[slot]!.base + contact, finding);
      touched.add(line);
      return true;
    };
    const onEnd = (line: Gathered, source: Source): void => {
      for (const end of ends.get(line) ?? []) {
        if (!isWithin(end.spot, source)) continue;
        placed.end.add(end, finding);
        touched.add(line);
      }
    };
    const whole = new Set<Gathered>();
    for (const step of finding.path) {
      const met = look.contact(step);
      if (met?.line) {
        if (met.slot === undefined || look.isForLine(met, finding)) whole.add(met.line);
        else cross(met.line, met.slot);
        continue;
      }
      const { board, name } = look.onBoard(step);
      for (const line of look.named(name)) {
        // A finding tells the way on one board, and names those that are like it.
        if (board !== undefined)
          for (const one of [board, ...finding.about]) cross(line, look.slotOf.get(one));
        else onEnd(line, step.source);
      }
    }
    // A contact that stands for its line: what is found concerns the boards that are named, where they are on it.
    for (const line of whole)
      if (!touched.has(line)) for (const name of finding.about) cross(line, look.slotOf.get(name));
    if (look.isConcerned(finding))
      for (const name of finding.about)
        for (const line of look.named(name)) if (look.mayMean(line, name, finding)) whole.add(line);
    for (const line of whole) if (!touched.has(line)) onEnd(line, finding.source);
    for (const line of whole) if (!touched.has(line)) placed.line.add(line, finding);
  }
  return {
    at: ({ base }, contact) => placed.node.of(base + contact),
    line: placed.line.of,
    end: placed.end.of,
  };
}

/** Findings by where they stand. */
function listed<Key>() {
  const map = new Map<Key, Finding[]>();
  return {
    add(key: Key, finding: Finding): void {
      const its = map.get(key);
      if (its === undefined) map.set(key, [finding]);
      else if (its.at(-1) !== finding) its.push(finding);
    },
    of: (key: Key): readonly Finding[] => map.get(key) ?? NONE,
  };
}

/** A contact of a path: on which of the lines, and in which slot; a header of the backplane is in none. */
interface Met {
  readonly line: Gathered | undefined;
  readonly slot?: number;
  readonly instance: Instance;
  readonly contact: string;
  readonly net: number;
}

/** What the words of a finding mean in a bus. */
function lookOf({ view, backplane, sockets, edges }: Bus, lines: readonly Gathered[]) {
  const { machine } = view;
  const byPath = new Map(machine.instances.map((instance) => [instance.path, instance]));
  const byName = new Map<string, Gathered[]>();
  for (const line of lines)
    for (const name of new Set(namesOf(line))) byName.set(name, [...(byName.get(name) ?? []), line]);
  const inSlot = lazily(() => contactsOf(sockets, lines));
  const onNet = lazily(() => netsOf(machine, sockets, lines));
  const slotOf = new Map(
    backplane.slots.flatMap(({ board, index }) => (board ? [[board.name, index] as const] : [])),
  );
  const here = new Set([
    backplane.name,
    ...slotOf.keys(),
    ...[...backplane.slots.flatMap(({ instances }) => instances), ...backplane.portInstances].map(
      ({ path }) => path,
    ),
  ]);
  const supplies = new Set(machine.supplies.map(({ name }) => name));
  const isRail = (name: string): boolean =>
    supplies.has(name) || machine.railNames.rails.has(name) || machine.railNames.grounds.has(name);
  const reworked = new Set(
    backplane.rework.flatMap(({ kind, places }) =>
      kind === 'cut' ? [] : places.map(({ place }) => `${backplane.name}.${place}`),
    ),
  );
  const biasings = lazily(
    () => new Map(machine.biasings.map((one) => [`${spokenPlace(one)}\n${one.name}`, one])),
  );

  function contactOf({ contact }: Step): Met | undefined {
    const dot = contact.lastIndexOf('.');
    const instance = byPath.get(contact.slice(0, dot));
    const index = instance?.pins.connector.indexOf.get(contact.slice(dot + 1));
    if (instance === undefined || index === undefined) return undefined;
    const slot = instance.slot?.index ?? instance.board?.slot?.index;
    const net = machine.nets.of[instance.base + index]!;
    const isDrawn = slot !== undefined && (sockets[slot] === instance || edges[slot] === instance);
    if (isDrawn) return { line: inSlot()[slot]![index], slot, instance, contact, net };
    const isHeader = instance.backplane === backplane && instance.slot === undefined;
    return { line: isHeader ? onNet().get(net)?.[0] : undefined, instance, contact, net };
  }

  return {
    slotOf,
    contact: contactOf,
    named: (name: string): readonly Gathered[] => byName.get(name) ?? [],
    /** A name on a board, or a line with a resistor of it: `CPU +5V`, `on TELE`. */
    onBoard({ contact, signal }: Step): { readonly board?: string | undefined; readonly name: string } {
      const space = contact.indexOf(' ');
      const owner = contact.slice(0, Math.max(space, 0));
      if (slotOf.has(owner)) return { board: owner, name: contact.slice(space + 1) };
      return {
        board: space < 0 ? undefined : biasings().get(`${contact}\n${signal}`)?.board?.name,
        name: signal,
      };
    },
    /** Whether a slot's contact is only the first that its line has; not where that very contact is meant. */
    isForLine({ line, instance, contact }: Met, { about }: Finding): boolean {
      if (instance.slot === undefined || line === undefined || line.chain) return false;
      if (line.claim === undefined || line.claim.name === '' || line.claim.private) return false;
      return !reworked.has(contact) && !about.includes(contact) && !about.includes(instance.path);
    },
    /** Whether a finding is about this backplane or a board in it, or about rails and supplies alone. */
    isConcerned: ({ about }: Finding): boolean =>
      about.some((name) => here.has(name)) || about.every((name) => isRail(name) || byName.has(name)),
    /** Not where the path tells that another line of that name is meant, as on a header of a board. */
    mayMean(line: Gathered, name: string, { path }: Finding): boolean {
      const met = path.filter(({ signal }) => signal === name).flatMap((step) => contactOf(step) ?? []);
      return met.length === 0 || met.some(({ net }) => onNet().get(net)?.includes(line) === true);
    },
  };
}

/** By slot and contact: the line. */
function contactsOf(
  sockets: Bus['sockets'],
  lines: readonly Gathered[],
): readonly (Gathered | undefined)[][] {
  const inSlot: (Gathered | undefined)[][] = sockets.map(() => []);
  for (const line of lines)
    line.bySlot.forEach((contacts, slot) => {
      for (const contact of contacts) inSlot[slot]![contact] = line;
    });
  return inSlot;
}

/** By net: the lines on it. */
function netsOf(
  { nets }: Machine,
  sockets: Bus['sockets'],
  lines: readonly Gathered[],
): ReadonlyMap<number, readonly Gathered[]> {
  const onNet = new Map<number, Gathered[]>();
  for (const line of lines)
    line.bySlot.forEach((contacts, slot) => {
      for (const contact of contacts) {
        const net = nets.of[sockets[slot]!.base + contact]!;
        const its = onNet.get(net);
        if (its === undefined) onNet.set(net, [line]);
        else if (its.at(-1) !== line) its.push(line);
      }
    });
  return onNet;
}

function lazily<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

const isWithin = (spot: Spot, { file, from, to }: Source): boolean =>
  spot.file === file && spot.from >= from && spot.to <= to;
