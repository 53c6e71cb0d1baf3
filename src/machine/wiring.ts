import { contactsByName } from './claims.ts';
import { copperAt, isAbsent } from './copper.ts';
import { isRailName } from './names.ts';
import { JoinList, netsOf, type Sets } from './nets.ts';
import type { Problems } from './scope.ts';
import type {
  Backplane,
  Board,
  Bus,
  CardUse,
  Chain,
  Claim,
  Feed,
  Instance,
  InstanceKind,
  Nets,
  PinMap,
  Port,
  Reading,
  Rework,
  Supply,
} from './types.ts';

/** A line of a bus through its slots: its contacts, and the node of each stretch between cuts. */
interface BusLine {
  readonly name: string;
  readonly contacts: readonly number[];
  readonly claim: Claim;
  /** Slot index → node. Slots that the line does not reach have none. */
  readonly nodes: Int32Array;
}

/** Where each name stands in a table of contacts, and the names that need a look on each board. */
interface NamesOfMap {
  readonly all: ReadonlyMap<string, readonly number[]>;
  readonly shared: readonly (readonly [string, readonly number[]])[];
}

/** Hands out nodes, remembers what each is called, and finds nodes by the names in the text. */
export class Wiring {
  readonly instances: Instance[] = [];
  readonly joins = new JoinList();
  readonly nodeNames: string[] = [];
  contactCount = 0;
  private readonly byPath = new Map<string, Instance>();
  private readonly boardNodes = new Map<Board, Map<string, number>>();
  private readonly lines = new Map<Backplane, Map<string, BusLine>[]>();
  private readonly supplyNodes = new Map<Supply, Map<string, number>>();
  private readonly isolatedOn = new Map<Board, ReadonlySet<number>>();
  private readonly byMap = new Map<PinMap, NamesOfMap>();

  /** What is called how on each board; complete once everything the text names was looked up. */
  get boardNames(): ReadonlyMap<Board, ReadonlyMap<string, number>> {
    return this.boardNodes;
  }

  get nodeCount(): number {
    return this.contactCount + this.nodeNames.length;
  }

  /** All instances are made before the first node that is not a contact. */
  instance(path: string, kind: InstanceKind, port: Port, owner: Partial<Instance>): Instance {
    const pins = owner.pins ?? port.pins;
    const { slot, board, backplane, supply } = owner;
    const base = this.contactCount;
    const instance: Instance = { path, kind, port, pins, base, slot, board, backplane, supply, plugs: [] };
    this.contactCount += pins.connector.labels.length;
    this.instances.push(instance);
    this.byPath.set(path, instance);
    return instance;
  }

  node(name: string): number {
    this.nodeNames.push(name);
    return this.nodeCount - 1;
  }

  instanceAt(path: string): Instance | undefined {
    return this.byPath.get(path);
  }

  // ---- supplies ----

  supply(supply: Supply): void {
    const nodes = new Map<string, number>();
    const cause = this.joins.because('supply', supply.source);
    for (const rail of supply.rails) nodes.set(rail.name, this.node(`${supply.name}.${rail.name}`));
    for (const ground of supply.grounds) nodes.set(ground, this.node(`${supply.name}.${ground}`));
    this.supplyNodes.set(supply, nodes);
    for (const instance of this.instances) {
      if (instance.supply !== supply) continue;
      instance.pins.claims.forEach((claim, contact) => {
        const node = claim && nodes.get(claim.name);
        if (node !== undefined) this.joins.join(node, instance.base + contact, cause);
      });
    }
  }

  supplyNode(supply: Supply, rail: string): number | undefined {
    return this.supplyNodes.get(supply)?.get(rail);
  }

  // ---- buses through their slots ----

  /** Joins each line through the slots of a backplane, in stretches where it is cut. Linear in the contacts. */
  backplane(backplane: Backplane, problems: Problems): void {
    const tables: Map<string, BusLine>[] = [];
    this.lines.set(backplane, tables);
    for (const { place, bus } of backplane.buses) tables.push(this.busLines(backplane, place, bus));
    const cuts = backplane.rework.filter((one) => one.kind === 'cut');
    const seen = new Set<BusLine>();
    for (const table of tables) {
      for (const line of table.values()) {
        if (seen.has(line)) continue;
        seen.add(line);
        this.stretch(backplane, line, cuts);
      }
    }
    for (const cut of cuts) this.checkCut(backplane, cut, problems);
    backplane.buses.forEach(({ bus }, n) => {
      const table = tables[n]!;
      this.joinSlots(backplane, bus, table);
      this.joinChains(backplane, bus, cuts);
    });
    this.joinPorts(backplane);
  }

