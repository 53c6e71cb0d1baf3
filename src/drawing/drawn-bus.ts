import type { Doings } from '../analysis/board-copper.ts';
import type { CurrentAt } from '../analysis/board-currents.ts';
import type { LastReading } from '../analysis/last-reading.ts';
import type { View } from '../checks/types.ts';
import type { Backplane, Bus, Instance, Source } from '../machine/types.ts';
import type { FindingsAt } from './findings-at.ts';
import type { ContactOrigin, Spot } from './picture.ts';

/** A bus on its way through the slots of a backplane; `sockets` and `edges` by slot. */
export interface DrawnBus {
  readonly view: View;
  readonly backplane: Backplane;
  /** The place in each slot that carries the bus; empty where a slot carries no other. */
  readonly place: string;
  readonly bus: Bus;
  readonly sockets: readonly (Instance | undefined)[];
  /** What mates with each socket. */
  readonly edges: readonly (Instance | undefined)[];
  readonly foundAt: FindingsAt;
  readonly netNumber: NetNumber;
  readonly doings: Doings;
  readonly currentAt: CurrentAt;
  readonly lastReading: LastReading;
}

/** What a bus is called in a backplane that may carry it at several places of its slots: `MAIN`, `MAIN P1`. */
export const drawnBusName = (place: string, { name }: Bus): string =>
  place === '' ? name : `${name} ${place}`;

export const spotOf = ({ file, from, to }: Source): Spot => ({ file, from, to });

/** The number in a picture of a net of the machine. */
export type NetNumber = (net: number) => number;

/** Numbers nets in the order in which they are met, from 0: the same as long as the picture is. */
export function netNumbers(): NetNumber {
  const numbers = new Map<number, number>();
  return (net) => {
    const known = numbers.get(net);
    if (known !== undefined) return known;
    numbers.set(net, numbers.size);
    return numbers.size - 1;
  };
}

/** What a drawn contact is joined with, and which contact it is. */
export const joinedAt = (
  { machine }: View,
  contact: number,
  numbered: NetNumber,
): { readonly net: number; readonly origin: ContactOrigin } => ({
  net: numbered(machine.nets.of[contact]!),
  origin: { contact },
});
