import { powerOf } from '../analysis/power.ts';
import { percentKnown, tallyOf } from '../analysis/tally.ts';
import { spokenAmount, spokenEvidence } from '../checks/explain.ts';
import { spokenNames } from '../checks/lists.ts';
import type {
  Backplane,
  Board,
  Bus,
  Card,
  Connector,
  Machine,
  PinMap,
  Port,
  Ribbon,
  Slot,
  Supply,
} from '../machine/types.ts';
import { spokenBoards, spokenEnds, spokenSlots } from './code-lens.ts';
import { spokenVolts } from './hover-rail.ts';
import { code, codes, counted, list, paragraphs, plain, table } from './markdown.ts';

/** Short summaries of what a machine is made of, as Markdown. */

export function supplyHover(machine: Machine, { name, rails, grounds, order, ports }: Supply): string {
  const power = powerOf(machine);
  const rows = rails.map((rail) => {
    const source = machine.railSources.find(({ declared }) => declared === rail);
    const loads = power.at(source?.node)?.loads ?? [];
    const taken = loads.reduce((sum, { take }) => sum + (take.current ?? 0), 0);
    return [
      code(rail.name),
      spokenVolts(rail),
      rail.max === undefined ? 'not said' : spokenAmount(rail.max, 'A'),
      loads.length === 0 ? '' : spokenAmount(taken, 'A'),
      plain(spokenEvidence(rail.evidence)),
    ];
  });
  return paragraphs([
    `**${code(name)}** supply · ${counted(rails.length, 'rail')}`,
    rows.length > 0 ? table(['rail', 'volts', 'rated', 'taken', 'known by'], rows) : undefined,
    list([
      grounds.length > 0 ? `ground ${codes(grounds)}` : undefined,
      order ? `comes up in the order ${codes(order, 12)}` : undefined,
      spokenPorts(ports),
    ]),
  ]);
}

const spokenPorts = (ports: readonly Port[]): string | undefined =>
  ports.length === 0
    ? undefined
    : `ports ${ports.map(({ name, pins }) => `${code(name)} (${code(pins.connector.name)})`).join(', ')}`;

const millimetres = (metres: number): string => `${Number((metres * 1e3).toPrecision(4))} mm`;

const spokenShape = ({ shape, rows, positions, labels }: Connector): string =>
  rows > 1 && shape !== 'dip' && shape !== 'dshell'
    ? `${shape} ${rows} x ${positions}`
    : `${shape} ${labels.length}`;

export function connectorHover(machine: Machine, connector: Connector): string {
  const { name, labels, pitch, rating, resistance, ends, shroud, bump } = connector;
  const users = [
    ...machine.buses.filter(({ pins }) => pins.connector === connector).map((bus) => `bus ${bus.name}`),
    ...[...machine.supplies, ...machine.backplanes, ...machine.cards].flatMap((owner) =>
      owner.ports
        .filter(({ pins }) => pins.connector === connector)
        .map((port) => `${owner.name}.${port.name}`),
    ),
  ];
  const each = [
    ...(rating === undefined ? [] : [spokenAmount(rating, 'A')]),
    ...(resistance === undefined ? [] : [spokenAmount(resistance, 'ohm')]),
  ];
  return paragraphs([
    `**${code(name)}** connector · ${spokenShape(connector)}, ${counted(labels.length, 'contact')}`,
    list([
      pitch === undefined ? undefined : `pitch ${millimetres(pitch)}`,
      each.length > 0 ? `each contact ${each.join(', ')}` : 'rating of a contact not said',
      spokenKeying(connector, [
        ...(ends === undefined ? [] : [`ends ${ends}`]),
        ...(shroud === undefined ? [] : [shroud === 'notch' ? 'shroud with a notch' : 'shroud']),
        ...(bump ? ['bump'] : []),
      ]),
      users.length > 0 ? `on ${codes(users)}` : 'nothing is made on it',
    ]),
  ]);
}

