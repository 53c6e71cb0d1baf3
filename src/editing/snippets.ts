import { format } from '../language/format.ts';
import type { Form } from '../language/forms.ts';
import type { Machine, PinMap, Port } from '../machine/types.ts';
import { busesOf, busesOfCard, connectorsOf } from './completion/claims.ts';
import type { Scope } from './completion/scope.ts';
import { type Piece, piecesOf, stop } from './completion/tab-stops.ts';

/**
 * A block to fill in, with tab stops (`${1:PSU}`, `${2|out,in|}`, `$0`): choices where the language or the machine has
 * a closed list. As it stands it parses, and the formatter leaves it as it is.
 */
export function snippetFor(form: Form, machine: Machine, today: string | undefined, scope: Scope): string {
  const lines = templates[form.id]?.(machine, today, scope) ?? [`${form.word} $0`];
  return canonical(lines.join('\n'), form);
}

type Template = (machine: Machine, today: string | undefined, scope: Scope) => string[];

const EVIDENCE = ['silkscreen', 'trace', 'meter', 'manual', 'guess'];
/** More choices than these nobody looks through. */
const MOST_CHOICES = 40;

/** One of a list; where it has one only, that; where it has none, a name to write over. */
function choice(n: number, list: Iterable<string>, otherwise = 'NAME'): string {
  const all = [...new Set(list)].slice(0, MOST_CHOICES);
  if (all.length < 2) return stop(n, all[0] ?? otherwise);
  return `\${${n}|${all.map((one) => one.replace(/[,|\\]/g, '\\$&')).join(',')}|}`;
}

/** The name, or the name with the first number that nothing of the list is called. */
function fresh(name: string, list: readonly { readonly name: string }[], from = 2): string {
  const taken = new Set(list.map((one) => one.name));
  const base = name.replace(/\d+$/, '');
  let free = name;
  for (let n = from; taken.has(free); n++) free = `${base}${n}`;
  return free;
}

const namesOf = (list: readonly { readonly name: string }[]): string[] => list.map(({ name }) => name);

const busNames = ({ buses }: Machine): string[] => namesOf(buses);

const railNames = ({ supplies, busRails }: Machine): string[] => [
  ...supplies.flatMap(({ rails }) => namesOf(rails)),
  ...namesOf(busRails),
];

/** Label of the first contact that carries a name, or the first of all. */
function contactWith(pins: PinMap | undefined, name: string): string {
  const index = pins?.claims.findIndex((claim) => claim?.name === name) ?? -1;
  return pins?.connector.labels[Math.max(0, index)] ?? '1';
}

/** A feed for each rail and ground that a supply gives and the bus carries; one to write over where there is none. */
function feeds({ supplies, buses }: Machine): string[] {
  const pins = buses[0]?.pins;
  const carried = new Set(pins?.claims.map((claim) => claim?.name));
  const given = supplies.flatMap(({ name, rails, grounds }) =>
    [...grounds, ...namesOf(rails)].map((rail) => ({ supply: name, rail })),
  );
  const fed = given.filter(
    ({ rail }, i) => carried.has(rail) && given.findIndex((one) => one.rail === rail) === i,
  );
  const list = fed.length > 0 ? fed : [given[0] ?? { supply: 'PSU', rail: '+5V' }];
  return list.map(({ supply, rail }, i) => {
    const last = i === list.length - 1 ? '$0' : '';
    return `  feed ${stop(5 + 3 * i, rail)} from ${stop(6 + 3 * i, supply)} at ${stop(7 + 3 * i, contactWith(pins, rail))}${last}`;
  });
}

const ribbonPorts = ({
  instances,
}: Machine): readonly (Port & { readonly path: string; readonly free: boolean })[] =>
  instances
    .filter(({ kind }) => kind !== 'slot' && kind !== 'edge')
    .map(({ port, path, plugs }) => ({ ...port, path, free: plugs.length === 0 }));

