import { familyNamed } from '../knowledge/lookup.ts';
import type {
  Family,
  LogicInput,
  LogicOutput,
  OutputKind,
  OutputPoint,
  Part,
  PartRail,
  Regulator,
} from '../knowledge/types.ts';
import type { Quantity, Statement } from '../language/tree.ts';
import { has, quantity, subjects } from '../language/tree.ts';
import { measure } from '../language/units.ts';
import { unknown } from './cards.ts';
import { optional } from './connectors.ts';
import { voltsOfName } from './names.ts';
import { amount, inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';

/** Families, parts and regulators that the files themselves describe; they go before the shipped tables. */
export interface OwnParts {
  readonly families: ReadonlyMap<string, Family>;
  readonly parts: ReadonlyMap<string, Part>;
  readonly regulators: ReadonlyMap<string, Regulator>;
}

const OUTPUT_KINDS: readonly OutputKind[] = ['three-state', 'totem-pole', 'open-collector'];
const SOURCE = 'the pinout file';

/** Reads `family` and `part` blocks, by upper-case name. What a block leaves out comes from its `like`, or from 74LS. */
export function readOwnParts(
  families: ReadonlyMap<string, Said>,
  parts: ReadonlyMap<string, Said>,
  problems: Problems,
): OwnParts {
  const own = {
    families: new Map<string, Family>(),
    parts: new Map<string, Part>(),
    regulators: new Map<string, Regulator>(),
  };
  const base = familyNamed('74LS') as Family;
  for (const [name, said] of families) {
    const block = readBlock(said, base);
    own.families.set(name.toUpperCase(), { ...base, ...block, name, title: name, source: SOURCE });
  }
  for (const [name, said] of parts) {
    const like = lineOf(said, 'like');
    const named = like && subjects(statementOf(like))[0];
    const family = named && (own.families.get(named.first.toUpperCase()) ?? familyNamed(named.first));
    if (named && family === undefined)
      problems.add(
        'name-unknown',
        sourceOf(like, named),
        unknown('family', named.first, ['74LS', '74S', '74F', '74HCT']),
      );
    const regulates = lineOf(said, 'regulates');
    if (regulates) own.regulators.set(name.toUpperCase(), readRegulator(name, statementOf(regulates)));
    else own.parts.set(name.toUpperCase(), readPart(name, said, family));
  }
  return own;
}

const lineOf = (said: Said, form: string): Said | undefined =>
  inside(said).find((line) => statementOf(line).form === form);

function linesOf(said: Said, form: string): Statement[] {
  return inside(said)
    .map(statementOf)
    .filter((statement) => statement.form === form);
}

function readPart(name: string, said: Said, family: Family | undefined): Part {
  const rails: PartRail[] = linesOf(said, 'needs').map((statement) => ({
    volts: voltsOfName(subjects(statement)[0]?.first ?? '') ?? 0,
    ...optional('current', amount(statement, 'current', 'current')),
  }));
  const [first] = linesOf(said, 'first');
  const volts = first && voltsOfName(subjects(first)[0]?.first ?? '');
  const block = readBlock(said, family ?? (familyNamed('74LS') as Family));
  const says = (forms: readonly string[]): boolean =>
    family !== undefined || forms.some((form) => linesOf(said, form).length > 0);
  return {
    name,
    title: name,
    ...optional('family', family?.name),
    ...(says(['input']) ? { input: block.input } : {}),
    ...(says(['output', 'sinks', 'gives']) ? { output: block.output } : {}),
    ...(rails.length > 0 ? { rails } : {}),
    ...optional('first', volts === undefined ? undefined : { volts, binding: true }),
    source: SOURCE,
  };
}

/** What a block says of supply, inputs and outputs, over a base. */
function readBlock(said: Said, base: Family): Pick<Family, 'supply' | 'input' | 'output'> {
  const [powered] = linesOf(said, 'powered');
  const [input] = linesOf(said, 'input');
  const [output] = linesOf(said, 'output');
  return {
    supply: powered ? readSupply(powered, base) : base.supply,
    input: input ? readInput(input, base.input) : base.input,
    output: readOutput(output, linesOf(said, 'sinks'), linesOf(said, 'gives'), base.output),
  };
}

const range = (statement: Statement, key: string): { low: number; high: number } | undefined => {
  const value: Quantity | undefined = quantity(statement, key);
  return value && measure(value, 'voltage');
};

function readSupply(statement: Statement, base: Family): Family['supply'] {
  const volts = range(statement, 'voltage');
  return {
    min: volts?.low ?? base.supply.min,
    max: volts?.high ?? base.supply.max,
    absolute: amount(statement, 'peak', 'voltage') ?? base.supply.absolute,
  };
}

function readInput(statement: Statement, base: LogicInput): LogicInput {
  const stands = range(statement, 'stands');
  return {
    low: Math.abs(amount(statement, 'low', 'current') ?? base.low),
    high: Math.abs(amount(statement, 'high', 'current') ?? base.high),
    max: stands?.high ?? base.max,
    min: stands && stands.low !== stands.high ? stands.low : base.min,
  };
}

function readOutput(
  output: Statement | undefined,
  sinks: readonly Statement[],
  gives: readonly Statement[],
  base: LogicOutput,
): LogicOutput {
  const kind = (output && OUTPUT_KINDS.find((one) => has(output, one))) ?? base.kind;
  const off = output && amount(output, 'off', 'current');
  const low = points(sinks);
  const high = points(gives);
  return {
    kind,
    low: low.length > 0 ? low : base.low,
    high: kind === 'open-collector' ? [] : high.length > 0 ? high : base.high,
    offLow: off ?? base.offLow,
    offHigh: off ?? base.offHigh,
    max: (output && range(output, 'stands')?.high) ?? base.max,
  };
}

function points(lines: readonly Statement[]): OutputPoint[] {
  return lines
    .map((line) => ({
      current: Math.abs(amount(line, 'current', 'current') ?? 0),
      voltage: amount(line, 'voltage', 'voltage') ?? 0,
    }))
    .sort((a, b) => a.current - b.current);
}

function readRegulator(name: string, statement: Statement): Regulator {
  const output = amount(statement, 'voltage', 'voltage');
  return {
    name,
    title: name,
    polarity: (output ?? 1) < 0 ? -1 : 1,
    ...optional('output', output),
    dropout: amount(statement, 'dropout', 'voltage') ?? 2,
    maxInput: Math.abs(range(statement, 'stands')?.high ?? 35),
    current: amount(statement, 'max', 'current') ?? 1,
    source: SOURCE,
  };
}
