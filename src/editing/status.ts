import { machineTally, percentKnown } from '../analysis/tally.ts';
import { countsOf } from '../checks/severities.ts';
import type { Severity } from '../checks/types.ts';
import { harmless } from '../reports/places.ts';
import { counted, list, paragraphs, plain } from './markdown.ts';
import type { Analysis } from './project.ts';

/** The machine's state, for a status bar. */
export interface Status {
  /** One line: `2 errors, 1 warning · 83 % known`. */
  readonly text: string;
  /** Markdown: the machine's title, all counts, what there is of it. */
  readonly tooltip: string;
  /** The worst that was found; undefined where nothing was. */
  readonly worst?: Severity;
}

export function statusOf({
  machine,
  findings,
  root,
}: Pick<Analysis, 'machine' | 'findings' | 'root'>): Status {
  const counts = countsOf(findings);
  const tally = machineTally(machine);
  // Notes call for nothing: where there is more, the tooltip has them.
  const urgent = counts.filter(({ severity }) => severity !== 'note');
  const found = spokenCounts(urgent.length > 0 ? urgent : counts);
  const known = tally.contacts === 0 ? [] : [`${percentKnown(tally)} % known`];
  const [worst] = counts;
  const { supplies, backplanes, boards, ribbons } = machine;
  const slots = backplanes.flatMap((one) => one.slots).length;
  const parts = [
    counted(supplies.length, 'supply', 'supplies'),
    counted(backplanes.length, 'backplane'),
    counted(slots, 'slot'),
    counted(boards.length, 'board'),
    counted(ribbons.length, 'ribbon or cable', 'ribbons and cables'),
  ];
  const file = root.slice(root.lastIndexOf('/') + 1);
  return {
    text: harmless([found === '' ? 'no findings' : found, ...known].join(' · ')),
    tooltip: paragraphs([
      `**${plain(machine.title === '' ? file : machine.title)}**`,
      list([
        spokenCounts(counts) || 'no findings',
        tally.contacts === 0
          ? undefined
          : `${tally.known} of ${counted(tally.contacts, 'contact')} known, ${tally.unknown} unknown, ${tally.unsaid} unsaid`,
        parts.filter((part) => !part.startsWith('0 ')).join(', '),
      ]),
    ]),
    ...(worst ? { worst: worst.severity } : {}),
  };
}

/** `2 errors, 1 warning`. */
export const spokenCounts = (
  counts: readonly { readonly severity: Severity; readonly count: number }[],
): string => counts.map(({ severity, count }) => counted(count, severity)).join(', ');