const templates: Readonly<Record<string, Template>> = {
  supply: ({ supplies }) => [
    `supply ${stop(1, fresh('PSU', supplies))} {`,
    `  rail ${stop(2, '+5V')} ${stop(3, '5')} V ${stop(4, '5')} % max ${stop(5, '10')} A`,
    `  rail ${stop(6, '+12V')} ${stop(7, '12')} V ${stop(8, '5')} % max ${stop(9, '2')} A`,
    `  ground ${stop(10, 'GND')}$0`,
    '}',
  ],
  connector: ({ connectors }) => [
    `connector ${stop(1, fresh('EDGE44', connectors, 45))} {`,
    `  shape ${choice(2, ['edge', 'header', 'din'])} ${stop(3, '2')} x ${stop(4, '22')}`,
    `  numbers ${choice(5, ['1..22, A..Z', 'zigzag', '1..44'])}`,
    `  pitch ${choice(6, ['3.96', '2.54', '5.08'])} mm`,
    `  contact ${stop(7, '3')} A ${stop(8, '20')} mohm`,
    `  ends ${choice(9, ['closed', 'open'])}$0`,
    '}',
  ],
  bus: ({ buses, connectors }) => {
    const usual = connectors.filter(({ shape }) => shape === 'edge' || shape === 'din');
    const list = usual.length > 0 ? usual : connectors;
    const [one = '1', other = '2'] = list[0]?.labels ?? [];
    return [
      `bus ${stop(1, fresh('MAIN', buses))} on ${choice(2, namesOf(list), 'EDGE44')} {`,
      `  ${stop(3, one)} = ${stop(4, 'GND')} by ${choice(5, EVIDENCE)}`,
      `  ${stop(6, other)} = ${stop(7, '+5V')} by ${choice(8, EVIDENCE)}$0`,
      '}',
    ];
  },
  backplane: (machine) => [
    `backplane ${stop(1, fresh('CAGE', machine.backplanes))} {`,
    `  slots ${stop(2, '1..8')} on ${choice(3, busNames(machine), 'MAIN')} pitch ${stop(4, '25.4')} mm guides`,
    ...feeds(machine),
    '}',
  ],
  card: (machine) => [
    `card ${stop(1, fresh('CARD', machine.cards))} "${stop(2, 'what it is')}" {`,
    `  edge on ${choice(3, busNames(machine), 'MAIN')}`,
    `  takes ${choice(4, railNames(machine), '+5V')} ${stop(5, '500')} mA$0`,
    '}',
  ],
  fitted: (machine) => {
    const open = machine.backplanes.filter(({ described }) => !described);
    const backplanes = open.length > 0 ? open : machine.backplanes;
    const free = backplanes[0]?.slots.find(({ state }) => state === 'unsaid') ?? backplanes[0]?.slots[0];
    return [
      `fitted ${choice(1, namesOf(backplanes), 'CAGE')} {`,
      `  ${stop(2, free?.label ?? '1')} = ${choice(3, [...unplaced(machine), 'empty'])}$0`,
      '}',
    ];
  },
  loose: (machine) => [
    `loose ${choice(1, unplaced(machine), 'CARD')} "${stop(2, 'where it is')}" {`,
    `  without ${stop(3, 'U1')}$0`,
    '}',
  ],
  ribbon: (machine) => {
    const ports = ribbonPorts(machine);
    const [first] = [...ports.filter(({ free }) => free), ...ports];
    const ways = first?.pins.connector.labels.length ?? 26;
    const fitting = ports.filter(({ pins }) => pins.connector.labels.length === ways);
    const names = [...fitting].sort((a, b) => Number(b.free) - Number(a.free)).map(({ path }) => path);
    const other = names.length > 1 ? [...names.slice(1), names[0]!, 'unknown'] : ['unknown', ...names];
    return [
      `ribbon ${stop(1, fresh('W1', machine.ribbons))} ${stop(2, String(ways))} way ${stop(3, '28')} AWG {`,
      `  end ${choice(4, [...names, 'unknown'])} stripe ${stop(5, '1')}`,
      `  end ${choice(6, other)} stripe ${stop(7, '1')} at ${stop(8, '300')} mm$0`,
      '}',
    ];
  },
  cable: (machine) => {
    const paths = ribbonPorts(machine).map(({ path }) => path);
    return [
      `cable ${stop(1, fresh('C1', machine.ribbons))} ${stop(2, '18')} AWG ${stop(3, '600')} mm {`,
      `  ${choice(4, paths, 'PSU.P1')}.${stop(5, '1')} = ${choice(6, [...paths.slice(1), ...paths.slice(0, 1)], 'CARD.J1')}.${stop(7, '1')}$0`,
      '}',
    ];
  },
  readings: ({ backplanes }, today) => {
    const [cage] = backplanes;
    const slot = cage ? `${cage.name}.${cage.slots[0]?.label ?? '1'}` : 'CAGE.1';
    const labels = cage?.slots[0]?.instances[0]?.pins.connector.labels ?? [];
    return [
      `readings ${today === undefined ? '' : `${stop(1, today)} `}cards ${choice(2, ['out', 'in'])} power ${choice(3, ['off', 'on'])} leads ${stop(4, '0.1')} ohm {`,
      `  ${stop(5, `${slot}.${labels[0] ?? '1'}`)} to ${stop(6, `${slot}.${labels[1] ?? '2'}`)} = ${choice(7, ['open', '0.2 ohm', '0.46 V'])}$0`,
      '}',
    ];
  },
  family: () => [
    `family ${stop(1, '74XX')} {`,
    `  supply ${stop(2, '4.75..5.25')} V peak ${stop(3, '7')} V`,
    `  input low ${stop(4, '0.4')} mA high ${stop(5, '20')} uA stands ${stop(6, '-0.5..7')} V`,
    `  output ${choice(7, ['totem-pole', 'three-state', 'open-collector'])} stands ${stop(8, '5.5')} V`,
    `  sinks ${stop(9, '8')} mA ${stop(10, '0.5')} V`,
    `  gives ${stop(11, '0.4')} mA ${stop(12, '2.7')} V$0`,
    '}',
  ],
  parttable: ({ ownParts }) => [
    `part ${stop(1, '8T99')} {`,
    `  like ${choice(2, [...[...ownParts.families.values()].map(({ name }) => name), '74LS', '74', '74S', '74F', '74HCT'])}`,
    `  output ${choice(3, ['three-state', 'totem-pole', 'open-collector'])} off ${stop(4, '40')} uA stands ${stop(5, '5.5')} V`,
    `  sinks ${stop(6, '48')} mA ${stop(7, '0.5')} V`,
    `  gives ${stop(8, '10')} mA ${stop(9, '2.4')} V$0`,
    '}',
  ],
  port: ({ connectors }, _, { card, backplane, supply }) => {
    const headers = connectors.filter(({ shape }) => shape !== 'edge' && shape !== 'din');
    const list = headers.length > 0 ? headers : connectors;
    const labels = list[0]?.labels ?? [];
    const range = labels.length > 1 ? `${labels[0]}..${labels.at(-1)}` : (labels[0] ?? '1..26');
    const name = fresh(supply ? 'P1' : 'J1', (card ?? backplane ?? supply)?.ports ?? []);
    return [
      `port ${stop(1, name)} on ${choice(2, namesOf(list), 'IDC26')} {`,
      `  ${stop(3, range)} = ${choice(4, ['unknown', 'spare', 'private', 'GND'])}$0`,
      '}',
    ];
  },
  edge: (machine, _, { card }) => {
    const mine = card ? namesOf(busesOfCard(card)) : [];
    const [pins] = card ? connectorsOf(card) : busesOf(machine.backplanes[0]).map((bus) => bus.pins);
    return [
      `edge on ${choice(1, [...mine, ...busNames(machine)], 'MAIN')} {`,
      `  ${stop(2, contactWith(pins, ''))} = ${stop(3, 'NAME')} by ${choice(4, EVIDENCE)}$0`,
      '}',
    ];
  },
};

