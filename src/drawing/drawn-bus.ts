import type { Finding, View } from '../checks/types.ts';
import type { Backplane, Bus, Instance, Source } from '../machine/types.ts';
import type { Spot } from './picture.ts';

/** A bus on its way through the slots of a backplane; `sockets` by slot. */
export interface DrawnBus {
  readonly view: View;
  readonly backplane: Backplane;
  readonly bus: Bus;
  readonly sockets: readonly (Instance | undefined)[];
  /** By place (`CAGE.3.14`): what is found there. */
  readonly found: ReadonlyMap<string, readonly Finding[]>;
  readonly netNumber: (net: number) => number;
}

export const spotOf = ({ file, from, to }: Source): Spot => ({ file, from, to });

/** Numbers nets in the order in which they are met, from 0: the same as long as the picture is. */
export function netNumbers(): (net: number) => number {
  const numbers = new Map<number, number>();
  return (net) => {
    const known = numbers.get(net);
    if (known !== undefined) return known;
    numbers.set(net, numbers.size);
    return numbers.size - 1;
  };
}
