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

export const spotOf = ({ file, from, to }: Source): Spot => ({ file, from, to });
