import { drawnBusName } from '../../drawing/drawn-bus.ts';
import { VIEWS, type Wanted } from '../../drawing/to-host.ts';
import type { Menu } from '../../drawing/to-page.ts';

import { type Document, type Entry, items, type Span, subjects } from '../../language/tree.ts';
import type { Machine } from '../../machine/types.ts';
import { placeAt } from '../place.ts';

/** The drawing that shows best what stands at an offset: the ribbon, connector or bus that it is about, else the first there is. */
export function wantedAt(
  machine: Machine,
  menu: Menu,
  document: Document,
  offset: number,
): Wanted | undefined {
  const { around, entry } = placeAt(document, offset);
  const blocks = [...around, ...(entry === undefined || around.includes(entry) ? [] : [entry])];
  for (const block of [...blocks].reverse()) {
    const [view, names] = namesOf(machine, block, around[0]);
    const of = names.flatMap(
      (name) => menu[view].find((one) => one === name || one.startsWith(`${name}.`)) ?? [],
    );
    if (of[0] !== undefined) return { view, of: of[0] };
  }
  return firstOf(menu);
}

/** The first thing that there is to draw. */
export function firstOf(menu: Menu): Wanted | undefined {
  for (const view of VIEWS) {
    const [of] = menu[view];
    if (of !== undefined) return { view, of };
  }
  return undefined;
}

/** What a statement is about, as the names of drawings begin. */
function namesOf(
  machine: Machine,
  { statement }: Entry,
  outer: Entry | undefined,
): [Wanted['view'], string[]] {
  const name = subjects(statement)[0]?.first ?? '';
  const around = outer && subjects(outer.statement)[0]?.first;
  switch (statement.form) {
    case 'ribbon':
    case 'cable':
      return ['ribbon', [name]];
    case 'connector':
      return ['connector', [name]];
    case 'port':
    case 'edge': {
      const boards = machine.boards.filter(({ card }) => card.name === around);
      const owners = [...boards.map((board) => board.name), around ?? ''];
      const ports = statement.form === 'edge' && name === '' ? 'edge' : name;
      return ['connector', owners.map((owner) => `${owner}.${ports}`)];
    }
    case 'bus':
      return [
        'bus',
        machine.backplanes.flatMap((one) =>
          one.buses.flatMap(({ bus, place }) =>
            bus.name === name ? `${one.name}.${drawnBusName(place, bus)}` : [],
          ),
        ),
      ];
    case 'card':
      return [
        'bus',
        machine.boards.flatMap(({ card, slot }) => (card.name === name && slot ? slot.backplane.name : [])),
      ];
    case 'fitted':
    case 'backplane':
      return ['bus', [name, ...items(statement, 'on').map(({ first }) => first)]];
    default:
      return ['bus', []];
  }
}

/** What of a file a cursor means: its statement; where that opens a block, and nothing is drawn of it alone, the block. */
export function spansAt(document: Document, offset: number): Span[] {
  const { entry } = placeAt(document, offset);
  if (entry === undefined) return [];
  const { statement, block, line } = entry;
  const own = { from: entry.offset + statement.from, to: entry.offset + statement.to };
  if (block === undefined) return [own];
  const last = document.lines[block.end] ?? document.lines.at(-1)!;
  return [own, { from: document.lines[line]!.start, to: last.start + last.text.length }];
}