function spokenKeying(
  { labels, keys, pulled, plugged }: Pick<Connector, 'labels' | 'keys' | 'pulled' | 'plugged'>,
  more: readonly string[],
): string {
  const named = (contacts: Iterable<number>): string => codes([...contacts].map((i) => labels[i]!));
  const parts = [
    ...keys.map((pair) => `key between ${named(pair)}`),
    ...(pulled.size > 0 ? [`pulled ${named(pulled)}`] : []),
    ...(plugged.size > 0 ? [`plugged ${named(plugged)}`] : []),
    ...more,
  ];
  return parts.length === 0 ? 'nothing keys it' : parts.join(', ');
}

function spokenTally(pins: PinMap): string {
  const tally = tallyOf(pins);
  return `${counted(tally.contacts, 'contact')}, ${percentKnown(tally)} % known`;
}

export function busHover(machine: Machine, bus: Bus): string {
  const carried = machine.backplanes.flatMap(({ name, slots }) => {
    const its = slots.filter(({ instances }) => instances.some(({ port }) => port.bus === bus));
    return its.length === 0
      ? []
      : [`slots ${plain(spokenNames(its.map(({ label }) => label)))} of ${code(name)}`];
  });
  const cards = machine.cards.filter(({ edges }) => edges.some((edge) => edge.bus === bus));
  return paragraphs([
    `**${code(bus.name)}** bus on ${code(bus.pins.connector.name)} · ${spokenTally(bus.pins)}`,
    list([
      carried.length > 0 ? carried.join('; ') : 'no backplane carries it',
      cards.length > 0 ? `made for it: ${codes(cards.map(({ name }) => name))}` : undefined,
      bus.chains.length > 0 ? `daisy chains ${codes(bus.chains.map(({ name }) => name))}` : undefined,
    ]),
  ]);
}

export function backplaneHover({ name, buses, feeds, slots, ports, biases }: Backplane): string {
  const fed = new Set(feeds.map(({ rail, supply }) => `${supply.name}.${rail}`));
  const pitch = slots.find((slot) => slot.pitch !== undefined)?.pitch;
  return paragraphs([
    `**${code(name)}** backplane · ${spokenSlots({ slots })}`,
    list([
      buses.length > 0 ? `bus ${codes([...new Set(buses.map(({ bus }) => bus.name))])}` : undefined,
      pitch === undefined ? undefined : `pitch ${millimetres(pitch)}`,
      fed.size > 0 ? `fed ${codes([...fed], 12)}` : 'nothing feeds it',
      biases.length > 0
        ? counted(biases.length, 'line of terminators and pull-ups', 'lines of terminators and pull-ups')
        : undefined,
      spokenPorts(ports),
    ]),
  ]);
}

export function cardHover(machine: Machine, card: Card): string {
  const boards = machine.boards.filter((board) => board.card === card);
  return paragraphs([
    `**${code(card.name)}** card${titled(card)}`,
    list([...cardItems(card), plain(spokenBoards(boards))]),
  ]);
}

const titled = ({ title }: Card): string => (title === '' ? '' : ` · ${plain(title)}`);

function cardItems({ edges, ports, takes, makes, uses, chips, closed }: Card): (string | undefined)[] {
  const count = (kinds: readonly string[]): number =>
    new Set(uses.filter(({ kind }) => kinds.includes(kind)).map(({ name }) => name)).size;
  const [drives, hears] = [count(['drives', 'transceives', 'pulls']), count(['receives', 'transceives'])];
  const taken = takes.map(
    ({ rail, current }) => `${code(rail)} ${current === undefined ? 'not said' : spokenAmount(current, 'A')}`,
  );
  return [
    edges.length === 0
      ? 'no edge'
      : `edge ${edges.map(({ bus, pins }) => code(bus?.name ?? pins.connector.name)).join(', ')}`,
    spokenPorts(ports),
    taken.length > 0 ? `takes ${taken.join(', ')}` : 'takes nothing that is said',
    makes.length > 0 ? `makes ${codes(makes.map(({ rail }) => rail))}` : undefined,
    uses.length > 0 ? `drives ${counted(drives, 'line')}, hears ${hears}` : undefined,
    chips.length > 0 ? `parts ${codes([...new Set(chips.map(({ part }) => part))])}` : undefined,
    closed ? undefined : 'may do more than is said: no `untouched rest`',
  ];
}

