import { doingsOf } from '../analysis/board-copper.ts';
import { currentsOf } from '../analysis/board-currents.ts';
import { type ChainRun, chainRunsOf, deadEndsOf } from '../analysis/chains.ts';
import { lastReadings } from '../analysis/last-reading.ts';
import { worstFirst } from '../checks/severities.ts';
import type { Finding, View } from '../checks/types.ts';
import { matingEdge } from '../machine/mating.ts';
import type { Chain } from '../machine/types.ts';
import { linksOf } from './bus-trace.ts';
import { crossingOf } from './crossings.ts';
import { type DrawnBus, drawnBusName, netNumbers, spotOf } from './drawn-bus.ts';
import { type FoundOn, foundOn, shownOf } from './findings-at.ts';
import { type Gathered, gather, namesOf } from './gathered.ts';
import { beyondOf, type End, endsOf } from './line-ends.ts';
import { GROUPS, type Group, groupsOf, numbered } from './line-groups.ts';
import {
  type BusPicture,
  type Cell,
  columnOf,
  columnOfGap,
  type DrawnFinding,
  type EndMark,
  HEAD,
  type LineRow,
} from './picture.ts';
import { isSame } from './places.ts';

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
  const drawn = {
    view,
    backplane,
    place,
    bus,
    sockets,
    edges: sockets.map((socket) => socket && matingEdge(socket.slot?.board?.instances ?? [], socket)),
    netNumber: netNumbers(),
    doings: doingsOf(view.machine),
    currentAt: currentsOf(view.machine, view.nets),
    lastReading: lastReadings(view.machine, view.nets),
  };
  const gathered = gather(drawn);
  const ends = endsOf(drawn, gathered);
  const found = foundOn(drawn, gathered, ends, findings);
  const lines = rowsOf({ ...drawn, foundAt: found.at }, gathered, ends, found);
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

/** What is found on these lines, their ends and their crossings, the worst first. */
function findingsIn(lines: readonly LineRow[]): DrawnFinding[] {
  const cells = new Map<Finding, Cell[]>();
  const take = (findings: readonly Finding[], cell: Cell): void => {
    for (const finding of findings) {
      const its = cells.get(finding);
      if (its === undefined) cells.set(finding, [cell]);
      else if (!isSame(its.at(-1)!, cell)) its.push(cell);
    }
  };
  lines.forEach(({ origin, ends, crossings }, row) => {
    take(origin.findings, { row, column: HEAD });
    for (const end of ends) take(end.origin.findings, { row, column: columnOfGap(end.gap) });
    crossings.forEach((crossing, slot) => {
      if (crossing) take(crossing.origin.findings, { row, column: columnOf(slot) });
    });
  });
  return worstFirst([...cells.keys()]).map((finding) => {
    const { rule, severity, message } = finding;
    return { rule, severity, message, cells: cells.get(finding)! };
  });
}

function rowsOf(
  drawn: DrawnBus,
  gathered: readonly Gathered[],
  ends: ReadonlyMap<Gathered, readonly End[]>,
  found: FoundOn,
): LineRow[] {
  const groups = groupsOf(gathered.flatMap(({ name, claim }) => (claim?.kind === 'signal' ? [name] : [])));
  const runs = new Map(
    chainRunsOf(drawn.view.machine, drawn.view.nets)
      .filter(({ backplane }) => backplane === drawn.backplane)
      .map((run) => [run.chain, run]),
  );
  const rails = railsOn(drawn);
  const ordered = gathered.map((line) => {
    const isFed = ends.get(line)?.some(({ kind }) => kind === 'feed') === true;
    const isPower = !line.chain && (isFed || namesOf(line).some((name) => rails.has(name)));
    return { line, group: isPower ? ('power' as const) : groupOf(line, groups) };
  });
  ordered.sort((a, b) => GROUPS.indexOf(a.group) - GROUPS.indexOf(b.group) || inGroup(a, b));
  return ordered.map(({ line, group }) => {
    const its = (ends.get(line) ?? []).map((end): EndMark => ({ ...end, ...shownOf(found.end(end)) }));
    return {
      ...rowOf(drawn, line, group, line.chain && runs.get(line.chain)),
      ends: its,
      ...shownOf(found.line(line)),
    };
  });
}

/** What boards on the bus take or make as a rail, whatever its name looks like. */
const railsOn = ({ edges }: DrawnBus): ReadonlySet<string> =>
  new Set(
    edges.flatMap((edge) => [
      ...(edge?.board?.card.takes ?? []).flatMap(({ rail, at }) =>
        at === undefined || at === edge?.port.name ? [rail] : [],
      ),
      ...(edge?.board?.card.makes ?? []).map(({ rail }) => rail),
    ]),
  );

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
): Omit<LineRow, 'ends' | 'finding' | 'origin'> {
  const { sockets, edges, bus } = drawn;
  const stopAt = new Map(run?.stops.map((stop) => [stop.slot, stop]));
  const deadEnds = run && deadEndsOf(run);
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
    links: linksOf(drawn, line),
    chain: chain !== undefined,
    beyond: beyondOf(drawn, own),
    spot: line.claim && spotOf(line.claim.source),
  };
}

/** Of a chain's contacts, those that a slot has. */
const inAndOut = ({ input, output }: Chain, there: readonly number[]): number[] =>
  [input, output].filter((contact) => there.includes(contact));

const netsIn = ({ sockets, view }: DrawnBus, slot: number, contacts: readonly number[]): number[] =>
  contacts.map((contact) => view.machine.nets.of[sockets[slot]!.base + contact]!);
