import { runsOf } from '../checks/lists.ts';
import { items, subjects } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import { contactOf } from './contacts.ts';
import { contactHover } from './hover-contact.ts';
import { spokenLegs } from './hover-line.ts';
import { netHover, spokenClaims } from './hover-net.ts';
import { partHover } from './hover-part.ts';
import { spokenVolts } from './hover-rail.ts';
import {
  backplaneHover,
  boardHover,
  busHover,
  cardHover,
  connectorHover,
  portHover,
  ribbonHover,
  slotHover,
  supplyHover,
} from './hover-thing.ts';
import { wordHover } from './hover-word.ts';
import { code, codes, list, paragraphs } from './markdown.ts';
import { netsNamed, netsOfPin } from './named-nets.ts';
import { placeAt } from './place.ts';
import type { Analysis } from './project.ts';
import type { SymbolKind } from './roles.ts';
import type { Occurrence } from './symbols.ts';

/** What is shown beside the pointer: Markdown, and the text that it is about. */
export interface Hover {
  readonly from: number;
  readonly to: number;
  readonly markdown: string;
}

/** What stands at an offset of a file: the net of a name, what a contact meets, what a thing, word or quantity is. */
export function hoverAt(analysis: Analysis, file: string, offset: number): Hover | undefined {
  const document = analysis.documents.get(file);
  if (document === undefined) return undefined;
  const place = placeAt(document, offset);
  if (place.inComment) return undefined;
  const occurrence = analysis.symbols.at(file, offset);
  const markdown = occurrence && hoverOf(analysis, occurrence, offset);
  if (occurrence !== undefined && markdown !== undefined)
    return { from: occurrence.from, to: occurrence.to, markdown };
  const word = wordHover(place);
  const { start } = place.line;
  return word && { from: start + word.from, to: start + word.to, markdown: word.markdown };
}

function hoverOf(analysis: Analysis, occurrence: Occurrence, offset: number): string | undefined {
  const { machine } = analysis;
  const { kind, names } = occurrence;
  const [name = ''] = names;
  switch (kind) {
    case 'name':
      return nameHover(analysis, occurrence, offset);
    case 'contact':
      return hoverOfContact(analysis, occurrence, offset);
    case 'label':
      return labelHover(analysis, occurrence);
    case 'port':
      return hoverOfPort(analysis, occurrence);
    case 'slot':
      return hoverOfSlot(analysis, occurrence, offset);
    default:
      return thingHover(machine, kind, name);
  }
}

/** What there is to tell of a thing by its kind and name; undefined where the machine has none such. */
export function thingHover(machine: Machine, kind: SymbolKind, name: string): string | undefined {
  const named = <T extends { readonly name: string }>(list: readonly T[]): T | undefined =>
    list.find((one) => one.name === name);
  switch (kind) {
    case 'part':
      return partHover(machine, name);
    case 'supply':
      return on(named(machine.supplies), (one) => supplyHover(machine, one));
    case 'connector':
      return on(named(machine.connectors), (one) => connectorHover(machine, one));
    case 'bus':
      return on(named(machine.buses), (one) => busHover(machine, one));
    case 'backplane':
      return on(named(machine.backplanes), backplaneHover);
    case 'card':
      return on(named(machine.cards), (one) => cardHover(machine, one));
    case 'board':
      return on(named(machine.boards), boardHover);
    case 'ribbon':
    case 'cable':
      return on(named(machine.ribbons), ribbonHover);
    default:
      return undefined;
  }
}

const on = <T>(thing: T | undefined, hover: (thing: T) => string): string | undefined =>
  thing === undefined ? undefined : hover(thing);

/** Of a range, the end that the pointer is nearer to. */
const isNearLast = ({ from, to, range }: Occurrence, offset: number): boolean =>
  range?.last !== undefined && offset - from > (to - from) / 2;

const MOST_MEMBERS = 64;