export function boardHover({ name, card, slot, date, without, rework }: Board): string {
  const place = slot
    ? `slot ${plain(slot.label)} of ${code(slot.backplane.name)}`
    : 'loose, outside any slot';
  const kind = card.name === name ? titled(card) : `, a ${code(card.name)}${titled(card)}`;
  return paragraphs([
    `**${code(name)}** board${kind}`,
    list([
      place,
      date ? `date ${plain(date.text)}` : undefined,
      without.size > 0 ? `without ${codes([...without])}` : undefined,
      rework.length > 0 ? `${counted(rework.length, 'rework', 'reworks')} of its own` : undefined,
      ...cardItems(card),
    ]),
  ]);
}

export function portHover(machine: Machine, owner: string, port: Port): string {
  const plugs = machine.instances
    .filter((one) => one.port === port)
    .flatMap(({ path, plugs: its }) => its.map((plug) => ({ ...plug, path })));
  const plugged = [...new Set(plugs.flatMap(({ name, unplugged }) => (unplugged ? [] : [name])))];
  const out = plugs.filter(({ unplugged }) => unplugged);
  const { pins, bus } = port;
  return paragraphs([
    `**${code(`${owner}.${port.name}`)}** ${code(pins.connector.name)}, ${spokenShape(pins.connector)} · ${spokenTally(pins)}`,
    list([
      bus && `made for bus ${code(bus.name)}`,
      plugged.length > 0 ? `${codes(plugged)} plugged in` : undefined,
      ...out.map(({ name, path }) => `${code(name)} found unplugged at ${code(path)}`),
      bus === undefined && plugs.length === 0 ? 'nothing plugged in' : undefined,
      spokenKeying({ ...pins, labels: pins.connector.labels }, []),
    ]),
  ]);
}

export function ribbonHover(ribbon: Ribbon): string {
  const { name, kind, conductors, gauge, length, ends, rigid } = ribbon;
  const made = [
    ...(kind === 'ribbon' ? [`${conductors} way`] : []),
    ...(gauge === undefined ? [] : [`${gauge} AWG`]),
    ...(length === undefined ? ['length not said'] : [millimetres(length)]),
    ...(rigid ? ['rigid'] : []),
  ];
  const stripes = ends.map(({ instance, place, stripe, bump }) => {
    const how = [
      stripe === undefined ? 'stripe not said' : `stripe at ${code(stripe)}`,
      ...(bump ? ['bump'] : []),
    ];
    return `${code(instance?.path ?? place)}: ${how.join(', ')}`;
  });
  return paragraphs([
    `**${code(name)}** ${kind} · ${made.join(', ')}`,
    list([plain(spokenEnds(ribbon)), ...(kind === 'ribbon' ? stripes : [])]),
  ]);
}

export function slotHover(slot: Slot): string {
  const { label, backplane, state, board, bridges, instances, pitch, guides, selfBridging } = slot;
  const holds = board ? code(board.name) : state === 'empty' ? 'empty' : 'nothing said';
  const kind = board && board.card.name !== board.name ? `, a ${code(board.card.name)}` : '';
  const buses = [...new Set(instances.flatMap(({ port }) => (port.bus ? [port.bus.name] : [])))];
  const built = [
    ...(pitch === undefined ? [] : [`pitch ${millimetres(pitch)}`]),
    ...(guides ? ['guides'] : []),
    ...(selfBridging ? ['self-bridging'] : []),
  ];
  return paragraphs([
    `slot **${code(label)}** of ${code(backplane.name)} · ${holds}${kind}`,
    list([
      board && board.card.title !== '' ? plain(board.card.title) : undefined,
      buses.length > 0 ? `carries ${codes(buses)}` : undefined,
      bridges.length > 0 ? `bridged ${codes(bridges.map(({ name }) => name))}` : undefined,
      built.length > 0 ? built.join(', ') : undefined,
    ]),
  ]);
}
