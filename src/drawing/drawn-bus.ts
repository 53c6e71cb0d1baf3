import type { Severity, View } from '../checks/types.ts';
import type { Backplane, Bus, Instance, Source } from '../machine/types.ts';
import type { Spot } from './picture.ts';

/** A bus on its way through the slots of a backplane; `sockets` by slot. */
export interface DrawnBus {
  readonly view: View;
  readonly backplane: Backplane;
  readonly bus: Bus;
  readonly sockets: readonly (Instance | undefined)[];
  readonly severities: ReadonlyMap<string, Severity>;
}

/** What a bus is called in a backplane that may carry it at several places of its slots: `MAIN`, `MAIN P1`. */
export const drawnBusName = (place: string, { name }: Bus): string =>
  place === '' ? name : `${name} ${place}`;

export const spotOf = ({ file, from, to }: Source): Spot => ({ file, from, to });
