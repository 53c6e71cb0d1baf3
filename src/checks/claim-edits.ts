import type { Board, Card, Claim, Source } from '../machine/types.ts';
import { edit, saying } from './edits.ts';
import { placeOf, spokenClaim } from './explain.ts';
import type { Change, Edit, View } from './types.ts';

/** A name as the language writes it: words of the language stand in quotes. */
const writtenName = (name: string): string => (/^[a-z][a-z-]*$/.test(name) ? `"${name}"` : name);

/** What stands behind `=` for a claim. */
export const writtenClaim = (claim: Claim): string =>
  claim.name === '' ? claim.kind : writtenName(claim.name);

/** A contact of a board or connector, by index, and what is said of it. */
interface Told {
  readonly node: number;
  readonly claim: Claim;
}

/** The contacts said to be something else, in the table that says what they are. */
export const sayingAnew = (view: View, contacts: readonly Told[], is: string): Change[] =>
  contacts.map(({ node, claim }) => {
    const { base, pins } = view.nets.instanceOf(node);
    return saying(claim.source, { is }, { labels: pins.connector.labels, places: [node - base] });
  });

/**
 * The edit by which contacts take over what the other side calls them. None where a card would then speak of a line that
 * none of its contacts carries.
 */
export function takingOver(view: View, contacts: readonly Told[], other: Claim | string): Edit[] {
  const [first] = contacts;
  if (first === undefined) return [];
  const is = typeof other === 'string' ? writtenName(other) : writtenClaim(other);
  const { claim, node } = first;
  const board = view.nets.instanceOf(node).board;
  // What feeds or uses a line of the bus speaks for its table.
  const { uses, sources } = view.nets.at(node);
  if (claim.owner !== board?.card.name && (uses.length > 0 || sources.length > 0)) return [];
  if (board && claim.owner === board.card.name && isNeeded(board.card, claim, contacts.length)) return [];
  const where = contacts.length === 1 ? placeOf(view, node) : `${contacts.length} contacts of ${claim.owner}`;
  return [
    edit(`write \`${is}\` instead of ${spokenClaim(claim)} at ${where}`, ...sayingAnew(view, contacts, is)),
  ];
}

/** Whether a card speaks of a name that only the contacts in question carry. */
function isNeeded(
  { edges, ports, uses, takes, makes, biases }: Card,
  { name }: Claim,
  count: number,
): boolean {
  const said =
    uses.some((use) => use.name === name) ||
    takes.some((take) => take.rail === name) ||
    makes.some(({ from }) => from === name) ||
    biases.some((bias) => bias.names.some((one) => one.name === name));
  if (!said) return false;
  let carried = 0;
  for (const { pins } of [...edges, ...ports])
    for (const claim of pins.claims) if (claim?.name === name) carried++;
  return carried <= count;
}

/**
 * What the bus says of a board's fingers, put back where the card's own table says something else there. None where the
 * bus says nothing fitting, or the card does not contradict it.
 */
export function asTheBus(board: Board, fits: (claim: Claim) => boolean): Edit[] {
  const changes: Change[] = [];
  const names = new Set<string>();
  for (const { kind, port, pins } of board.instances) {
    if (kind !== 'edge' || port.bus === undefined) continue;
    const { labels } = pins.connector;
    port.bus.pins.claims.forEach((claim, i) => {
      const own = port.pins.own[i];
      if (claim === undefined || own === undefined || own.name === claim.name || !fits(claim)) return;
      names.add(claim.name);
      changes.push(saying(own.source, { is: writtenClaim(claim) }, { labels, places: [i] }));
    });
  }
  const title = `write ${[...names].join(' and ')} at the edge of ${board.card.name}, as the bus has it`;
  return changes.length === 0 ? [] : [edit(title, ...changes)];
}

/** A contact of which a table says nothing, or that it does not know, said to be something. */
export function sayingIs(view: View, node: number, is: string, table: Source): Change {
  const { base, pins } = view.nets.instanceOf(node);
  const claim = pins.own[node - base];
  const label = pins.connector.labels[node - base];
  if (claim === undefined) return { kind: 'add', line: `${label} = ${is}`, into: table };
  return sayingAnew(view, [{ node, claim }], is)[0]!;
}
