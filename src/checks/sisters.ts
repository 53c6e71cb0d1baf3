import type { Machine, Source, Use } from '../machine/types.ts';
import { spokenList } from './lists.ts';
import type { View } from './types.ts';

/** Each once, and not too many of them: `CPU, RAM-A and 3 more`. */
export const spokenSome = (names: readonly string[], most = 4): string =>
  spokenList([...new Set(names)], most);

/** `0.5 V`: levels of logic are spoken of in volts, however small. */
export const spokenLevel = (volts: number): string => `${Number(volts.toPrecision(3))} V`;

/** Things of one kind under one key, in the order they were met. */
export function grouped<T>(things: Iterable<T>, keyOf: (thing: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group) group.push(thing);
    else groups.set(key, [thing]);
  }
  return [...groups.values()];
}

export const placeKey = ({ file, from }: Source): string => `${file}:${from}`;

/** `GAUGE (7406)`. */
export function spokenUse({ board, card }: Use): string {
  return card.part === undefined ? board.name : `${board.name} (${card.part})`;
}

/** A contact of the board where its use can be probed; the use's own node where it has none. */
export function contactOfUse({ machine }: View, { board, card, node }: Use): number {
  if (node < machine.contactCount) return node;
  for (const { base, pins } of board.instances) {
    const at = pins.claims.findIndex(
      (claim, i) => claim?.name === card.name && onNet(machine, base + i, node),
    );
    if (at >= 0) return base + at;
  }
  return node;
}

const onNet = ({ nets }: Machine, contact: number, node: number): boolean =>
  nets.of[contact] === nets.of[node];
