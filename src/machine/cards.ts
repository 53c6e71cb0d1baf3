import type { Quantity } from '../language/tree.ts';
import { attribute, has, items, said as saidText, subjects } from '../language/tree.ts';
import { readTable } from './claims.ts';
import { optional } from './connectors.ts';
import {
  amount,
  amountOf,
  evidenceOf,
  inside,
  names,
  type Problems,
  type Said,
  sourceOf,
  statementOf,
} from './scope.ts';
import type {
  Bias,
  Bus,
  Card,
  CardUse,
  Chip,
  Connector,
  Make,
  Output,
  Port,
  RailNames,
  Resistor,
  Rework,
  Take,
  UseKind,
} from './types.ts';

/** What the builder of a block looks names up in. */
export interface Lookup {
  readonly connectors: ReadonlyMap<string, Connector>;
  readonly buses: ReadonlyMap<string, Bus>;
  readonly rails: RailNames;
}

const OUTPUTS: readonly Output[] = ['three-state', 'totem-pole', 'open-collector'];
const USES = new Set<string>(['drives', 'transceives', 'receives', 'pulls', 'starts', 'passes', 'untouched']);

/** Whether a line of a card says what the card does on signals; `untouched rest` says what it is like itself. */
export const saysUses = (line: Said): boolean => USES.has(statementOf(line).form) && !saysRest(line);

const saysRest = (line: Said): boolean =>
  statementOf(line).form === 'untouched' && statementOf(line).subject[0]?.kind === 'word';

/** A card by all that its lines say but for its uses; it has none yet. */
export function buildCard(said: Said, lookup: Lookup, problems: Problems): Card {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const edges: Port[] = [];
  const ports: Port[] = [];
  const takes: Take[] = [];
  const makes: Make[] = [];
  const chips: Chip[] = [];
  const biases: Bias[] = [];
  const rework: Rework[] = [];
  let closed = false;
  for (const line of inside(said)) {
    const { form } = statementOf(line);
    if (form === 'edge') push(edges, buildEdge(line, name, lookup, problems));
    else if (form === 'port') push(ports, buildPort(line, name, lookup, problems));
    else if (form === 'takes') takes.push(readTake(line));
    else if (form === 'makes') makes.push(readMake(line));
    else if (form === 'chip') chips.push(readChip(line, problems));
    else if (saysRest(line)) closed = true;
    else if (form === 'terminate' || form === 'pullup' || form === 'pulldown')
      biases.push(readBias(line, problems));
    else if (form === 'wire' || form === 'cut' || form === 'strap') rework.push(readRework(line, problems));
  }
  unique([...edges, ...ports], name, problems);
  return {
    name,
    title: saidText(statement, 'text') ?? '',
    edges,
    ports,
    uses: [],
    takes,
    makes,
    chips,
    biases,
    rework,
    closed,
    source: sourceOf(said),
  };
}

function push<T>(list: T[], value: T | undefined): void {
  if (value !== undefined) list.push(value);
}

/** Reports a connector of one owner that has the name of another. */
export function unique(ports: readonly Port[], owner: string, problems: Problems): void {
  const seen = new Map<string, Port>();
  for (const port of ports) {
    const before = seen.get(port.name);
    if (before === undefined) seen.set(port.name, port);
    else {
      problems.add(
        'duplicate',
        port.source,
        `${owner} has two connectors named \`${port.name}\`; name one differently`,
        {
          related: [{ source: before.source, message: 'named here first' }],
        },
      );
    }
  }
}

function buildEdge(line: Said, card: string, lookup: Lookup, problems: Problems): Port | undefined {
  const statement = statementOf(line);
  const on = items(statement, 'on')[0];
  if (on === undefined) return undefined;
  const bus = lookup.buses.get(on.first);
  const connector = bus?.pins.connector ?? lookup.connectors.get(on.first);
  const source = sourceOf(line);
  if (connector === undefined) {
    problems.add('name-unknown', sourceOf(line, on), unknown('bus', on.first, [...lookup.buses.keys()]));
    return undefined;
  }
  const lines = inside(line);
  // An edge that says nothing of its own shares its bus's table, and all that is computed of it.
  const pins =
    lines.length === 0 && bus !== undefined
      ? bus.taken
      : readTable(lines, connector, card, lookup.rails, problems, bus?.pins).pins;
  return { name: subjects(statement)[0]?.first ?? 'edge', pins, ...optional('bus', bus), source };
}

/** A `port` block of a card, backplane or supply. */
export function buildPort(line: Said, owner: string, lookup: Lookup, problems: Problems): Port | undefined {
  const statement = statementOf(line);
  const on = items(statement, 'on')[0];
  if (on === undefined) return undefined;
  const connector = lookup.connectors.get(on.first);
  if (connector === undefined) {
    problems.add(
      'name-unknown',
      sourceOf(line, on),
      unknown('connector', on.first, [...lookup.connectors.keys()]),
    );
    return undefined;
  }
  const { pins } = readTable(inside(line), connector, owner, lookup.rails, problems);
  return { name: subjects(statement)[0]?.first ?? '', pins, source: sourceOf(line) };
}