  private busLines(backplane: Backplane, place: string, bus: Bus): Map<string, BusLine> {
    const table = new Map<string, BusLine>();
    const chained = new Set(bus.chains.flatMap(({ input, output }) => [input, output]));
    const names = contactsByName(bus.pins, bus.chains);
    const ofSlots = this.slotMaps(backplane, bus);
    for (const pins of ofSlots) {
      for (const [name, contacts] of contactsByName(pins, bus.chains))
        names.set(name, [...new Set([...(names.get(name) ?? []), ...contacts])]);
    }
    const add = (key: string, label: string, contacts: readonly number[], claim: Claim): void => {
      const nodes = new Int32Array(backplane.slots.length).fill(-1);
      const line: BusLine = {
        name: `${backplane.name} ${place === '' ? '' : `${place}.`}${label}`,
        contacts,
        claim,
        nodes,
      };
      table.set(key, line);
      for (const alias of claim.aliases) table.set(alias, line);
    };
    const read = (claim: Claim | undefined, contact: number): void => {
      if (claim === undefined || chained.has(contact) || claim.private) return;
      if (claim.kind === 'spare') {
        if (!table.has(`\0${contact}`))
          add(`\0${contact}`, `spare ${bus.pins.connector.labels[contact]}`, [contact], claim);
      } else if (claim.name !== '' && !table.has(claim.name))
        add(claim.name, claim.name, names.get(claim.name)!, claim);
    };
    for (const pins of [bus.pins, ...ofSlots]) pins.claims.forEach(read);
    return table;
  }

  /** The different maps of slots in which the bus says something of its own. */
  private slotMaps(backplane: Backplane, bus: Bus): PinMap[] {
    const maps = new Map<string, PinMap>();
    for (const slot of backplane.slots) {
      const pins = slot.instances.find((one) => one.port.bus === bus)?.pins;
      if (pins === undefined || pins.claims === bus.pins.claims) continue;
      const special = pins.claims
        .map((claim) => (claim?.slots === undefined ? '' : claim.source.from))
        .join();
      if (!maps.has(special)) maps.set(special, pins);
    }
    return [...maps.values()];
  }

  private stretch(backplane: Backplane, line: BusLine, cuts: readonly Rework[]): void {
    const { name, aliases } = line.claim;
    const cutAfter = slotsBeforeCuts(backplane, cuts, (place) => place === name || aliases.includes(place));
    let node = -1;
    for (const slot of backplane.slots) {
      if (node < 0 || cutAfter.has(slot.index - 1)) node = this.node(line.name);
      line.nodes[slot.index] = node;
    }
  }

  private checkCut(backplane: Backplane, cut: Rework, problems: Problems): void {
    for (const { place, source } of cut.places) {
      const chains = backplane.buses.flatMap(({ bus }) => bus.chains);
      if (backplane.buses.length === 0 || this.hasLine(backplane, place)) continue;
      if (chains.some((chain) => isOfChain(place, chain))) continue;
      problems.add('name-unknown', source, `no line of ${backplane.name} is called \`${place}\``);
    }
    if (cut.between && slotIndex(backplane, cut.between) === undefined) {
      problems.add(
        'range-mismatch',
        cut.source,
        'a cut lies between two neighbouring slots; for example `cut SYNC between 6, 7`',
      );
    }
  }

  /** Whether a bus of the backplane has such a line, in some slot at least. */
  hasLine(backplane: Backplane, name: string): boolean {
    return this.lines.get(backplane)?.some((table) => table.has(name)) === true;
  }

  private joinSlots(backplane: Backplane, bus: Bus, table: ReadonlyMap<string, BusLine>): void {
    for (const line of new Set(table.values())) {
      const cause = this.joins.because('bus', line.claim.source, line.claim.evidence);
      for (const slot of backplane.slots) {
        const instance = slot.instances.find((one) => one.port.bus === bus);
        if (instance === undefined) continue;
        for (const contact of line.contacts) {
          // A claim for some slots only does not hold in the others.
          const here = instance.pins.claims[contact];
          if (here === undefined || here.private || !sameLine(here, line.claim)) continue;
          this.joins.join(instance.base + contact, line.nodes[slot.index]!, cause);
        }
      }
    }
  }

