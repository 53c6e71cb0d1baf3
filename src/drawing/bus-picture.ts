import { doingsOf } from '../analysis/board-copper.ts';
import { currentsOf } from '../analysis/board-currents.ts';
import { type ChainRun, chainRunsOf, deadEndsOf } from '../analysis/chains.ts';
import { lastReadings } from '../analysis/last-reading.ts';
import { worstFirst } from '../checks/severities.ts';
import type { Finding, View } from '../checks/types.ts';
import { matingEdge } from '../machine/mating.ts';
import type { Chain, Claim } from '../machine/types.ts';
import { crossingOf } from './crossings.ts';
import { type DrawnBus, drawnBusName, netNumbers, spotOf } from './drawn-bus.ts';
import { findingsAt } from './findings-at.ts';
import { beyondOf, endsByName } from './line-ends.ts';
import { GROUPS, type Group, groupsOf, numbered } from './line-groups.ts';
import {
  type BusPicture,
  type Cell,
  columnOf,
  type DrawnFinding,
  type EndMark,
  type LineRow,
} from './picture.ts';

/** What there is to draw: each bus of each backplane, by its name: `CAGE.MAIN`, `CAGE.MAIN P1`. */
const busesOf = ({ machine }: View) =>
  machine.backplanes.flatMap((backplane) =>
    backplane.buses.map(({ place, bus }) => {
      const named = drawnBusName(place, bus);
      return { name: `${backplane.name}.${named}`, named, backplane, place, bus };
    }),
  );

export const busNames = (view: View): string[] => busesOf(view).map(({ name }) => name);

/** Each bus of each backplane as a picture, with these findings on the crossings they name. */
export const busPictures = (view: View, findings: readonly Finding[]): BusPicture[] =>
  busesOf(view).map((one) => pictureOf(view, findings, one));

/** A bus by its name, with these findings. Linear in its contacts and in the findings. */
export function busPicture(view: View, findings: readonly Finding[], name: string): BusPicture | undefined {
  const one = busesOf(view).find((each) => each.name === name);
  return one && pictureOf(view, findings, one);
}

function pictureOf(
  view: View,
  findings: readonly Finding[],
  { named, backplane, place, bus }: ReturnType<typeof busesOf>[number],
): BusPicture {
  const sockets = backplane.slots.map((slot) =>
    slot.instances.find(({ port }) => port.bus === bus && (place === '' || port.name === place)),
  );
  const lines = rowsOf({
    view,
    backplane,
    bus,
    sockets,
    edges: sockets.map((socket) => socket && matingEdge(socket.slot?.board?.instances ?? [], socket)),
    foundAt: findingsAt(findings),
    netNumber: netNumbers(),
    doings: doingsOf(view.machine),
    currentAt: currentsOf(view.machine, view.nets),
    lastReading: lastReadings(view.machine, view.nets),
  });
  return {
    title: view.machine.title,
    backplane: backplane.name,
    bus: named,
    slots: backplane.slots.map((slot) => ({
      label: slot.label,
      board: slot.board?.name ?? '',
      state: slot.state,
      spot: spotOf(slot.board?.source ?? slot.source),
    })),
    lines,
    findings: findingsIn(lines),
  };
}

/** What is found on the crossings of these lines, the worst first. */
function findingsIn(lines: readonly LineRow[]): DrawnFinding[] {
  const cells = new Map<Finding, Cell[]>();
  lines.forEach(({ crossings }, row) => {
    crossings.forEach((crossing, slot) => {
      for (const finding of crossing?.origin.findings ?? []) {
        const its = cells.get(finding) ?? [];
        its.push({ row, column: columnOf(slot) });
        cells.set(finding, its);
      }
    });
  });
  return worstFirst([...cells.keys()]).map((finding) => {
    const { rule, severity, message } = finding;
    return { rule, severity, message, cells: cells.get(finding)! };
  });
}

/** A line while its contacts are gathered: by slot, indices into the bus's connector. */
interface Gathered {
  readonly name: string;
  readonly claim: Claim | undefined;
  readonly chain: Chain | undefined;
  readonly first: number;
  readonly bySlot: number[][];
}

function rowsOf(drawn: DrawnBus): LineRow[] {
  const gathered = [...gather(drawn).values()];
  const groups = groupsOf(gathered.flatMap(({ name, claim }) => (claim?.kind === 'signal' ? [name] : [])));
  const runs = new Map(
    chainRunsOf(drawn.view.machine, drawn.view.nets)
      .filter(({ backplane }) => backplane === drawn.backplane)
      .map((run) => [run.chain, run]),
  );
  const ends = endsByName(drawn);
  const ordered = gathered.map((line) => ({ line, group: groupOf(line, groups) }));
  ordered.sort((a, b) => GROUPS.indexOf(a.group) - GROUPS.indexOf(b.group) || inGroup(a, b));
  return ordered.map(({ line, group }) =>
    rowOf(drawn, line, group, line.chain && runs.get(line.chain), ends),
  );
}

/** A line for each name, and for each contact of which no name is said; what holds in some slots only is apart. */
function gather({ bus, sockets }: DrawnBus): ReadonlyMap<string, Gathered> {
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
        line = { name, claim, chain, first: contact, bySlot: sockets.map(() => []) };
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
  drawn: DrawnBus,
  line: Gathered,
  group: Group,
  run: ChainRun | undefined,
  ends: ReadonlyMap<string, readonly EndMark[]>,
): LineRow {
  const { sockets, edges, bus, view } = drawn;
  const { of } = view.machine.nets;
  const stopAt = new Map(run?.stops.map((stop) => [stop.slot, stop]));
  const deadEnds = run && deadEndsOf(run);
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
      const there = line.bySlot[slot]!;
      const contacts = chain ? inAndOut(chain, there) : there;
      if (socket === undefined || contacts.length === 0) return undefined;
      const stop = stopAt.get(socket.slot!);
      const link = chain && stop && { chain, stop, deadEnd: deadEnds!.has(stop) };
      return crossingOf(drawn, socket, edges[slot], contacts, link);
    }),
    links: nets.slice(1).map((net, i) => {
      const next = sockets[i + 1]?.slot;
      return chain ? next !== undefined && stopAt.get(next)?.linked === true : net >= 0 && net === nets[i];
    }),
    chain: chain !== undefined,
    ends: [line.name, ...(line.claim?.aliases ?? [])].flatMap((name) => ends.get(name) ?? []),
    beyond: beyondOf(drawn, own),
    spot: line.claim && spotOf(line.claim.source),
  };
}

/** Of a chain's contacts, those that a slot has. */
const inAndOut = ({ input, output }: Chain, there: readonly number[]): number[] =>
  [input, output].filter((contact) => there.includes(contact));

const netsIn = ({ sockets, view }: DrawnBus, slot: number, contacts: readonly number[]): number[] =>
  contacts.map((contact) => view.machine.nets.of[sockets[slot]!.base + contact]!);
