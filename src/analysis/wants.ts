import type { Board, Machine, RailSource, Source } from '../machine/types.ts';
import { differ, type VoltRange, voltsOfRail } from './meetings.ts';
import { chipsOn, nodeOnBoard, railNameFor, sourcesAt } from './rails.ts';

/** A rail that something on a board works from. */
export interface Want {
  readonly board: Board;
  readonly kind: 'take' | 'regulator' | 'chip';
  /** `4116 (U1)`; empty where the board as a whole takes it. */
  readonly by: string;
  /** How many chips it is of which this is said. */
  readonly chips?: number;
  /** Undefined where nothing on the board has the voltage that a chip needs. */
  readonly rail?: string;
  /** Undefined where nothing says the voltage. */
  readonly volts?: VoltRange;
  readonly node?: number;
  readonly source: Source;
}

const kept = new WeakMap<Machine['flow'], ReadonlyMap<Board, readonly Want[]>>();

/** What each board works from: all that it takes, what its regulators are fed with, what its chips need. */
export function wantsOf(machine: Machine): ReadonlyMap<Board, readonly Want[]> {
  const before = kept.get(machine.flow);
  if (before) return before;
  const made = new Map(machine.boards.map((board) => [board, wantsOn(machine, board)]));
  kept.set(machine.flow, made);
  return made;
}

function wantsOn(machine: Machine, board: Board): Want[] {
  const wants: Want[] = [];
  const add = (
    kind: Want['kind'],
    by: string,
    rail: string,
    source: Source,
    { at, chips }: { readonly at?: string | undefined; readonly chips?: number } = {},
  ): void => {
    const volts = board.card.makes.find((make) => make.rail === rail)?.volts;
    const range = volts === undefined ? voltsOfRail(machine, rail) : { low: volts, high: volts };
    const node = nodeOnBoard(machine, board, rail, at);
    wants.push({
      board,
      kind,
      by,
      rail,
      source,
      ...(chips === undefined ? {} : { chips }),
      ...(range ? { volts: range } : {}),
      ...(node === undefined ? {} : { node }),
    });
  };
  for (const { rail, at, source } of board.card.takes) add('take', '', rail, source, { at });
  for (const { from, part, rail, source } of board.card.makes) {
    add('regulator', part ?? `the regulator of ${rail}`, from, source);
  }
  for (const { chip, names, part } of chipsOn(machine, board)) {
    const by = `${chip.part} (${names[0]}${names.length > 1 ? ' …' : ''})`;
    const chips = names.length;
    for (const { rail } of chip.needs) add('chip', by, rail, chip.source, { chips });
    for (const { volts } of part?.rails ?? []) {
      const rail = railNameFor(machine, board, chip, volts);
      if (rail === undefined) {
        const range = { low: volts, high: volts };
        wants.push({ board, kind: 'chip', by, chips, volts: range, source: chip.source });
      } else if (!chip.needs.some((need) => need.rail === rail)) {
        add('chip', by, rail, chip.source, { chips });
      }
    }
  }
  return wants;
}

/** Whether a source gives what is wanted. */
export const gives = ({ low, high }: RailSource, { volts }: Pick<Want, 'volts'>): boolean =>
  volts === undefined || !differ({ low, high }, volts);

export const isFed = (machine: Machine, want: Want): boolean =>
  sourcesAt(machine, want.node).some((source) => gives(source, want));

/** Boards that are where they work: in a slot, or joined to something by a ribbon or cable that is plugged in. */
export function boardsInPlay(machine: Machine): Board[] {
  const joined = new Set<Board>();
  for (const { ends } of machine.ribbons) {
    const plugged = ends.filter(({ instance, unplugged }) => instance !== undefined && !unplugged);
    if (plugged.length < 2) continue;
    for (const { instance } of plugged) if (instance?.board) joined.add(instance.board);
  }
  return machine.boards.filter((board) => board.slot !== undefined || joined.has(board));
}