  /** A chain runs from each slot's out contact to the next slot's in contact, and through bridges. */
  private joinChains(backplane: Backplane, bus: Bus, cuts: readonly Rework[]): void {
    for (const chain of bus.chains) {
      const cutAfter = slotsBeforeCuts(backplane, cuts, (place) => isOfChain(place, chain));
      const cause = this.joins.because('chain', chain.claim.source, chain.claim.evidence);
      let before: Instance | undefined;
      for (const slot of backplane.slots) {
        const instance = slot.instances.find((one) => one.port.bus === bus);
        if (instance === undefined) continue;
        if (before && !cutAfter.has(slot.index - 1))
          this.joins.join(before.base + chain.output, instance.base + chain.input, cause);
        before = instance;
        const named = slot.bridges.find(({ name }) => isOfChain(name, chain));
        const bridged =
          named?.source ?? (slot.selfBridging && slot.state === 'empty' ? slot.source : undefined);
        if (bridged === undefined) continue;
        const bridge = this.joins.because('bridge', bridged);
        this.joins.join(instance.base + chain.input, instance.base + chain.output, bridge);
      }
    }
  }

  /** A header of the backplane itself: its names are lines of the bus. */
  private joinPorts(backplane: Backplane): void {
    for (const instance of backplane.portInstances) {
      instance.pins.claims.forEach((claim, contact) => {
        if (claim === undefined || claim.name === '') return;
        const node = this.lineNode(backplane, claim.name, 0);
        if (node === undefined) return;
        const cause = this.joins.because('bus', claim.source, claim.evidence);
        this.joins.join(instance.base + contact, node, cause);
      });
      this.joinEqualNames(instance);
    }
  }

  /** Contacts of one port that carry one name which is no line elsewhere are one all the same. */
  private joinEqualNames(instance: Instance): void {
    const cause = this.joins.because('bus', instance.port.source);
    for (const contacts of contactsByName(instance.pins, []).values()) {
      for (let i = 1; i < contacts.length; i++) {
        this.joins.join(instance.base + contacts[0]!, instance.base + contacts[i]!, cause);
      }
    }
  }

  /** The node of a bus line at a slot; undefined where no bus of the backplane has such a line. */
  lineNode(backplane: Backplane, name: string, slot: number, bus?: Bus): number | undefined {
    const tables = this.lines.get(backplane) ?? [];
    let elsewhere: number | undefined;
    for (let n = 0; n < tables.length; n++) {
      const its = backplane.buses[n]!.bus;
      if (bus !== undefined && its !== bus) continue;
      const node = tables[n]!.get(name)?.nodes[slot];
      if (node === undefined || node < 0) continue;
      // Of two buses with lines of one name, the one that the slot carries is meant.
      if (tables.length === 1 || backplane.slots[slot]?.instances.some(({ port }) => port.bus === its))
        return node;
      elsewhere ??= node;
    }
    return elsewhere;
  }

  /** The node of the line that a contact of a bus is on, at a slot; the slot's own contact where it is not bussed. */
  lineOfContact(backplane: Backplane, bus: Bus, contact: number, slot: number): number | undefined {
    const claim = bus.pins.claims[contact];
    const chained = bus.chains.some(({ input, output }) => input === contact || output === contact);
    const key = claim?.kind === 'spare' ? `\0${contact}` : (claim?.name ?? '');
    const node = chained || key === '' ? undefined : this.lineNode(backplane, key, slot, bus);
    if (node !== undefined) return node;
    const instance = backplane.slots[slot]?.instances.find((one) => one.port.bus === bus);
    return instance && instance.base + contact;
  }

  feed(backplane: Backplane, feed: Feed): void {
    const from = this.supplyNode(feed.supply, feed.rail);
    if (from === undefined) return;
    const cause = this.joins.because('feed', feed.source, feed.evidence);
    for (const { instanceBus, contact } of feed.contacts) {
      const to = this.lineOfContact(backplane, instanceBus, contact, 0);
      if (to !== undefined) this.joins.join(from, to, cause);
    }
  }

  // ---- boards ----

