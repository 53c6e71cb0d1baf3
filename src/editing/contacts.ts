import { type Entry, items, subjects } from '../language/tree.ts';
import type { Claim, Connector, Instance, Machine, PinMap } from '../machine/types.ts';
import type { Analysis } from './project.ts';
import type { Occurrence } from './symbols.ts';

/** A contact of the machine that a name in the text means. */
export interface ContactAt {
  readonly label: string;
  readonly pins: PinMap;
  readonly index: number;
  readonly claim?: Claim;
  /** One instance of it: of a table, the first connector that the table describes. Undefined where none is there. */
  readonly instance?: Instance;
}

/** The contact that an occurrence means; undefined where the connector has none of that label. */
export function contactOf(analysis: Analysis, occurrence: Occurrence): ContactAt | undefined {
  const [label = ''] = occurrence.names;
  const found =
    occurrence.path === undefined ? tableOf(analysis, occurrence) : pathOf(analysis, occurrence, label);
  const index = found?.pins.connector.indexOf.get(label);
  if (found === undefined || index === undefined) return undefined;
  const claim = found.pins.claims[index];
  return { label, ...found, index, ...(claim ? { claim } : {}) };
}

type Connection = { readonly pins: PinMap; readonly instance?: Instance };

/** The connector that a path leads to: a path within a card means the first board of it. */
function pathOf({ machine }: Analysis, { path, around }: Occurrence, label: string): Connection | undefined {
  const connector = path!.slice(0, -label.length - 1);
  const inside = ownersOf(machine, around).map((owner) => `${owner}.${connector}`);
  const byPath = instancesByPath(machine);
  const instance = [connector, ...inside]
    .map((wanted) => byPath.get(wanted))
    .find((one) => one !== undefined);
  return instance && { pins: instance.pins, instance };
}

const byPaths = new WeakMap<Machine, ReadonlyMap<string, Instance>>();

function instancesByPath(machine: Machine): ReadonlyMap<string, Instance> {
  const kept = byPaths.get(machine) ?? new Map(machine.instances.map((one) => [one.path, one]));
  byPaths.set(machine, kept);
  return kept;
}

/** What paths within a block may begin with: the backplane itself, or the boards of a card. */
function ownersOf(machine: Analysis['machine'], around: Occurrence['around']): string[] {
  const [outer, inner] = around;
  if (outer === undefined) return [];
  const name = subjects(outer.statement)[0]?.first ?? '';
  if (outer.statement.form === 'backplane' || outer.statement.form === 'supply') return [name];
  const card =
    outer.statement.form === 'fitted' ? items(inner?.statement ?? outer.statement, 'is')[0]?.first : name;
  return machine.boards.filter((board) => board.card.name === card).map((board) => board.name);
}

/** The connector that a table is of: a bus, an edge, a port, or the contacts of a feed. */
function tableOf({ machine }: Analysis, { around, entry }: Occurrence): Connection | undefined {
  const [outer, inner] = around;
  if (outer === undefined) return undefined;
  const name = subjects(outer.statement)[0]?.first ?? '';
  if (outer.statement.form === 'bus') {
    const bus = machine.buses.find((one) => one.name === name);
    return (
      bus &&
      withInstance(
        bus.pins,
        machine.instances.find(({ kind, port }) => kind === 'slot' && port.bus === bus),
      )
    );
  }
  if (entry.statement.form === 'feed') {
    const bus = machine.backplanes.find((one) => one.name === name)?.buses[0]?.bus;
    return (
      bus &&
      withInstance(
        bus.pins,
        machine.instances.find(({ kind, port }) => kind === 'slot' && port.bus === bus),
      )
    );
  }
  if (inner === undefined) return undefined;
  const port = subjects(inner.statement)[0]?.first ?? 'edge';
  const owners = [...machine.cards, ...machine.backplanes, ...machine.supplies].filter(
    (one) => one.name === name,
  );
  for (const owner of owners) {
    const edges = 'edges' in owner ? owner.edges : [];
    const found = [...owner.ports, ...edges].find((one) => one.name === port);
    if (found === undefined) continue;
    const instance = machine.instances.find((one) => one.port === found);
    return withInstance(instance?.pins ?? found.pins, instance);
  }
  return undefined;
}

const withInstance = (pins: PinMap, instance: Instance | undefined): Connection => ({
  pins,
  ...(instance ? { instance } : {}),
});

/** The connector of the table that lines within these blocks belong to; undefined outside tables. */
export function connectorAround(machine: Machine, around: readonly Entry[]): Connector | undefined {
  const inner = around.at(-1)?.statement;
  const on = inner && items(inner, 'on')[0]?.first;
  if (inner === undefined || on === undefined) return undefined;
  const name = inner.form === 'edge' ? machine.buses.find((bus) => bus.name === on)?.pins.connector.name : on;
  return machine.connectors.find((one) => one.name === name);
}
