import { spokenAmount } from '../../checks/explain.ts';
import { rules } from '../../checks/rules.ts';
import { familyNamed, partNamed, regulatorNamed } from '../../knowledge/lookup.ts';
import type { Family, LogicOutput, OutputPoint, Part, Regulator } from '../../knowledge/types.ts';
import type { Card, Machine, UseKind } from '../../machine/types.ts';
import type { Analysis } from '../project.ts';
import type { CompletionKind } from './candidate.ts';
import { connectorText } from './owners.ts';

/** What is offered, told at length: Markdown; undefined where its one line says all. */
export function completionDetails(
  { machine }: Analysis,
  { kind, label }: { readonly kind: CompletionKind; readonly label: string },
): string | undefined {
  const name = label.replace(/^"|"$/g, '').split('..')[0]!;
  const key = name.toUpperCase();
  const own = machine.ownParts;
  switch (kind) {
    case 'part': {
      const part = own.parts.get(key) ?? partNamed(name);
      return part && partText(part);
    }
    case 'family': {
      const family = own.families.get(key) ?? familyNamed(name);
      return family && partText(family);
    }
    case 'regulator': {
      const regulator = own.regulators.get(key) ?? regulatorNamed(name);
      return regulator && regulatorText(regulator);
    }
    case 'signal':
    case 'rail':
    case 'ground':
    case 'chain':
      return nameText(machine, name);
    case 'card': {
      const card = machine.cards.find((one) => one.name === name);
      return card && cardText(card);
    }
    case 'connector': {
      const connector = machine.connectors.find((one) => one.name === name);
      return connector && `**${name}** ${connectorText(connector)}\n\n${connector.labels.join(' ')}`;
    }
    case 'rule':
      return rules.find(({ id }) => id === name)?.summary;
    default:
      return undefined;
  }
}

const list = (lines: readonly (string | undefined)[]): string =>
  lines.flatMap((line) => (line === undefined ? [] : [`- ${line}`])).join('\n');

const amps = (value: number): string => spokenAmount(value, 'A');
const volts = (value: number): string => spokenAmount(value, 'V');

const points = (word: string, side: string, all: readonly OutputPoint[]): string[] =>
  all.map(({ current, voltage }) => `${word} ${amps(current)} at ${side} ${volts(voltage)}`);

const outputLines = ({ kind, low, high, offHigh }: LogicOutput): string[] => [
  `output: ${kind}`,
  ...points('sinks', 'no more than', low),
  ...points('gives', 'no less than', high),
  ...(offHigh > 0 ? [`off: ${amps(offHigh)} of leakage`] : []),
];

function partText(one: Part | Family): string {
  const { name, title, input, output, source } = one;
  const rails = 'rails' in one ? (one.rails ?? []) : [];
  const lines = [
    ...(output ? outputLines(output) : []),
    input &&
      `input: ${amps(input.low)} low, ${amps(input.high)} high; stands ${volts(input.min)} to ${volts(input.max)}`,
    ...rails.map(
      (rail) =>
        `needs ${volts(rail.volts)}${rail.current === undefined ? '' : `, ${amps(rail.current)} at most`}`,
    ),
  ];
  return `**${name}** ${title}\n\n${list(lines)}\n\nSource: ${source}`;
}

function regulatorText({ name, title, output, dropout, maxInput, current, source }: Regulator): string {
  const lines = [
    output === undefined ? 'output set by its circuit' : `output ${volts(output)}`,
    `up to ${amps(current)}`,
    `needs ${volts(dropout)} between input and output`,
    `input up to ${volts(maxInput)}`,
  ];
  return `**${name}** ${title}\n\n${list(lines)}\n\nSource: ${source}`;
}

const DOES: Readonly<Partial<Record<UseKind, string>>> = {
  drives: 'driven by',
  transceives: 'driven and heard by',
  receives: 'heard by',
  pulls: 'pulled by',
  starts: 'started by',
  passes: 'passed on by',
};

/** Where a line or rail is, and which cards do what on it. */
function nameText({ buses, cards, supplies }: Machine, name: string): string {
  const places = buses.flatMap(({ name: bus, pins: { claims, connector } }) => {
    const labels = connector.labels.filter(
      (_, i) => claims[i]?.name === name || claims[i]?.aliases.includes(name),
    );
    return labels.length === 0 ? [] : [`${bus}: contact ${labels.join(', ')}`];
  });
  const rails = supplies.flatMap((supply) =>
    supply.rails.flatMap((rail) =>
      rail.name === name
        ? [`${supply.name}: ${volts(rail.low)}${rail.max === undefined ? '' : `, ${amps(rail.max)} at most`}`]
        : [],
    ),
  );
  const users = Object.entries(DOES).flatMap(([kind, word]) => {
    const its = cards.filter(({ uses }) => uses.some((use) => use.kind === kind && use.name === name));
    return its.length === 0 ? [] : [`${word} ${its.map((card) => card.name).join(', ')}`];
  });
  const takers = cards
    .filter(({ takes }) => takes.some(({ rail }) => rail === name))
    .map((card) => card.name);
  const lines = [
    ...rails,
    ...places,
    ...users,
    takers.length > 0 ? `taken by ${takers.join(', ')}` : undefined,
  ];
  return `**${name}**\n\n${list(lines)}`;
}

function cardText({ name, title, edges, ports, takes }: Card): string {
  const lines = [
    ...edges.map((edge) => `${edge.name} on ${edge.bus?.name ?? edge.pins.connector.name}`),
    ...ports.map((port) => `${port.name} on ${port.pins.connector.name}`),
    ...takes.map(({ rail, current }) => `takes ${rail}${current === undefined ? '' : ` ${amps(current)}`}`),
  ];
  return `**${name}** ${title}\n\n${list(lines)}`;
}