/** `no bus MIAN; this machine has MAIN and AUX`. */
export function unknown(what: string, name: string, known: readonly string[]): string {
  const list = known.slice(0, 8).map((one) => `\`${one}\``);
  const more = known.length > list.length ? ' …' : '';
  return `there is no ${what} \`${name}\` here; ${known.length === 0 ? 'none is described' : `there is ${list.join(', ')}${more}`}`;
}

function withOf(line: Said): Pick<CardUse, 'part' | 'partSource' | 'count'> {
  const values = attribute(statementOf(line), 'with')?.values ?? [];
  const item = items(statementOf(line), 'with')[0];
  const count = values[0]?.kind === 'word' ? Number(values[0].text) : 1;
  return { part: item?.first, partSource: item && sourceOf(line, item), count };
}

const placeOf = (line: Said): string | undefined => items(statementOf(line), 'at')[0]?.first;

/** What a line that says so has the card do, name by name. */
export function readUses(line: Said, problems: Problems): CardUse[] {
  const statement = statementOf(line);
  const kind = statement.form as UseKind;
  const output = OUTPUTS.find((one) => has(statement, one));
  const { part, partSource, count } = withOf(line);
  const at = placeOf(line);
  const evidence = evidenceOf(statement);
  const list: CardUse[] = [];
  // Written out, not spread: there is one of these for each board and line.
  for (const { name, source } of names(line, statement.subject, problems)) {
    list.push({ kind, name, part, partSource, count, output, at, evidence, source });
  }
  return list;
}

function readTake(line: Said): Take {
  const statement = statementOf(line);
  return {
    rail: subjects(statement)[0]?.first ?? '',
    ...optional('current', amount(statement, 'current', 'current')),
    ...optional('peak', amount(statement, 'peak', 'current')),
    ...optional('at', placeOf(line)),
    evidence: evidenceOf(statement),
    source: sourceOf(line),
  };
}

function readMake(line: Said): Make {
  const statement = statementOf(line);
  const { part, partSource, count } = withOf(line);
  return {
    rail: subjects(statement)[0]?.first ?? '',
    from: items(statement, 'from')[0]?.first ?? '',
    part,
    partSource,
    count,
    ...optional('volts', amount(statement, 'voltage', 'voltage')),
    ...optional('max', amount(statement, 'max', 'current')),
    evidence: evidenceOf(statement),
    source: sourceOf(line),
  };
}

function readChip(line: Said, problems: Problems): Chip {
  const statement = statementOf(line);
  const needs = statement.attributes
    .filter(({ key }) => key === 'need')
    .map(({ values }) => ({
      rail: values[0]?.kind === 'item' ? values[0].first : '',
      current: amountOf(values[1] as Quantity, 'current') ?? 0,
      each: values.length > 2,
    }));
  const { part, partSource } = withOf(line);
  return {
    names: names(line, statement.subject, problems).map(({ name }) => name),
    part: part ?? '',
    partSource,
    needs,
    source: sourceOf(line),
  };
}

export function readBias(line: Said, problems: Problems): Bias {
  const statement = statementOf(line);
  const values = attribute(statement, 'legs')?.values ?? [];
  const legs: Resistor[] = [];
  for (let i = 0; i + 1 < values.length; i += 2) {
    const rail = values[i + 1];
    legs.push({
      // A resistor without a readable unit is there all the same; it was reported, and counts as plain ohms.
      ohms: amountOf(values[i] as Quantity, 'resistance') ?? Number((values[i] as Quantity).low),
      rail: rail?.kind === 'item' ? rail.first : '',
    });
  }
  const word = (['after', 'before', 'at'] as const).find((one) => has(statement, one));
  const of = word && items(statement, word)[0]?.first;
  return {
    word:
      statement.form === 'terminate' ? 'terminate' : statement.form === 'pullup' ? 'pull-up' : 'pull-down',
    names: names(line, statement.subject, problems),
    legs,
    ...optional('place', word && of !== undefined ? { word, of } : undefined),
    ...optional('as', items(statement, 'as')[0]?.first),
    evidence: evidenceOf(statement),
    source: sourceOf(line),
  };
}

export function readRework(line: Said, problems: Problems): Rework {
  const statement = statementOf(line);
  const places = names(line, [...statement.subject, ...items(statement, 'to')], problems);
  const between = items(statement, 'between').map((item) => item.first);
  return {
    kind: statement.form as Rework['kind'],
    places: places.map(({ name, source }) => ({ place: name, source })),
    ...optional('between', between.length === 2 ? ([between[0], between[1]] as [string, string]) : undefined),
    evidence: evidenceOf(statement),
    source: sourceOf(line),
  };
}