  /** Fingers meet their slot; equal names on one board are one. */
  board(board: Board): void {
    const nodes = new Map<string, number>();
    this.boardNodes.set(board, nodes);
    const isolated = this.isolated(board);
    this.isolatedOn.set(board, isolated);
    for (const [name, contacts] of this.sharedNames(board)) {
      const joined = isolated.size === 0 ? contacts : contacts.filter((contact) => !isolated.has(contact));
      if (joined.length < 2) {
        const only = joined[0];
        if (only !== undefined) nodes.set(name, only);
        continue;
      }
      const node = this.node(`${board.name} ${name}`);
      nodes.set(name, node);
      for (const contact of joined) this.joins.join(node, contact, this.boardCause(board, contact));
    }
    this.fingers(board);
  }

  /** Names that may stand at several contacts of a board, and its rails and grounds, with the contacts that have copper. */
  private sharedNames(board: Board): Map<string, number[]> {
    const names = new Map<string, number[]>();
    for (const instance of board.instances) {
      const { all, shared } = this.namesOf(instance.pins, instance.port.bus);
      // On a board with one connector, a name at one contact is that contact: found when it is asked for.
      for (const [name, contacts] of board.instances.length > 1 ? all : shared) {
        // A name that the board leaves untouched joins nothing on it, whatever the bus it was made for calls it.
        const here = contacts
          .filter((contact) => copperAt(instance, contact) !== 'no')
          .map((contact) => instance.base + contact);
        const list = names.get(name);
        if (list === undefined) names.set(name, here);
        else list.push(...here);
      }
    }
    return names;
  }

  private namesOf(pins: PinMap, bus: Bus | undefined): NamesOfMap {
    let table = this.byMap.get(pins);
    if (table === undefined) {
      const all = contactsByName(pins, bus?.chains ?? []);
      const isPower = (contact: number): boolean => pins.claims[contact]?.kind !== 'signal';
      const shared = [...all].filter(([, contacts]) => contacts.length > 1 || contacts.some(isPower));
      table = { all, shared };
      this.byMap.set(pins, table);
    }
    return table;
  }

  private readonly causes = new Map<Claim, number>();

  private boardCause(board: Board, contact: number): number {
    const instance = board.instances.find(
      (one) => contact >= one.base && contact < one.base + one.pins.claims.length,
    )!;
    const claim = instance.pins.claims[contact - instance.base]!;
    let cause = this.causes.get(claim);
    if (cause === undefined) {
      cause = this.joins.because('board', claim.source, claim.evidence);
      this.causes.set(claim, cause);
    }
    return cause;
  }

  /** Contacts that a `cut` on the card or board sets apart from the rest. */
  private isolated(board: Board): Set<number> {
    const set = new Set<number>();
    for (const cut of [...board.card.rework, ...board.rework]) {
      if (cut.kind !== 'cut') continue;
      for (const { place } of cut.places) {
        const contact = this.contactOf(board, place);
        if (contact !== undefined) set.add(contact);
      }
    }
    return set;
  }

  private fingers(board: Board): void {
    const { slot } = board;
    if (slot === undefined) return;
    const cause = this.joins.because('finger', board.source);
    const edges = board.instances.filter((one) => one.kind === 'edge');
    for (const socket of slot.instances) {
      const edge = matingEdge(edges, socket);
      if (edge === undefined) continue;
      for (let i = 0; i < socket.pins.connector.labels.length; i++) {
        if (!isAbsent(edge.pins, i) && !isAbsent(socket.pins, i))
          this.joins.join(edge.base + i, socket.base + i, cause);
      }
    }
  }

  /** `edge.19`, `J1.18`: a contact of the board. */
  contactOf(board: Board, place: string): number | undefined {
    const dot = place.lastIndexOf('.');
    if (dot < 0) return undefined;
    const instance = board.instances.find((one) => one.port.name === place.slice(0, dot));
    const index = instance?.pins.connector.indexOf.get(place.slice(dot + 1));
    return instance && index !== undefined ? instance.base + index : undefined;
  }

  /** The node of a name on a board, made where it is a name inside the board only. `at` names a port or edge. */
  nodeOfName(board: Board, name: string, at?: string): number {
    if (at !== undefined) {
      const instance = board.instances.find((one) => one.port.name === at);
      const contact = instance && this.namesOf(instance.pins, instance.port.bus).all.get(name)?.[0];
      if (instance && contact !== undefined) return instance.base + contact;
    }
    const nodes = this.boardNodes.get(board)!;
    let node = nodes.get(name);
    if (node === undefined) {
      node =
        this.onlyContact(board, name) ?? this.chainContact(board, name) ?? this.node(`${board.name} ${name}`);
      nodes.set(name, node);
    }
    return node;
  }

