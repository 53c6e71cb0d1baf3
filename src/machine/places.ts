import type { Item } from '../language/tree.ts';
import { knownOnBoard } from './board-nodes.ts';
import { lineNode, placeOnBackplane } from './bus-lines.ts';
import { unknown } from './cards.ts';
import { type Problems, type Said, sourceOf } from './scope.ts';
import { supplyNode } from './supply-wiring.ts';
import type { Backplane, Board, Instance, Supply } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Whose places the text may name. */
export interface Owners {
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly backplanes: ReadonlyMap<string, Backplane>;
  readonly boards: readonly Board[];
}

/** The connector that a path such as `CAGE.PANEL` or `RAM.J1` names; reported where there is none. */
export function findInstance(
  wiring: Wiring,
  boards: readonly Board[],
  path: string,
  said: Said,
  item: Item,
  problems: Problems,
): Instance | undefined {
  const found = wiring.instanceAt(path);
  if (found === undefined)
    problems.add('name-unknown', sourceOf(said, item), noInstance(wiring, boards, path));
  return found;
}

/** What to say where a path names no connector: which boards of a card there are, or what there is beside it. */
function noInstance({ instances }: Wiring, boards: readonly Board[], path: string): string {
  const owner = path.slice(0, Math.max(0, path.lastIndexOf('.')));
  const boardsOf = (card: string): Board[] => boards.filter((board) => board.card.name === card);
  const ofOwner = boardsOf(owner);
  const kin = ofOwner.length > 0 ? ofOwner : boardsOf(path);
  if (kin.length > 1) {
    const which = kin.map((board) => `\`${board.name}\``).join(' and ');
    return `there are ${kin.length} boards of card ${owner || path}: ${which}; say which one (name them with \`as\`)`;
  }
  const near = instances.filter((one) => one.path.startsWith(`${owner}.`));
  const known = near.length > 0 ? near : instances.filter((one) => one.kind !== 'slot');
  const paths = known.map((one) => one.path);
  return unknown('connector in the machine', path, paths);
}

/** The node of a place of a reading: a contact, a chip's pin, a line, or the name of a rail; reported where there is none. */
export function findPlace(
  wiring: Wiring,
  owners: Owners,
  item: Item,
  said: Said,
  problems: Problems,
): number | undefined {
  const text = item.first;
  const node =
    ownedPlace(wiring, owners, text) ?? wiring.contactAt(text) ?? sharedPlace(wiring, owners, text);
  if (node === undefined) {
    const message = `there is no place \`${text}\` in the machine; write a contact such as \`CAGE.3.14\` or \`RAM.edge.14\`, or a rail`;
    problems.add('name-unknown', sourceOf(said, item), message);
  }
  return node;
}

/** `RAM.U3.12`, `CAGE.1.14`, `PSU.+5V`: the first name is the owner's. */
function ownedPlace(
  wiring: Wiring,
  { supplies, backplanes, boards }: Owners,
  text: string,
): number | undefined {
  const dot = text.indexOf('.');
  if (dot < 0) return undefined;
  const owner = text.slice(0, dot);
  const place = text.slice(dot + 1);
  const board = boards.find(({ name }) => name === owner);
  const backplane = backplanes.get(owner);
  const supply = supplies.get(owner);
  return (
    (board && knownOnBoard(wiring, board, place)) ??
    (backplane && placeOnBackplane(wiring, backplane, place)) ??
    (supply && supplyNode(wiring, supply, place))
  );
}

/** A name without an owner: a rail of a supply, or a line of a backplane. */
function sharedPlace(wiring: Wiring, { supplies, backplanes }: Owners, name: string): number | undefined {
  for (const supply of supplies.values()) {
    const node = supplyNode(wiring, supply, name);
    if (node !== undefined) return node;
  }
  for (const backplane of backplanes.values()) {
    const node = lineNode(wiring, backplane, name, 0);
    if (node !== undefined) return node;
  }
  return undefined;
}
