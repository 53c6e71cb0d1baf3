import type { Part } from '../knowledge/types.ts';
import { voltsOfName } from '../machine/names.ts';
import type { Board, Card, Chip, Machine, Make, Rail, RailSource } from '../machine/types.ts';
import { knownPart } from './parts.ts';

/** What comparisons of sums and ratings forgive: rounding only. */
export const ROUNDING = 1e-9;

/** V at least and at most, by magnitude: a −16 V rail of −21.5…−14.5 V has 14.5 and 21.5. */
interface Magnitudes {
  readonly sign: 1 | -1;
  readonly least: number;
  readonly most: number;
}

/** What a rail may be, its tolerance included. */
export function magnitudesOf({
  low,
  high,
  tolerance = 0,
}: Pick<Rail, 'low' | 'high' | 'tolerance'>): Magnitudes {
  const sign = low + high < 0 ? -1 : 1;
  const [least, most] = sign > 0 ? [low, high] : [-high, -low];
  return { sign, least: least * (1 - tolerance), most: most * (1 + tolerance) };
}

/** V that a name on a card stands for: as the card makes it, else as declared or spelled; signed, nominal. */
export function nominalVolts(machine: Machine, name: string, card?: Card): number | undefined {
  const made = card?.makes.find((make) => make.rail === name)?.volts;
  if (made !== undefined) return made;
  const declared = machine.railNames.rails.get(name)?.[0];
  if (declared === undefined) return voltsOfName(name);
  return declared.low === declared.high
    ? declared.low
    : (voltsOfName(name) ?? (declared.low + declared.high) / 2);
}

/** Names that cards take and make are rails, also where nobody declares them: VCC. */
export function takenRails({ cards }: Machine): Set<string> {
  const names = new Set<string>();
  for (const { takes, makes } of cards) {
    for (const { rail } of takes) names.add(rail);
    for (const { rail, from } of makes) names.add(rail).add(from);
  }
  return names;
}

/** The node of a name on a board, at one of its connectors where `at` says so; undefined where nothing carries it. */
export function nodeOnBoard(machine: Machine, board: Board, name: string, at?: string): number | undefined {
  const instance = at === undefined ? undefined : board.instances.find((one) => one.port.name === at);
  const contact = instance?.pins.claims.findIndex(
    (claim) => claim?.name === name || claim?.aliases.includes(name),
  );
  if (instance !== undefined && contact !== undefined && contact >= 0) return instance.base + contact;
  return machine.boardNames.get(board)?.get(name);
}

/** The sources on each net. */
function sourcesByNet(machine: Machine): ReadonlyMap<number, readonly RailSource[]> {
  const kept = sources.get(machine.flow);
  if (kept) return kept;
  const map = new Map<number, RailSource[]>();
  for (const source of machine.railSources) {
    const net = machine.nets.of[source.node]!;
    const list = map.get(net);
    if (list) list.push(source);
    else map.set(net, [source]);
  }
  sources.set(machine.flow, map);
  return map;
}

const sources = new WeakMap<Machine['flow'], ReadonlyMap<number, readonly RailSource[]>>();

/** What feeds the net of a node. */
export function sourcesAt(machine: Machine, node: number | undefined): readonly RailSource[] {
  return node === undefined ? [] : (sourcesByNet(machine).get(machine.nets.of[node]!) ?? []);
}

/** The node that a regulator is fed from. */
export function inputOf(machine: Machine, source: RailSource): number | undefined {
  return source.board && source.make && nodeOnBoard(machine, source.board, source.make.from);
}

/**
 * The supply rails that a node comes from in the end, through however many regulators; none where it is dead. A rail
 * that a regulator makes is there when the rail it is made from is.
 */
export function originsOf(machine: Machine, node: number | undefined): RailSource[] {
  const found = new Set<RailSource>();
  const seen = new Set<number>();
  const open = node === undefined ? [] : [node];
  for (const one of open) {
    const net = machine.nets.of[one]!;
    if (seen.has(net)) continue;
    seen.add(net);
    for (const source of sourcesAt(machine, one)) {
      if (source.kind === 'supply') found.add(source);
      const input = source.kind === 'regulator' ? inputOf(machine, source) : undefined;
      if (input !== undefined) open.push(input);
    }
  }
  return [...found];
}

/** Chips of one line that are on a board, and what is known of their kind. */
export interface Fitted {
  readonly chip: Chip;
  readonly names: readonly string[];
  readonly part?: Part;
}

/** The chips on a board, without those that it is said to be without. */
export function chipsOn(machine: Machine, board: Board): Fitted[] {
  return board.card.chips.flatMap((chip) => {
    const names = chip.names.filter((name) => !board.without.has(name));
    const part = knownPart(machine, chip.part)?.part;
    return names.length === 0 ? [] : [{ chip, names, ...(part ? { part } : {}) }];
  });
}

/** A that the chips on a board are said to draw from a rail; undefined where none says a figure. */
export function chipCurrent(machine: Machine, board: Board, rail: string): number | undefined {
  let sum: number | undefined;
  for (const { chip, names } of chipsOn(machine, board)) {
    for (const need of chip.needs) {
      if (need.rail === rail) sum = (sum ?? 0) + need.current * (need.each ? names.length : 1);
    }
  }
  return sum;
}

/** What a board calls the rail of so many volts that these chips use: as their line says, else by what is on the board. */
export function railNameFor(machine: Machine, board: Board, chip: Chip, volts: number): string | undefined {
  const { card } = board;
  const isIt = (name: string): boolean => nominalVolts(machine, name, card) === volts;
  const said = [...chip.needs, ...card.makes, ...card.takes].map(({ rail }) => rail).find(isIt);
  if (said !== undefined) return said;
  for (const { pins } of board.instances) {
    const claim = pins.claims.find((one) => one?.kind === 'rail' && isIt(one.name));
    if (claim) return claim.name;
  }
  return undefined;
}

/** A that a regulator, or several in parallel, may give: as said, else by its kind; undefined where neither tells. */
export function ratingOf(make: Make, each: number | undefined): number | undefined {
  return make.max ?? (each === undefined ? undefined : each * make.count);
}