  /** The contact of a name that stands once on a board with one connector. */
  private onlyContact({ instances }: Board, name: string): number | undefined {
    const [instance] = instances;
    if (instance === undefined || instances.length > 1) return undefined;
    const contact = this.namesOf(instance.pins, instance.port.bus).all.get(name)?.[0];
    if (contact === undefined || copperAt(instance, contact) === 'no') return undefined;
    const node = instance.base + contact;
    return this.isolatedOn.get(instance.board!)?.has(node) ? undefined : node;
  }

  /** The contact of a chain's name: its in, or its out where that has a name of its own. A rail there is no chain. */
  private chainContact(board: Board, name: string): number | undefined {
    for (const { base, port, pins } of board.instances) {
      for (const { name: inside, outName, input, output } of port.bus?.chains ?? []) {
        const contact = inside === name ? input : outName === name ? output : undefined;
        if (contact !== undefined && pins.claims[contact]?.kind === 'signal') return base + contact;
      }
    }
    return undefined;
  }

  /** The node of what a card does on a line: a board that starts a chain does so on the chain's out. */
  nodeOfUse(board: Board, { kind, name, at }: CardUse): number {
    const out = kind === 'starts' ? this.chainOut(board, name, at) : undefined;
    return out ?? this.nodeOfName(board, name, at);
  }

  private chainOut(board: Board, name: string, at?: string): number | undefined {
    for (const { base, port, pins } of board.instances) {
      if (at !== undefined && port.name !== at) continue;
      const chain = port.bus?.chains.find((one) => one.name === name || one.outName === name);
      if (chain && pins.claims[chain.output]?.kind === 'signal') return base + chain.output;
    }
    return undefined;
  }

  /** Straps of a backplane or wires between its slots. */
  backplaneRework(backplane: Backplane, problems: Problems): void {
    for (const one of backplane.rework) {
      if (one.kind === 'cut') continue;
      const cause = this.joins.because(one.kind, one.source, one.evidence);
      const nodes: number[] = [];
      for (const { place, source } of one.places) {
        const node = this.placeOnBackplane(backplane, place);
        if (node !== undefined) nodes.push(node);
        else if (backplane.buses.length > 0)
          problems.add(
            'name-unknown',
            source,
            `${backplane.name} has no place \`${place}\`; write a slot and contact such as \`1.19\`, or a line's name`,
          );
      }
      for (let i = 1; i < nodes.length; i++) this.joins.join(nodes[0]!, nodes[i]!, cause);
    }
  }

  /** A place in the text of a card or board: a contact, a chip's pin or a name. */
  placeOnBoard(board: Board, place: string): number {
    const contact = this.contactOf(board, place);
    if (contact !== undefined) return contact;
    return this.nodeOfName(board, place);
  }

  /** The same, where the board has the contact, the name, or a wire or part that the text puts there. */
  knownOnBoard(board: Board, place: string): number | undefined {
    const contact = this.contactOf(board, place);
    if (contact !== undefined) return contact;
    const pin = /^([^.]+)\.[^.]+$/.exec(place)?.[1];
    const isChip =
      pin !== undefined && !board.instances.some((one) => one.port.name === pin) && /\d$/.test(pin);
    const isName =
      pin === undefined && (this.carries(board, place) || this.boardNodes.get(board)!.has(place));
    return isChip || isName ? this.nodeOfName(board, place) : undefined;
  }

  private carries({ instances }: Board, name: string): boolean {
    return instances.some((one) => this.namesOf(one.pins, one.port.bus).all.has(name));
  }

  rework(board: Board): void {
    for (const one of [...board.card.rework, ...board.rework]) {
      if (one.kind === 'cut') continue;
      const cause = this.joins.because(one.kind, one.source, one.evidence);
      const nodes = one.places.map(({ place }) => this.placeOnBoard(board, place));
      for (let i = 1; i < nodes.length; i++) this.joins.join(nodes[0]!, nodes[i]!, cause);
    }
  }

  /** A place in the text of a backplane: `1.19`, `1.P1.a19`, `PANEL.3`, or a line's name. */
  placeOnBackplane(backplane: Backplane, place: string): number | undefined {
    const node = this.lineNode(backplane, place, 0);
    if (node !== undefined) return node;
    const dot = place.lastIndexOf('.');
    const instance = dot < 0 ? undefined : this.byPath.get(`${backplane.name}.${place.slice(0, dot)}`);
    const index = instance?.pins.connector.indexOf.get(place.slice(dot + 1));
    return instance && index !== undefined ? instance.base + index : undefined;
  }

