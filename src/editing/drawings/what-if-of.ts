import type { Case } from '../../analysis/wrong-mating/cases.ts';
import { keyedConnector } from '../../analysis/wrong-mating/keys.ts';
import type { Plug } from '../../analysis/wrong-mating/plugs.ts';
import { type WrongMating, wrongMatingOf } from '../../analysis/wrong-mating/wrong-mating.ts';
import { spokenHarm, spokenPlug, spokenWay } from '../../checks/spoken-mating.ts';
import type { Finding } from '../../checks/types.ts';
import type { Wanted } from '../../drawing/to-host.ts';
import { type Entry, entriesOf } from '../../drawing/what-if-cases.ts';
import { ALL_PLUGS } from '../../drawing/what-if-choice.ts';
import type { Span } from '../../language/tree.ts';
import type { Machine, Source } from '../../machine/types.ts';
import type { Analysis } from '../project.ts';

/** What somebody did wrong in the cases that a rule tells of. */
const FAULTS: Readonly<Record<string, Case['fault']>> = {
  'mate-turned': 'turned',
  'mate-shifted': 'shifted',
  'mate-wrong-slot': 'wrong place',
  'ribbon-turned': 'turned',
  'ribbon-over': 'over',
  'ribbon-wrong-port': 'wrong place',
};

/** Tells of all cases of a connector. */
const OF_CONNECTOR = 'key-missing';

/** The findings in a range of a file of which a what-if shows what they mean, one of each rule. */
export function shownInWhatIf(
  { machine, findings }: Pick<Analysis, 'machine' | 'findings'>,
  file: string,
  range: Span,
): Finding[] {
  const found = findings.filter(
    (one) =>
      one.source.file === file &&
      one.source.from <= range.to &&
      one.source.to >= range.from &&
      (one.rule === OF_CONNECTOR || (one.rule in FAULTS && plugsAt(machine, one.source).length > 0)),
  );
  return found.filter(({ rule }, i) => found.findIndex((one) => one.rule === rule) === i);
}

/** The drawing of the case that a finding tells of; undefined where there is none. Judges all cases of the plug. */
export function whatIfOf(machine: Machine, finding: Finding): Wanted | undefined {
  const mating = wrongMatingOf(machine);
  if (finding.rule === OF_CONNECTOR) {
    const entry = entriesOf(mating, ALL_PLUGS).find(
      ({ does, isOpen, cases: [one] }) =>
        isOpen && does === 'harm' && finding.about.includes(keyedConnector(one).name),
    );
    return entry && wanted(ALL_PLUGS, entry);
  }
  const plugs = plugsAt(machine, finding.source);
  const entries = plugs
    .flatMap((plug) => entriesOf(mating, spokenPlug({ plug })))
    .filter(({ cases: [one] }) => one.fault === FAULTS[finding.rule] && one.verdict.state !== 'prevented');
  const entry = entries.find((one) => isTold(mating, one, finding)) ?? entries[0];
  return entry && wanted(spokenPlug(entry.cases[0]), entry);
}

const wanted = (of: string, { id, isOpen }: Entry): Wanted => ({
  view: 'what-if',
  of,
  cases: isOpen ? 'open' : 'all',
  case: id,
});

/** What is plugged in by a statement. */
const plugsAt = (machine: Machine, { file, from }: Source): readonly Plug[] =>
  wrongMatingOf(machine).plugs.filter(({ board, ribbon, end }) => {
    const { source } = board ?? ribbon!.ends[end!]!;
    return source.file === file && source.from === from;
  });

/** Whether a finding tells of this very case, not only of one that is as bad. */
function isTold(mating: WrongMating, { cases: [one], does }: Entry, { message }: Finding): boolean {
  const worst = mating.worst(one);
  const told = does === 'unknown' || worst === undefined ? '' : spokenHarm(worst);
  return message.includes(` ${spokenWay(one)}`) && message.includes(told);
}
