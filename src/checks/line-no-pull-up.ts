import { pullsUp } from '../analysis/bias.ts';
import { type Line, linesOf } from '../analysis/line.ts';
import { partiesOf } from '../analysis/parties.ts';
import { segmentsOf } from '../analysis/segments.ts';
import type { Use } from '../machine/types.ts';
import { preferred, withEdits } from './edits.ts';
import { stepAt } from './explain.ts';
import { spokenNames } from './lists.ts';
import { pullingUp } from './resistor-edits.ts';
import { contactOfUse, grouped, spokenSome } from './sisters.ts';
import type { Finding, Rule, View } from './types.ts';

const WORKING = new Set(['drives', 'transceives', 'pulls', 'receives']);

/** A line of open collectors that nothing pulls up. One finding for sister lines. */
export const lineNoPullUp: Rule = {
  id: 'line-no-pull-up',
  severity: 'warning',
  summary: 'an open-collector line has no pull-up or terminator',
  *check(view) {
    const bare: Bare[] = [];
    for (const line of linesOf(view.machine, view.nets)) {
      const used = line.wired && line.view.uses.filter(({ card }) => WORKING.has(card.kind));
      if (!used || used.length === 0 || line.networks.some(pullsUp)) continue;
      const { runs, boards } = segmentsOf(view.machine, view.nets, line.view.net);
      // A board by itself on a shelf, or a port with nothing plugged in, lacks nothing yet.
      if (runs.length === 0 && boards.size < 2) continue;
      const untouched = new Set(
        line.view.uses.filter(({ card }) => card.kind === 'untouched').map(({ board }) => board),
      );
      const { unsaid } = partiesOf(view.machine, view.nets, line.view);
      const open = [
        ...[...boards].filter((board) => !board.card.closed && !untouched.has(board)).map(({ name }) => name),
        ...unsaid.filter(({ kind }) => kind === 'ribbon').map(({ name }) => `the far end of ${name}`),
      ];
      bare.push({ line, use: used.find(({ card }) => card.kind === 'pulls') ?? used[0]!, open });
    }
    const key = ({ use, open }: Bare): string =>
      [use.card.kind, use.board.name, use.card.part, ...open].join('\n');
    for (const sisters of grouped(bare, key)) yield finding(view, sisters);
  },
};

interface Bare {
  readonly line: Line;
  readonly use: Use;
  /** Where the pull-up may sit all the same: boards whose list is not closed, and ends that nobody knows. */
  readonly open: readonly string[];
}

function finding(view: View, sisters: readonly Bare[]): Finding {
  const { use, open } = sisters[0]!;
  const names = sisters.map(({ line }) => line.name);
  const what = names.length > 1 ? 'open-collector lines' : 'an open-collector line';
  const unsure = open.length > 0;
  const boards = spokenSome(open);
  const message = unsure
    ? `${spokenNames(names)}: ${what} with no pull-up said; it may sit on ${boards}, where not everything is said`
    : `${spokenNames(names)}: ${what} without pull-up or terminator, so nothing makes it high when nobody pulls it low`;
  return {
    rule: 'line-no-pull-up',
    severity: unsure ? 'question' : 'warning',
    message,
    source: use.card.source,
    path: sisters[0]!.line.view.uses
      .slice(0, 6)
      .map((one) => ({ ...stepAt(view, contactOfUse(view, one), one.card.source), source: one.card.source })),
    fix: unsure
      ? 'measure from the line to each rail with the power off; write the resistor as `pull-up`, and close the cards that are known with `untouched rest`'
      : 'look for the resistor that is missing (about 1 kohm to +5V is usual) and write it as `pull-up`',
    ...withEdits(
      pullingUp(
        view,
        sisters.map(({ line }) => line),
      ).map(preferred),
    ),
    about: [...names, use.board.name],
  };
}
