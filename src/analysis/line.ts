import type { LogicOutput, OutputKind } from '../knowledge/types.ts';
import type { Machine, Use } from '../machine/types.ts';
import { type Network, networkOf } from './bias.ts';
import type { NetIndex, NetView } from './nets.ts';
import { type Known, knownPart, outputIsKnown, pulledBy } from './parts.ts';

/** A that flow out of something on a line while the line is low, and into it while the line is high. */
export interface Draw {
  readonly low: number;
  readonly high: number;
}

/** A board's output on a line. */
export interface Driver {
  readonly use: Use;
  /** Undefined where neither the statement nor the part tells. */
  readonly kind: OutputKind | undefined;
  /** Its curve and its currents when off; undefined where the part is not known. */
  readonly output: LogicOutput | undefined;
  /** What it draws while it is off, or hears; undefined where it never lets go, or nobody has said. */
  readonly draw: Draw | undefined;
}

/** What hangs on a line. */
export interface Load extends Draw {
  readonly use: Use;
}

/** What loads a line. */
interface Loaded {
  /** Inputs, and outputs that are off while another drives. */
  readonly loads: readonly Load[];
  /** Uses that load the line by an amount nobody has said. */
  readonly unknown: readonly Use[];
}

/** A line: a net on which boards do something, and which carries no rail. */
export interface Line {
  readonly view: NetView;
  /** What it is called where it is first said. */
  readonly name: string;
  readonly drivers: readonly Driver[];
  /** What all loads draw together. */
  readonly total: Draw;
  /** What loads it one by one, for the few lines with which something is wrong. (A getter would cost more than all else.) */
  readonly loaded: () => Loaded;
  readonly networks: readonly Network[];
  /** Said to be wired-or, or driven by open collectors only. */
  readonly wired: boolean;
}

const kept = new WeakMap<Machine, readonly Line[]>();

/** Every line of the machine, in the order of its nets. Linear in the uses and claims. */
export function linesOf(machine: Machine, nets: NetIndex): readonly Line[] {
  const before = kept.get(machine);
  if (before) return before;
  const parts = new Map<string, Judged | undefined>();
  const known = (name: string): Judged | undefined => {
    let judged = parts.get(name);
    if (judged === undefined) {
      const part = knownPart(machine, name);
      judged = part && judge(part);
      parts.set(name, judged);
    }
    return judged;
  };
  const lines: Line[] = [];
  for (const view of nets.views) {
    if (view.uses.length === 0 || view.sources.length > 0) continue;
    if (view.claims.some(({ claim }) => claim.kind === 'rail' || claim.kind === 'ground')) continue;
    lines.push(lineOf(machine, view, known));
  }
  kept.set(machine, lines);
  return lines;
}

/** A part, with what it draws of a line as an input, as an output that is off, and as both. */
interface Judged extends Known {
  /** Whether its output is its own rather than that of an ordinary gate of its family. */
  readonly certain: boolean;
  readonly asInput: Draw | undefined;
  readonly asOutput: Draw | undefined;
  readonly asBoth: Draw | undefined;
}

function judge(part: Known): Judged {
  const { input, output } = part;
  const certain = outputIsKnown(part);
  const asInput = input && { low: input.low, high: input.high };
  const asOutput = output && certain ? { low: output.offLow, high: output.offHigh } : undefined;
  // The off current of a transceiver's pin holds its input too: the larger of the two, not the sum.
  const asBoth =
    asInput && asOutput
      ? { low: Math.max(asInput.low, asOutput.low), high: Math.max(asInput.high, asOutput.high) }
      : (asInput ?? asOutput);
  return { ...part, certain, asInput, asOutput, asBoth };
}

type KnownBy = (name: string) => Judged | undefined;

function lineOf(machine: Machine, view: NetView, known: KnownBy): Line {
  const saidWired = view.claims.some(({ claim }) => claim.wiredOr);
  const drivers: Driver[] = [];
  const total = { low: 0, high: 0 };
  for (const use of view.uses) {
    const { kind, part, output } = use.card;
    if (!isAtWork(use)) continue;
    const its = part === undefined ? undefined : known(part);
    const drives = kind === 'drives' || kind === 'transceives' || kind === 'pulls';
    const driven = drives ? (output ?? kindOf(kind, its, saidWired)) : undefined;
    // A totem-pole never lets go: it is no load to others, it fights them.
    const draw = driven === 'totem-pole' ? undefined : drawOf(use, drives, its);
    if (drives) drivers.push({ use, kind: driven, output: its?.output, draw });
    total.low += draw?.low ?? 0;
    total.high += draw?.high ?? 0;
  }
  const wired = saidWired || (drivers.length > 0 && drivers.every(({ kind }) => kind === 'open-collector'));
  const networks = view.biasings.map((biasing) => networkOf(machine, biasing));
  let loaded: Loaded | undefined;
  return {
    view,
    name: nameOf(view),
    drivers,
    total,
    loaded: () => {
      loaded ??= loadsOn(view, drivers, known);
      return loaded;
    },
    networks,
    wired,
  };
}

const isAtWork = ({ card: { kind } }: Use): boolean => kind !== 'untouched' && kind !== 'starts';

function loadsOn({ uses }: NetView, drivers: readonly Driver[], known: KnownBy): Loaded {
  const driverOf = new Map(drivers.map((driver) => [driver.use, driver]));
  const loads: Load[] = [];
  const unknown: Use[] = [];
  for (const use of uses.filter(isAtWork)) {
    const driver = driverOf.get(use);
    if (driver?.kind === 'totem-pole') continue;
    const { part } = use.card;
    const draw = driver ? driver.draw : drawOf(use, false, part === undefined ? undefined : known(part));
    if (draw) loads.push({ use, ...draw });
    else unknown.push(use);
  }
  return { loads, unknown };
}

function nameOf({ claims, uses }: NetView): string {
  const named = claims.find(({ claim }) => claim.kind === 'signal' && claim.name !== '');
  return named?.claim.name ?? uses[0]!.card.name;
}

function kindOf(verb: string, its: Judged | undefined, saidWired: boolean): OutputKind | undefined {
  if (verb === 'pulls') return pulledBy(its);
  const certain = its?.certain ? its.output?.kind : undefined;
  // What hears on the pin it drives lets go of it to hear.
  if (verb === 'transceives') return certain === 'open-collector' ? certain : 'three-state';
  return certain ?? (saidWired ? 'open-collector' : undefined);
}

/** Undefined where its current is not known. */
function drawOf(use: Use, drives: boolean, its: Judged | undefined): Draw | undefined {
  if (its === undefined) return undefined;
  if (use.card.kind === 'transceives') return its.asBoth;
  if (drives) return its.asOutput;
  const count = loadsPerLine(use, its);
  const { asInput } = its;
  return asInput && count !== 1 ? { low: asInput.low * count, high: asInput.high * count } : asInput;
}

/**
 * `with 2 x 74LS` is two loads on each line. Two octal or hex buffers (`with 2 x 74LS244`) share a word's lines
 * between them, and each line meets one.
 */
function loadsPerLine({ card }: Use, { output, part }: Known): number {
  return part !== undefined && output?.kind === 'three-state' ? 1 : card.count;
}