/** Cards that are nowhere yet, then the others. */
function unplaced({ cards, boards }: Machine): string[] {
  const placed = new Set(boards.map(({ card }) => card));
  return [...cards.filter((card) => !placed.has(card)), ...cards].map(({ name }) => name);
}

/** The template with its spaces as the formatter would write them, were every stop left as it is. */
function canonical(template: string, form: Form): string {
  const pieces = piecesOf(template);
  const plain = pieces.map(({ text }) => text).join('');
  if (form.blocks.includes('file')) return respaced(pieces, format(plain));
  const within = format(`card CARD {\n${plain}\n}`).split('\n').slice(1, -1);
  return respaced(pieces, within.map((line) => line.replace(/^ {2}/, '')).join('\n'));
}

/** Pieces with the spaces of a text that differs from theirs in spaces only. */
function respaced(pieces: readonly Piece[], text: string): string {
  let at = 0;
  let written = '';
  const spaces = (): void => {
    while (at < text.length && /\s/.test(text[at]!)) written += text[at++];
  };
  for (const piece of pieces) {
    if (piece.source === piece.text) {
      for (const character of piece.text.replace(/\s+/g, '')) {
        spaces();
        written += character;
        at += character.length;
      }
      continue;
    }
    if (piece.text !== '') spaces();
    written += piece.source;
    at += piece.text.length;
  }
  return written;
}