  // ---- readings ----

  /** Joins what a continuity reading proves joined, unless the map says that these are different lines. */
  readings(readings: readonly Reading[], isJoined: (reading: Reading, rails: boolean) => boolean): void {
    if (readings.length === 0) return;
    const sets = this.joins.sets(this.nodeCount);
    const named = this.namesOfSets(sets);
    for (const reading of readings) {
      const [a, b] = [sets.find(reading.from), sets.find(reading.to)];
      const [left, right] = [named.get(a), named.get(b)];
      const power = [left, right].every((one) => one?.power === true);
      if (a === b || !isJoined(reading, power)) continue;
      if (left && right && ![...left.names].some((name) => right.names.has(name))) continue;
      this.joins.join(
        reading.from,
        reading.to,
        this.joins.because('reading', reading.source, reading.evidence),
      );
      sets.unite(a, b);
      const both = {
        names: new Set([...(left?.names ?? []), ...(right?.names ?? [])]),
        power: left?.power === true || right?.power === true,
      };
      if (both.names.size > 0) named.set(sets.find(a), both);
    }
  }

  private namesOfSets(sets: Sets): Map<number, { names: Set<string>; power: boolean }> {
    const named = new Map<number, { names: Set<string>; power: boolean }>();
    for (const instance of this.instances) {
      instance.pins.claims.forEach((claim, contact) => {
        if (claim === undefined || claim.name === '') return;
        const root = sets.find(instance.base + contact);
        const entry = named.get(root) ?? { names: new Set<string>(), power: false };
        entry.names.add(claim.name);
        for (const alias of claim.aliases) entry.names.add(alias);
        if (claim.kind === 'rail' || claim.kind === 'ground') entry.power = true;
        named.set(root, entry);
      });
    }
    // A supply's own rails and what boards make are lines of their own too, though no table lists them.
    const inside = [...this.boardNodes.values()].flatMap((nodes) =>
      [...nodes].filter(([name]) => isRailName(name)),
    );
    for (const [name, node] of [...this.supplyNodes.values()].flatMap((nodes) => [...nodes]).concat(inside)) {
      const root = sets.find(node);
      const names = named.get(root)?.names ?? new Set<string>();
      named.set(root, { names: names.add(name), power: true });
    }
    return named;
  }

  nets(): Nets {
    return netsOf(this.joins.sets(this.nodeCount), this.nodeCount);
  }
}

/** Whether a name means a chain: by its in, its out or an alias. */
export const isOfChain = (name: string, { name: inside, outName, claim }: Chain): boolean =>
  name === inside || name === outName || claim.aliases.includes(name);

/** Whether a claim means the line that another claim made. */
const sameLine = (here: Claim, line: Claim): boolean =>
  here === line || (here.kind === line.kind && (here.name === line.name || here.aliases.includes(line.name)));

/** Indexes of the slots behind which one of the cuts parts a line. */
function slotsBeforeCuts(
  backplane: Backplane,
  cuts: readonly Rework[],
  isMeant: (place: string) => boolean,
): ReadonlySet<number> {
  const slots = new Set<number>();
  for (const { places, between } of cuts) {
    if (between === undefined || !places.some(({ place }) => isMeant(place))) continue;
    const after = slotIndex(backplane, between);
    if (after !== undefined) slots.add(after);
  }
  return slots;
}

/** Index of the slot after which a cut lies, where the two are neighbours. */
function slotIndex(backplane: Backplane, between: readonly [string, string]): number | undefined {
  const [a, b] = between.map((label) => backplane.slots.findIndex((slot) => slot.label === label));
  return a !== undefined && b !== undefined && a >= 0 && b >= 0 && Math.abs(a - b) === 1
    ? Math.min(a, b)
    : undefined;
}

/** The edge of a board that goes into this socket: by the place's name, else by its bus, else by its connector. */
export function matingEdge(edges: readonly Instance[], socket: Instance): Instance | undefined {
  const fits = edges.filter((edge) => edge.pins.connector === socket.pins.connector);
  return (
    fits.find((edge) => edge.port.name === socket.port.name) ??
    fits.find((edge) => edge.port.bus !== undefined && edge.port.bus === socket.port.bus) ??
    (edges.length === 1 ? fits[0] : undefined)
  );
}
