import * as v from 'valibot';
import { MARKS_SHOWN } from '../drawing/bus-layout.ts';
import { GROUPS } from '../drawing/line-groups.ts';
import { CELL, WANTED } from '../drawing/to-host.ts';

/** What a page keeps of itself while its tab is hidden, and over a reload of the window. */

const STATE = v.object({
  /** For the host: the machine's root file and the drawing. */
  root: v.string(),
  wanted: WANTED,
  marks: v.picklist(MARKS_SHOWN),
  filter: v.object({
    text: v.exactOptional(v.string()),
    group: v.exactOptional(v.picklist(GROUPS)),
    evidence: v.exactOptional(v.picklist(['silkscreen', 'trace', 'meter', 'manual', 'guess', 'unsaid'])),
    finding: v.exactOptional(v.string()),
  }),
  side: v.picklist(['mating', 'wiring']),
  scale: v.picklist(['reading', '1:1']),
  selected: v.exactOptional(CELL),
  /** px */
  left: v.number(),
  top: v.number(),
});
export type State = Readonly<v.InferOutput<typeof STATE>>;

export const FRESH: State = {
  root: '',
  wanted: { view: 'bus', of: '' },
  marks: 'role',
  filter: {},
  side: 'mating',
  scale: 'reading',
  left: 0,
  top: 0,
};

/** What was kept, or a fresh state where it cannot be read. */
export function readState(kept: unknown): State {
  const { success, output } = v.safeParse(STATE, kept);
  return success ? output : FRESH;
}

/** The other side of a connector. */
export const turned = ({ side }: Pick<State, 'side'>): State['side'] =>
  side === 'mating' ? 'wiring' : 'mating';
