import type { Item } from '../language/tree.ts';
import { items, said as saidText, subjects } from '../language/tree.ts';
import {
  type BusTable,
  buildBackplane,
  buildBus,
  buildSupply,
  dateOf,
  readBoardBlock,
  readFitted,
  type SlotParts,
} from './backplanes.ts';
import { checkCardNames, checkPlaces } from './card-names.ts';
import { buildCard, type Lookup, unknown } from './cards.ts';
import { buildConnector, optional } from './connectors.ts';
import { voltsOfName } from './names.ts';
import { readOwnParts } from './parts.ts';
import { checkBackplaneNames, checkLegs, checkWithout, namesOfCard } from './place-names.ts';
import { readRailNames } from './rails.ts';
import { continuity, readReadings } from './readings.ts';
import { buildCable, buildRibbon, type FindInstance } from './ribbons.ts';
import { evidenceOf, inside, names, Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type {
  Allowance,
  Backplane,
  Bias,
  Biasing,
  Board,
  Bus,
  Card,
  Instance,
  Machine,
  PinMap,
  Port,
  RailSource,
  Ribbon,
  Slot,
  Supply,
  SupplyGround,
  Use,
} from './types.ts';
import { gather, type Library, type SourceFile } from './uses.ts';
import { Wiring } from './wiring.ts';

/** A file and all that it uses → the machine. Never throws; what the text gets wrong is in `problems`. */
export function buildMachine(root: SourceFile, library: Library): Machine {
  const problems = new Problems();
  const files = gather(root, library, problems);
  return new Builder(files, problems).build();
}

/** More contacts than any machine in one card cage, or ten, has. */
const MOST_CONTACTS = 1_000_000;

/** One pass over the blocks of all files. Lives as long as buildMachine. */
class Builder {
  private readonly blocks = new Map<string, Said[]>();
  private readonly wiring = new Wiring();
  private readonly boardsOf = new Map<string, Board[]>();
  private readonly files: readonly SourceFile[];
  private readonly problems: Problems;

  constructor(files: readonly SourceFile[], problems: Problems) {
    this.files = files;
    this.problems = problems;
    for (const { file, document } of files) {
      for (const entry of document.root.entries) {
        const { form } = entry.statement;
        const list = this.blocks.get(form);
        if (list === undefined) this.blocks.set(form, [{ file, entry }]);
        else list.push({ file, entry });
      }
    }
  }

  private of(form: string): readonly Said[] {
    return this.blocks.get(form) ?? [];
  }

  build(): Machine {
    const { problems, wiring } = this;
    const rails = readRailNames([...this.of('supply'), ...this.of('bus')], problems);
    const connectors = this.named('connector', (said) => buildConnector(said, problems));
    const buses = new Map<string, Bus>();
    const lookup: Lookup = { connectors, buses, rails };
    const tables = this.named('bus', (said) => buildBus(said, lookup, problems));
    for (const [name, table] of tables) buses.set(name, table.bus);
    const supplies = this.named('supply', (said) => buildSupply(said, lookup, problems));
    const slotNames = new Map([...tables.values()].map((table) => [table.bus, namesInSlots(table)]));
    const cards = this.named('card', (said) => {
      const card = buildCard(said, lookup, problems);
      checkCardNames(said, card, slotNames, problems);
      const here = namesOfCard(card);
      checkLegs(card.name, card.biases, rails, (name) => here.has(name), problems);
      return card;
    });
    const slots = new Map<Slot, SlotParts>();
    const backplanes = this.named('backplane', (said) => {
      const parts = buildBackplane(said, lookup, supplies, problems);
      for (const [slot, its] of parts.slots) slots.set(slot, its);
      return parts.backplane;
    });
    const boards = this.boards(backplanes, cards);
    this.checkOwners([...supplies.values(), ...backplanes.values()], boards);
    this.instances(supplies, backplanes, slots, tables, boards);
    this.wire(supplies, backplanes, boards);
    for (const backplane of backplanes.values()) this.checkNames(backplane, rails);
    const ribbons = this.ribbons();
    const uses = this.uses(boards);
    const biasings = this.biasings(backplanes, boards);
    const railSources = this.railSources(supplies, boards, rails);
    const supplyGrounds = this.supplyGrounds(supplies);
    this.nameRails(boards);
    const readings = this.of('readings').flatMap((said) =>
      readReadings(said, (item, line) => this.place(item, line, supplies, backplanes), problems),
    );
    wiring.readings(readings, continuity);
    const activeLow = new Set(
      this.of('activelow').flatMap((said) =>
        names(said, statementOf(said).subject, problems).map((one) => one.name),
      ),
    );
    return {
      files: this.files.map(({ file }) => file),
      title: saidTitle(this.of('title')),
      supplies: [...supplies.values()],
      connectors: [...connectors.values()],
      buses: [...buses.values()],
      backplanes: [...backplanes.values()],
      cards: [...cards.values()],
      boards,
      ribbons,
      instances: wiring.instances,
      railNames: rails,
      busRails: [...rails.rails.values()].flat().filter((rail) => buses.has(rail.owner)),
      uses,
      biasings,
      railSources,
      boardNames: wiring.boardNames,
      supplyGrounds,
      readings,
      allowances: this.of('allow').map(readAllowance),
      ownParts: readOwnParts(
        this.named('family', (said) => said),
        this.named('parttable', (said) => said),
        problems,
      ),
      activeLow,
      aliases: this.aliases(),
      contactCount: wiring.contactCount,
      nodeCount: wiring.nodeCount,
      nodeNames: wiring.nodeNames,
      joins: wiring.joins.done(),
      nets: wiring.nets(),
      problems: problems.list,
    };
  }

  /** The blocks of a form by name; a name said twice is reported and its first block holds. */
  private named<T>(form: string, build: (said: Said) => T | undefined): Map<string, T> {
    const map = new Map<string, T>();
    const first = new Map<string, Said>();
    for (const said of this.of(form)) {
      const name = subjects(statementOf(said))[0]?.first;
      if (name === undefined) continue;
      const before = first.get(name);
      if (before !== undefined) {
        const item = subjects(statementOf(said))[0];
        this.problems.add(
          'duplicate',
          sourceOf(said, item),
          `there are two ${form === 'parttable' ? 'part' : form}s named \`${name}\`; name one differently`,
          {
            related: [{ source: sourceOf(before), message: 'named here first' }],
          },
        );
        continue;
      }
      first.set(name, said);
      const built = build(said);
      if (built !== undefined) map.set(name, built);
    }
    return map;
  }

  // ---- boards ----

  private boards(backplanes: ReadonlyMap<string, Backplane>, cards: ReadonlyMap<string, Card>): Board[] {
    const boards: Board[] = [];
    const found: { card: Card; said: Said; slot?: Slot }[] = [];
    for (const said of this.of('fitted')) {
      for (const { slot, line, item } of readFitted(said, backplanes, this.problems)) {
        const card = this.card(cards, item, line);
        if (card) found.push({ card, said: line, slot });
        else slot.state = 'unsaid';
      }
    }
    for (const said of this.of('loose')) {
      const item = subjects(statementOf(said))[0];
      const card = item && this.card(cards, item, said);
      if (card) found.push({ card, said });
    }
    const times = new Map<Card, number>();
    for (const { card } of found) times.set(card, (times.get(card) ?? 0) + 1);
    const taken = new Map<string, Board>();
    for (const { card, said, slot } of found) {
      const as = items(statementOf(said), 'as')[0];
      const name =
        as?.first ?? (times.get(card) === 1 ? card.name : `${card.name}@${slot?.label ?? 'loose'}`);
      const before = taken.get(name);
      if (before !== undefined) {
        this.problems.add(
          'duplicate',
          sourceOf(said, as),
          `two boards are named \`${name}\`; tell them apart with \`as NAME\``,
          {
            related: [{ source: before.source, message: 'named here first' }],
          },
        );
      }
      const board: Board = {
        name,
        card,
        ...optional('slot', slot),
        ...optional('date', dateOf(said)),
        ...readBoardBlock(said, this.problems),
        instances: [],
        source: sourceOf(said),
      };
      for (const rework of board.rework) checkPlaces(card, rework, this.problems);
      checkWithout(name, card, said, this.problems);
      if (slot) slot.board = board;
      taken.set(name, board);
      boards.push(board);
      const kin = this.boardsOf.get(card.name);
      if (kin) kin.push(board);
      else this.boardsOf.set(card.name, [board]);
    }
    return boards;
  }

  /** Places are told by their owner's name: a board may not be called like a supply or a backplane. */
  private checkOwners(others: readonly (Supply | Backplane)[], boards: readonly Board[]): void {
    const taken = new Map(others.map((one) => [one.name, one.source]));
    for (const { name, source } of boards) {
      const before = taken.get(name);
      if (before === undefined) continue;
      const message = `a board is called \`${name}\` like something else, so \`${name}.1\` could mean either; name it with \`as\``;
      this.problems.add('duplicate', source, message, {
        related: [{ source: before, message: 'named here first' }],
      });
    }
  }

  private card(cards: ReadonlyMap<string, Card>, item: Item, said: Said): Card | undefined {
    const card = cards.get(item.first);
    if (card === undefined) {
      this.problems.add('name-unknown', sourceOf(said, item), unknown('card', item.first, [...cards.keys()]));
    }
    return card;
  }

  // ---- connectors in their places ----

  private instances(
    supplies: ReadonlyMap<string, Supply>,
    backplanes: ReadonlyMap<string, Backplane>,
    slots: ReadonlyMap<Slot, SlotParts>,
    tables: ReadonlyMap<string, BusTable>,
    boards: readonly Board[],
  ): void {
    const { wiring } = this;
    for (const supply of supplies.values()) {
      for (const port of supply.ports)
        wiring.instance(`${supply.name}.${port.name}`, 'supply port', port, { supply });
    }
    for (const backplane of backplanes.values()) {
      for (const slot of backplane.slots) {
        const { buses, keys } = slots.get(slot)!;
        if (!this.hasRoom(slot, buses)) return;
        for (const { place, bus } of buses) {
          const path = `${backplane.name}.${slot.label}${buses.length > 1 ? `.${place}` : ''}`;
          const port = { name: place === '' ? 'edge' : place, pins: bus.pins, bus, source: bus.source };
          // Keys were read by the labels of the slot's first connector.
          const its = bus.pins.connector === buses[0]!.bus.pins.connector ? keys : [];
          const pins = slotPins(bus.pins, tables.get(bus.name)?.inSlots ?? [], slot.label, its);
          slot.instances.push(wiring.instance(path, 'slot', port, { slot, backplane, pins }));
        }
      }
      for (const port of backplane.ports) {
        backplane.portInstances.push(
          wiring.instance(`${backplane.name}.${port.name}`, 'backplane port', port, { backplane }),
        );
      }
    }
    for (const board of boards) {
      const { card } = board;
      for (const edge of card.edges) {
        const pins = edgePins(edge, board);
        board.instances.push(wiring.instance(`${board.name}.${edge.name}`, 'edge', edge, { board, pins }));
      }
      for (const port of card.ports)
        board.instances.push(wiring.instance(`${board.name}.${port.name}`, 'port', port, { board }));
    }
  }

  /** Whether the slot's contacts still fit: a slip such as `1..4096` must not fill the memory. */
  private hasRoom(slot: Slot, buses: SlotParts['buses']): boolean {
    const count = buses.reduce((sum, { bus }) => sum + bus.pins.connector.labels.length, 0);
    if (this.wiring.contactCount + count <= MOST_CONTACTS) return true;
    const message = `from slot ${slot.label} on, this machine has more than ${MOST_CONTACTS} contacts; check the numbers of slots and contacts`;
    this.problems.add('range-mismatch', slot.source, message);
    return false;
  }

  private wire(
    supplies: ReadonlyMap<string, Supply>,
    backplanes: ReadonlyMap<string, Backplane>,
    boards: readonly Board[],
  ): void {
    const { wiring, problems } = this;
    for (const supply of supplies.values()) {
      wiring.supply(supply);
      for (const line of this.blockOf('supply', supply.name)) {
        const statement = statementOf(line);
        if (statement.form !== 'strap' && statement.form !== 'ground') continue;
        const cause = wiring.joins.because(
          statement.form === 'strap' ? 'strap' : 'ground',
          sourceOf(line),
          evidenceOf(statement),
        );
        const nodes = subjects(statement).map((item) => this.supplyPlace(supply, item, line));
        for (const node of nodes.slice(1)) {
          if (nodes[0] !== undefined && node !== undefined) wiring.joins.join(nodes[0], node, cause);
        }
      }
    }
    for (const backplane of backplanes.values()) wiring.backplane(backplane, problems);
    for (const board of boards) wiring.board(board);
    for (const backplane of backplanes.values()) {
      for (const feed of backplane.feeds) wiring.feed(backplane, feed);
      wiring.backplaneRework(backplane, problems);
    }
    for (const board of boards) wiring.rework(board);
  }

  private checkNames(backplane: Backplane, rails: Machine['railNames']): void {
    const { wiring, problems } = this;
    const hasLine = (name: string): boolean => wiring.hasLine(backplane, name);
    checkBackplaneNames(backplane, hasLine, problems);
    const straps = new Set(backplane.rework.flatMap(({ places }) => places.map(({ place }) => place)));
    const isHere = (name: string): boolean =>
      backplane.buses.length === 0 || hasLine(name) || straps.has(name);
    checkLegs(backplane.name, backplane.biases, rails, isHere, problems);
  }

  private supplyPlace(supply: Supply, item: Item, line: Said): number | undefined {
    const node = this.wiring.supplyNode(supply, item.first);
    if (node === undefined) {
      const known = [...supply.rails.map((rail) => rail.name), ...supply.grounds];
      this.problems.add('name-unknown', sourceOf(line, item), unknown('rail', item.first, known));
    }
    return node;
  }

  private blockOf(form: string, name: string): Said[] {
    const said = this.of(form).find((one) => subjects(statementOf(one))[0]?.first === name);
    return said === undefined ? [] : inside(said);
  }

  private ribbons(): Ribbon[] {
    const find: FindInstance = (path, said, item) => this.instance(path, said, item);
    const ribbons = this.named('ribbon', (said) => buildRibbon(said, this.wiring, find, this.problems));
    const cables = this.named('cable', (said) => buildCable(said, this.wiring, find, this.problems));
    return [...ribbons.values(), ...cables.values()];
  }

  // ---- what the text calls by path ----

  private instance(path: string, said: Said, item: Item): Instance | undefined {
    const found = this.wiring.instanceAt(path);
    if (found !== undefined) return found;
    const owner = path.slice(0, path.lastIndexOf('.'));
    const kin = this.boardsOf.get(owner) ?? this.boardsOf.get(path) ?? [];
    if (kin.length > 1) {
      const which = kin.map((board) => `\`${board.name}\``).join(' and ');
      const message = `there are ${kin.length} boards of card ${owner || path}: ${which}; say which one (name them with \`as\`)`;
      this.problems.add('name-unknown', sourceOf(said, item), message);
      return undefined;
    }
    const near = this.wiring.instances
      .filter((one) => one.path.startsWith(`${owner}.`))
      .map((one) => one.path);
    const known =
      near.length > 0
        ? near
        : this.wiring.instances.filter((one) => one.kind !== 'slot').map((one) => one.path);
    this.problems.add('name-unknown', sourceOf(said, item), unknown('connector in the machine', path, known));
    return undefined;
  }

  /** A place of a reading: a contact, a chip's pin, a line, or the name of a rail. */
  private place(
    item: Item,
    said: Said,
    supplies: ReadonlyMap<string, Supply>,
    backplanes: ReadonlyMap<string, Backplane>,
  ): number | undefined {
    const { wiring } = this;
    const text = item.first;
    const dot = text.indexOf('.');
    const owner = dot < 0 ? '' : text.slice(0, dot);
    const rest = text.slice(dot + 1);
    const board = this.boardNamed(owner);
    if (board !== undefined) {
      const node = wiring.knownOnBoard(board, rest);
      if (node !== undefined) return node;
    }
    const backplane = backplanes.get(owner);
    if (backplane !== undefined) {
      const node = wiring.placeOnBackplane(backplane, rest);
      if (node !== undefined) return node;
    }
    const supply = supplies.get(owner);
    if (supply !== undefined) {
      const node = wiring.supplyNode(supply, rest);
      if (node !== undefined) return node;
    }
    const label = text.lastIndexOf('.');
    const instance = label < 0 ? undefined : wiring.instanceAt(text.slice(0, label));
    const index = instance?.pins.connector.indexOf.get(text.slice(label + 1));
    if (instance && index !== undefined) return instance.base + index;
    for (const one of supplies.values()) {
      const node = wiring.supplyNode(one, text);
      if (node !== undefined) return node;
    }
    for (const one of backplanes.values()) {
      const node = wiring.lineNode(one, text, 0);
      if (node !== undefined) return node;
    }
    this.problems.add(
      'name-unknown',
      sourceOf(said, item),
      `there is no place \`${text}\` in the machine; write a contact such as \`CAGE.3.14\` or \`RAM.edge.14\`, or a rail`,
    );
    return undefined;
  }

  private boardNamed(name: string): Board | undefined {
    for (const boards of this.boardsOf.values()) {
      for (const board of boards) if (board.name === name) return board;
    }
    return undefined;
  }

  // ---- what boards do on lines ----

  private uses(boards: readonly Board[]): Use[] {
    const uses: Use[] = [];
    for (const board of boards) {
      for (const card of board.card.uses) {
        uses.push({ board, card, node: this.wiring.nodeOfUse(board, card) });
      }
    }
    return uses;
  }

  private biasings(backplanes: ReadonlyMap<string, Backplane>, boards: readonly Board[]): Biasing[] {
    const list: Biasing[] = [];
    for (const backplane of backplanes.values()) {
      for (const bias of backplane.biases) {
        this.checkBiasPlace(backplane, bias);
        for (const { name, source } of bias.names) {
          const node = this.biasNode(backplane, bias.place, name);
          if (node !== undefined) list.push({ bias, name, node, backplane, source });
          // A backplane whose bus is not known is reported once, where the bus is named.
          else if (backplane.buses.length > 0)
            this.problems.add('name-unknown', source, `no line of ${backplane.name} is called \`${name}\``);
        }
      }
    }
    for (const board of boards) {
      for (const bias of board.card.biases) {
        if (bias.as !== undefined && board.without.has(bias.as)) continue;
        const at = bias.place?.word === 'at' ? bias.place.of : undefined;
        for (const { name, source } of bias.names) {
          list.push({ bias, name, node: this.wiring.nodeOfName(board, name, at), board, source });
        }
      }
    }
    return list;
  }

  /** A terminator sits after or before a slot of the backplane, or at a port of it. */
  private checkBiasPlace({ name, slots, ports }: Backplane, { place, source }: Bias): void {
    if (place === undefined || slots.length === 0) return;
    const [what, known] =
      place.word === 'at'
        ? ['port', ports.map((port) => port.name)]
        : ['slot', slots.map((slot) => slot.label)];
    if (known.includes(place.of)) return;
    this.problems.add(
      'name-unknown',
      source,
      `${unknown(what, place.of, known)} (\`${place.word} ${place.of}\` of ${name})`,
    );
  }

  private biasNode(backplane: Backplane, place: Biasing['bias']['place'], name: string): number | undefined {
    const { wiring } = this;
    const port = place?.word === 'at' ? wiring.instanceAt(`${backplane.name}.${place.of}`) : undefined;
    if (port !== undefined) {
      const contact = port.pins.claims.findIndex((claim) => claim?.name === name);
      if (contact >= 0) return port.base + contact;
    }
    const slot = place === undefined ? 0 : backplane.slots.findIndex((one) => one.label === place.of);
    return wiring.lineNode(backplane, name, Math.max(slot, 0)) ?? wiring.placeOnBackplane(backplane, name);
  }

  private railSources(
    supplies: ReadonlyMap<string, Supply>,
    boards: readonly Board[],
    rails: Machine['railNames'],
  ): RailSource[] {
    const sources: RailSource[] = [];
    for (const supply of supplies.values()) {
      for (const rail of supply.rails) {
        sources.push({
          kind: 'supply',
          node: this.wiring.supplyNode(supply, rail.name)!,
          rail: rail.name,
          low: rail.low,
          high: rail.high,
          owner: supply.name,
          ac: rail.ac,
          declared: rail,
          source: rail.source,
        });
      }
    }
    for (const board of boards) {
      for (const make of board.card.makes) {
        const volts = make.volts ?? voltsOfName(make.rail) ?? rails.rails.get(make.rail)?.[0]?.low ?? 0;
        sources.push({
          kind: 'regulator',
          node: this.wiring.nodeOfName(board, make.rail),
          rail: make.rail,
          low: volts,
          high: volts,
          owner: board.name,
          ac: false,
          board,
          make,
          source: make.source,
        });
      }
    }
    return sources;
  }

  private supplyGrounds(supplies: ReadonlyMap<string, Supply>): SupplyGround[] {
    return [...supplies.values()].flatMap((supply) =>
      supply.grounds.map((name) => ({ supply, name, node: this.wiring.supplyNode(supply, name)! })),
    );
  }

  /** What boards take, make and need are places too, also where the name is inside the board only. */
  private nameRails(boards: readonly Board[]): void {
    for (const board of boards) {
      const { takes, makes, chips, biases } = board.card;
      for (const { rail, at } of takes) this.wiring.nodeOfName(board, rail, at);
      for (const { rail, from } of makes)
        for (const name of [rail, from]) this.wiring.nodeOfName(board, name);
      for (const { needs } of chips) for (const { rail } of needs) this.wiring.nodeOfName(board, rail);
      for (const { legs } of biases) for (const { rail } of legs) this.wiring.nodeOfName(board, rail);
    }
  }

  /** What the straps of one block join is one name, also over several lines. */
  private aliases(): Set<string> {
    const pairs = new Set<string>();
    for (const form of ['supply', 'backplane', 'card']) {
      for (const said of this.of(form)) {
        const groups = new Map<string, Set<string>>();
        for (const line of inside(said)) {
          const statement = statementOf(line);
          // A sense wire is at the rail it watches.
          if (statement.form !== 'strap' && statement.form !== 'sense') continue;
          const named = [...subjects(statement), ...items(statement, 'for')].map((item) => item.first);
          const group = new Set(named.flatMap((name) => [...(groups.get(name) ?? [name])]));
          for (const name of group) groups.set(name, group);
        }
        for (const [a, group] of groups) for (const b of group) if (a !== b) pairs.add(`${a}\n${b}`);
      }
    }
    return pairs;
  }
}

/** Names that a bus gives to contacts in some of its slots only. */
function namesInSlots({ inSlots }: BusTable): Set<string> {
  return new Set(inSlots.flatMap(({ claim }) => [claim.name, ...claim.aliases]));
}

/** The map of one slot: where the bus says something of certain slots only, and with the slot's own keys. */
function slotPins(pins: PinMap, inSlots: BusTable['inSlots'], slot: string, keys: PinMap['keys']): PinMap {
  const own = keys.length > 0 ? { ...pins, keys: [...pins.keys, ...keys] } : pins;
  if (inSlots.length === 0) return own;
  const claims = [...pins.claims];
  for (const { contact } of inSlots) {
    const here = inSlots.find((one) => one.contact === contact && one.claim.slots?.has(slot));
    const everywhere = claims[contact]?.slots === undefined ? claims[contact] : undefined;
    claims[contact] = here?.claim ?? everywhere;
  }
  return { ...own, claims };
}

/** The map of a board's edge: where its slot differs from the bus at large, what the slot says. */
function edgePins(edge: Port, board: Board): PinMap {
  const slot = board.slot?.instances.find((one) => one.port.bus === edge.bus);
  if (edge.bus === undefined || slot === undefined || slot.pins.claims === edge.bus.pins.claims)
    return edge.pins;
  return { ...edge.pins, claims: slot.pins.claims.map((claim, i) => edge.pins.own[i] ?? claim) };
}

const saidTitle = (titles: readonly Said[]): string => {
  const value = titles[0] && statementOf(titles[0]).subject[0];
  return value?.kind === 'text' ? value.value : '';
};

function readAllowance(said: Said): Allowance {
  const statement = statementOf(said);
  const rule = statement.subject[0];
  return {
    rule: rule?.kind === 'word' ? rule.text : '',
    places: items(statement, 'at').map((item) => item.first),
    reason: saidText(statement, 'text') ?? '',
    source: sourceOf(said),
  };
}
