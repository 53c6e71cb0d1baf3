import { items, subjects } from '../language/tree.ts';
import type { Board, Instance, Machine } from '../machine/types.ts';
import type { Analysis } from './project.ts';
import type { Occurrence } from './symbols.ts';

/** Where a name is looked for: on boards, on slots of a bus, on a backplane, in a supply. */
interface Scope {
  readonly boards: readonly Board[];
  readonly instances: readonly Instance[];
  readonly supplies: readonly string[];
}

/**
 * The nets that a name means where it stands, the largest first: those of the block around it, else those of what its
 * path begins with, else those of the whole machine. None where no contact and no copper carries it.
 */
export function netsNamed({ machine }: Analysis, occurrence: Occurrence, name: string): number[] {
  for (const scope of scopesOf(machine, occurrence)) {
    const nets = netsIn(machine, scope, name);
    if (nets.length > 0) return nets;
  }
  return [];
}

function netsIn(machine: Machine, scope: Scope, name: string): number[] {
  const { start, of } = machine.nets;
  const size = (net: number): number => start[net + 1]! - start[net]!;
  const nets = new Set<number>();
  for (const node of nodesIn(machine, scope, name)) nets.add(of[node]!);
  return [...nets].sort((a, b) => size(b) - size(a));
}

/** The net of a chip's pin by its path: `U3.4` on the boards of the block around it, or `GAUGE.U3.4`. */
export function netsOfPin({ machine }: Analysis, occurrence: Occurrence, path: string): number[] {
  const [first] = scopesOf(machine, occurrence);
  if (first?.boards.length) return netsIn(machine, first, path);
  const board = machine.boards.find(({ name }) => path.startsWith(`${name}.`));
  return board ? netsIn(machine, { ...NOWHERE, boards: [board] }, path.slice(board.name.length + 1)) : [];
}

function* scopesOf(machine: Machine, { around, keys, entry }: Occurrence): Iterable<Scope> {
  const [outer, inner] = around;
  const statement = outer?.statement ?? entry.statement;
  const name = subjects(statement)[0]?.first ?? '';
  if (statement.form === 'fitted' || statement.form === 'loose') {
    const line = statement.form === 'loose' ? statement : (inner?.statement ?? entry.statement);
    const card = statement.form === 'loose' ? name : items(line, 'is')[0]?.first;
    const board = items(line, 'as')[0]?.first ?? card;
    yield { ...NOWHERE, boards: machine.boards.filter((one) => one.name === board) };
    yield scopeOf(machine, 'backplane', name);
  } else yield scopeOf(machine, statement.form, name);
  for (const key of keys) {
    const [kind, form, owner] = key.split(':');
    if (kind === 'name' && form !== undefined && owner !== undefined) yield scopeOf(machine, form, owner);
  }
  const supplies = machine.supplies.map((one) => one.name);
  yield { ...NOWHERE, supplies };
  yield { boards: machine.boards, instances: machine.instances, supplies };
}

const NOWHERE: Scope = { boards: [], instances: [], supplies: [] };

function scopeOf(machine: Machine, form: string, name: string): Scope {
  switch (form) {
    case 'card': {
      const card = machine.cards.find((one) => one.name === name);
      return { ...NOWHERE, boards: machine.boards.filter((one) => one.card === card) };
    }
    case 'bus':
      return {
        ...NOWHERE,
        instances: machine.instances.filter(({ kind, port }) => kind === 'slot' && port.bus?.name === name),
      };
    case 'backplane':
      return { ...NOWHERE, instances: machine.instances.filter(({ backplane }) => backplane?.name === name) };
    case 'supply':
      return {
        ...NOWHERE,
        instances: machine.instances.filter(({ supply }) => supply?.name === name),
        supplies: [name],
      };
    default:
      return NOWHERE;
  }
}

function* nodesIn(machine: Machine, { boards, instances, supplies }: Scope, name: string): Iterable<number> {
  for (const board of boards) {
    const node = machine.boardNames.get(board)?.get(name);
    if (node !== undefined) yield node;
    else yield* contactsNamed(board.instances, name);
  }
  yield* contactsNamed(instances, name);
  if (supplies.length === 0) return;
  for (const { kind, owner, rail, node } of machine.railSources) {
    if (kind === 'supply' && rail === name && supplies.includes(owner)) yield node;
  }
  for (const ground of machine.supplyGrounds) {
    if (ground.name === name && supplies.includes(ground.supply.name)) yield ground.node;
  }
}

function* contactsNamed(instances: readonly Instance[], name: string): Iterable<number> {
  for (const { base, pins } of instances) {
    for (let i = 0; i < pins.claims.length; i++) {
      const claim = pins.claims[i];
      if (claim?.name === name || claim?.aliases.includes(name)) yield base + i;
    }
  }
}