function nameHover(analysis: Analysis, occurrence: Occurrence, offset: number): string | undefined {
  const { names } = occurrence;
  const name = (isNearLast(occurrence, offset) ? names.at(-1) : names[0]) ?? '';
  const nets = netsNamed(analysis, occurrence, name);
  if (nets.length > 0) {
    // Nobody compares more lines than a bus has of one name, and each is looked for in the whole block.
    const vector = names.length <= MOST_MEMBERS ? names : [];
    const members = vector.map((one) => ({ name: one, net: netsNamed(analysis, occurrence, one)[0] }));
    return netHover(analysis.view, name, nets, members);
  }
  // What no contact carries is what is said of it: a rail declared by a bus, a line of a bus without a backplane.
  const { machine } = analysis;
  const claims = machine.buses.flatMap(({ pins }) => pins.claims.filter((claim) => claim?.name === name));
  const [rail] = machine.railNames.rails.get(name) ?? [];
  return paragraphs([
    `**${code(name)}**${rail ? ` rail · ${spokenVolts(rail)}` : ''}`,
    list([...spokenClaims(claims.flatMap((claim) => claim ?? [])), 'no contact of the machine carries it']),
  ]);
}

function hoverOfContact(analysis: Analysis, occurrence: Occurrence, offset: number): string | undefined {
  const [first = ''] = occurrence.names;
  const { last } = occurrence.range ?? {};
  const near = last !== undefined && isNearLast(occurrence, offset) ? last : first;
  const path = pathOf(occurrence, first, near);
  const at = contactOf(analysis, { ...occurrence, names: [near], ...(path ? { path } : {}) });
  if (at !== undefined) return contactHover(analysis.view, at, path);
  // A path that ends on no connector leads to a chip's pin.
  const nets = path === undefined ? [] : netsOfPin(analysis, occurrence, path);
  return nets.length > 0 ? netHover(analysis.view, path!, nets, []) : undefined;
}

/** The path of a contact as far as it is written: the stripe of a ribbon's end is a contact of that end. */
function pathOf({ path, entry: { statement } }: Occurrence, first: string, near: string): string | undefined {
  if (path !== undefined) return path.slice(0, -first.length) + near;
  const place = statement.form === 'end' ? subjects(statement)[0] : undefined;
  return place && `${place.first}.${near}`;
}

/** A part of a card by its designation: what it is; a resistor pack by what it does. */
function labelHover({ machine }: Analysis, { names, keys }: Occurrence): string | undefined {
  const [name = ''] = names;
  const owner = ownerOf('label', name, keys[0]);
  const card = machine.cards.find((one) => `card:${one.name}` === owner);
  const backplane = machine.backplanes.find((one) => `backplane:${one.name}` === owner);
  const chip = card?.chips.find((one) => one.names.includes(name));
  const pack = (card ?? backplane)?.biases.find((one) => one.as === name);
  if (chip) return paragraphs([`**${code(name)}** of ${code(card!.name)}`, partHover(machine, chip.part)]);
  if (pack === undefined)
    return card && `**${code(name)}** of ${code(card.name)} · which part it is is not said`;
  const lines = codes(runsOf(pack.names.map((one) => one.name)));
  return `**${code(name)}** ${pack.word === 'terminate' ? 'terminator' : pack.word} on ${lines} · ${spokenLegs(pack)}`;
}

/** The block that a key's name belongs to: `card:CPU`. */
const ownerOf = (kind: string, name: string, key = ''): string =>
  key.slice(kind.length + 1, -name.length - 1);

function hoverOfPort({ machine }: Analysis, { names, keys }: Occurrence): string | undefined {
  const [name = ''] = names;
  const owner = ownerOf('port', name, keys[0]);
  const owners = [
    ...machine.cards.map((one) => ({ key: `card:${one.name}`, one, ports: [...one.ports, ...one.edges] })),
    ...machine.backplanes.map((one) => ({ key: `backplane:${one.name}`, one, ports: one.ports })),
    ...machine.supplies.map((one) => ({ key: `supply:${one.name}`, one, ports: one.ports })),
  ];
  for (const { key, one, ports } of owners) {
    const port = key === owner ? ports.find((port) => port.name === name) : undefined;
    if (port) return portHover(machine, one.name, port);
  }
  return undefined;
}

function hoverOfSlot({ machine }: Analysis, occurrence: Occurrence, offset: number): string | undefined {
  const { names, around, keys } = occurrence;
  const label = (isNearLast(occurrence, offset) ? names.at(-1) : names[0]) ?? '';
  const owner = ownerOf('slot', names[0] ?? '', keys[0]);
  const outer = around[0]?.statement;
  const name = outer === undefined ? '' : (subjects(outer)[0]?.first ?? items(outer, 'on')[0]?.first);
  const slots = machine.backplanes
    .filter((one) => `backplane:${one.name}` === owner || one.buses.some(({ bus }) => bus.name === name))
    .flatMap((one) => one.slots.filter((slot) => slot.label === label));
  return slots[0] && slotHover(slots[0]);
}
