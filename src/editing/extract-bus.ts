import type { Document, Entry } from '../language/tree.ts';
import { attribute, items, subjects } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import type { Splice } from './changes.ts';
import type { Place } from './place.ts';
import type { Refactoring } from './refactorings.ts';
import { firstRemark } from './remarks.ts';

/**
 * The table of a card's edge as a bus of its own, on the connector that the edge names, and the edge made for that bus.
 * Keys and missing contacts stay with the edge.
 */
export function extractingBus(machine: Machine, document: Document, { entry, around }: Place): Refactoring[] {
  const [card, inner] = around;
  const edge = inner ?? entry;
  const on = edge && items(edge.statement, 'on')[0];
  if (card === undefined || edge?.statement.form !== 'edge' || on === undefined) return [];
  const connector = machine.connectors.find(({ name }) => name === on.first);
  const block = edge.block?.entries ?? [];
  const rows = block.filter(({ statement }) => statement.form === 'entry');
  if (connector === undefined || rows.length === 0 || machine.buses.some(({ name }) => name === on.first))
    return [];
  const names = new Set([...machine.buses, ...machine.connectors].map(({ name }) => name));
  const own = subjects(card.statement)[0]?.first ?? '';
  const name = names.has(`${own}-BUS`) ? `${own}-EDGE` : `${own}-BUS`;
  if (names.has(name)) return [];
  const moved = rows.flatMap((row) => linesOf(document, edge, row));
  const { lines } = document;
  const said = attribute(edge.statement, 'on')!;
  const bus = [`bus ${name} on ${connector.name} {`, ...moved.map((line) => lines[line]!.text), '}', '', ''];
  const from = lines[firstRemark(document, card.line)]!.start;
  const splices: Splice[] = [
    { from, to: from, text: bus.join('\n') },
    { from: edge.offset + said.from, to: edge.offset + said.to, text: `on ${name}` },
    ...(rows.length === block.length
      ? closedUp(document, edge)
      : moved.map((line) => without(document, line))),
  ];
  return [{ title: `make the table of this edge a bus: \`${name}\``, kind: 'refactor.extract', splices }];
}

/** The line of a table's entry, with the remarks directly above it. */
function linesOf(document: Document, { line: heading }: Entry, { line }: Entry): number[] {
  const first = firstRemark(document, line, heading);
  return Array.from({ length: line - first + 1 }, (_, i) => first + i);
}

function without({ lines }: Document, index: number): Splice {
  const { start, text, eol } = lines[index]!;
  return { from: start, to: start + text.length + eol.length, text: '' };
}

/** The edge without its block. */
function closedUp({ lines, text }: Document, { line, offset, statement, block }: Entry): Splice[] {
  const end = lines[block!.end]!;
  const heading = lines[line]!;
  const after = offset + statement.to;
  const brace = text.indexOf('{', after);
  const close = end.start + end.text.length + end.eol.length;
  const next = heading.start + heading.text.length + heading.eol.length;
  return [
    { from: after, to: brace + 1, text: '' },
    { from: next, to: close, text: '' },
  ];
}
