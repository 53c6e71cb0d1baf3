import { indexNets, type NetView } from '../../src/analysis/nets.ts';
import type { Biasing, Machine, Use } from '../../src/machine/types.ts';
import { type Edit, type Example, type Placed, statementAt, withoutNames } from './example.ts';

/** A line on which boards do something: what they do, and its resistors. */
export interface LineAt {
  readonly name: string;
  readonly view: NetView;
  readonly drivers: readonly Use[];
  readonly hearers: readonly Use[];
  readonly biasings: readonly Biasing[];
  readonly wired: boolean;
}

const linesByMachine = new WeakMap<Machine, readonly LineAt[]>();

export function linesOf({ machine }: Example): readonly LineAt[] {
  const known = linesByMachine.get(machine);
  if (known) return known;
  const lines = indexNets(machine).views.flatMap((view): LineAt[] => {
    const { uses, claims, biasings, sources } = view;
    const claim = claims.find((one) => one.claim.kind === 'signal')?.claim;
    if (claim === undefined || sources.length > 0 || claims.some((one) => one.claim.kind === 'rail'))
      return [];
    const drivers = uses.filter(({ card }) => ['drives', 'transceives', 'pulls'].includes(card.kind));
    const hearers = uses.filter(({ card }) => ['receives', 'transceives', 'passes'].includes(card.kind));
    const wired =
      claims.some((one) => one.claim.wiredOr) ||
      (drivers.length > 0 && drivers.every(({ card }) => card.kind === 'pulls'));
    return [{ name: claim.name, view, drivers, hearers, biasings, wired }];
  });
  linesByMachine.set(machine, lines);
  return lines;
}

export const isTerminator = ({ bias }: Biasing): boolean => bias.word === 'terminate';

/** The statements that a line's resistors stand in, without this line. */
export function withoutResistors(example: Example, { name, biasings }: LineAt): Edit[] {
  const lines = new Set(biasings.map(({ bias }) => statementAt(example, bias.source)));
  return [...lines].map((line) => withoutNames(example, line, [name]));
}

/** The statements that these uses stand in, without this line, whatever each board calls it. */
export function withoutUses(example: Example, uses: readonly Use[]): Edit[] {
  const lines = new Map<Placed, string[]>();
  for (const { card } of uses) {
    const line = statementAt(example, card.source);
    lines.set(line, [...(lines.get(line) ?? []), card.name]);
  }
  return [...lines].map(([line, names]) => withoutNames(example, line, names));
}

/** Whether a line runs through slots and nowhere else. */
export function isOnBackplaneOnly({ machine }: Example, { view }: LineAt): boolean {
  const { start, members } = machine.nets;
  const { instanceOf } = indexOf(machine);
  let slots = 0;
  for (let i = start[view.net]!; i < start[view.net + 1]!; i++) {
    const node = members[i]!;
    if (node >= machine.contactCount) continue;
    const { kind, plugs } = instanceOf(node);
    if (plugs.length > 0) return false;
    if (kind === 'slot') slots++;
  }
  return slots > 1;
}

const indices = new WeakMap<Machine, ReturnType<typeof indexNets>>();

export function indexOf(machine: Machine): ReturnType<typeof indexNets> {
  const known = indices.get(machine) ?? indexNets(machine);
  indices.set(machine, known);
  return known;
}

/** Whether one board drives a line and another hears it. */
export const isBusy = ({ drivers, hearers }: LineAt): boolean =>
  hearers.some((one) => drivers.some((other) => other.board !== one.board));
