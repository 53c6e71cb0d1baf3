import { type Conductor, isBad } from '../analysis/conductors.ts';
import { type Crossing, crossingsOf } from '../analysis/crossings.ts';
import { differsInPolarity } from '../analysis/opposites.ts';
import type { RibbonEnd } from '../machine/types.ts';
import { takingOver } from './claim-edits.ts';
import { edit, saying, withEdits } from './edits.ts';
import { claimOf, placeOf, spokenClaim, spokenEvidence, stepAt } from './explain.ts';
import { agree, spokenList } from './lists.ts';
import type { Edit, Finding, Rule, Severity, View } from './types.ts';

/** What a ribbon or cable joins from end to end that does not belong together. One finding per pair of ends. */
export const ribbonCrossed: Rule = {
  id: 'ribbon-crossed',
  severity: 'error',
  summary:
    'a ribbon or cable joins a rail to something else, or a signal that both ends carry to another or to a spare',
  *check(view) {
    for (const crossing of crossingsOf(view.machine, view.nets)) {
      const bad = crossing.conductors.filter(isBad).sort((x, y) => rank(y) - rank(x));
      const differing = crossing.conductors.filter(({ meeting }) => meeting === 'differ');
      if (bad.length > 0) yield crossed(view, crossing, bad);
      else if (differing.length > 0) yield renamed(view, crossing, differing);
    }
  },
};

const RANKS = ['stray', 'ground', 'crossed', 'power'];
const rank = ({ meeting }: Conductor): number => RANKS.indexOf(meeting);

function spokenContact(view: View, node: number): string {
  const claim = claimOf(view, node)!;
  return `${placeOf(view, node)} (${spokenClaim(claim)}, ${spokenEvidence(claim.evidence)})`;
}

function crossed(view: View, crossing: Crossing, bad: readonly Conductor[]): Finding {
  const { ribbon, unplugged, pattern } = crossing;
  const [worst] = bad as readonly [Conductor, ...Conductor[]];
  const suspect = suspectOf(crossing);
  const joins = unplugged ? 'would join' : 'joins';
  const more = bad.length - 1;
  const rest = more > 0 ? `, and crosses ${more} more ${agree(more, 'line', 'lines')}` : '';
  return {
    rule: 'ribbon-crossed',
    severity: severityOf(worst, crossing),
    message: `${ribbon.name} ${joins} ${spokenContact(view, worst.a)} to ${spokenContact(view, worst.b)}${spokenHome(view, worst)}${rest}${spokenPattern(crossing, suspect)}`,
    source: suspect?.source ?? worst.source,
    path: stepsOf(view, crossing, bad),
    fix: fixOf(crossing, suspect, pattern),
    ...withEdits(editsOf(view, crossing, suspect, bad)),
    about: aboutOf(view, crossing, bad),
  };
}

/** Where a name that lands on a spare contact is waited for. */
function spokenHome(view: View, { home }: Conductor): string {
  return home === undefined ? '' : `, though ${placeOf(view, home)} is ${claimOf(view, home)!.name} too`;
}

/** A lone signal tied to ground, or let go of, may be meant; a whole connector turned is not. An end found unplugged harms nothing yet. */
const severityOf = ({ meeting }: Conductor, { pattern, unplugged }: Crossing): Severity =>
  unplugged || ((meeting === 'ground' || meeting === 'stray') && pattern === undefined) ? 'warning' : 'error';

/** The end to look at first: one whose stripe is not at its first contact, else the later one. */
function suspectOf({ pattern, endA, endB }: Crossing): RibbonEnd | undefined {
  if (pattern === 'turned' && endA?.turned && !endB?.turned) return endA;
  return endB;
}

function spokenPattern({ pattern, b }: Crossing, suspect: RibbonEnd | undefined): string {
  const place = suspect?.place ?? b.path;
  // Contacts that are missing count too: the connector is as wide as it is.
  const n = (suspect?.instance ?? b).pins.connector.labels.length;
  if (pattern === 'turned')
    return `, as if the connector at ${place} were turned (conductor k meets ${n + 1} − k)`;
  if (pattern === 'over') return `, as if all lay one conductor over at ${place}`;
  if (pattern === 'rows') return `, as if the two rows at ${place} were exchanged`;
  return '';
}

function fixOf({ ribbon }: Crossing, suspect: RibbonEnd | undefined, pattern: Crossing['pattern']): string {
  if (suspect === undefined)
    return `follow the wires of ${ribbon.name} with the meter, and correct what is wrong`;
  if (pattern === 'turned') {
    const { conductors = [], labels } = suspect.instance!.pins.connector;
    const other = labels[(suspect.turned ? conductors[0] : conductors.at(-1)) ?? 0];
    return `look at the stripe: if it meets ${other} at ${suspect.place}, write \`stripe ${other}\`; if not, the connector is crimped on turned: do it again before power is applied`;
  }
  if (pattern === 'over')
    return `look how the connector at ${suspect.place} sits on the ribbon and on its pins`;
  if (pattern === 'rows') return `see whether the numbering of ${suspect.place} was read from the wrong side`;
  return `unplug ${ribbon.name}, ring it through end to end, and correct the table of ${suspect.place} or its crimp`;
}

/** The stripe of a turned connector at its other end; else one contact that is called what the other end calls it. */
function editsOf(
  view: View,
  { pattern, endA, endB, ribbon }: Crossing,
  suspect: RibbonEnd | undefined,
  bad: readonly Conductor[],
): Edit[] {
  if (pattern === 'turned' && suspect) {
    // On a ribbon of more than two ends the first is held against all others.
    const other = suspect === endA ? endB : endA;
    const ends = ribbon.ends.length > 2 ? [suspect] : [suspect, other];
    return ends.flatMap((end) => (end?.instance ? [restriped(end)] : []));
  }
  const [one, ...others] = bad;
  if (one === undefined || others.length > 0 || pattern !== undefined) return [];
  if (one.meeting === 'stray') return [];
  const told = (node: number) => ({ node, claim: claimOf(view, node)! });
  return [
    ...takingOver(view, [told(one.b)], claimOf(view, one.a)!),
    ...takingOver(view, [told(one.a)], claimOf(view, one.b)!),
  ];
}

function restriped({ instance, turned, source, place }: RibbonEnd): Edit {
  const { conductors = [], labels } = instance!.pins.connector;
  const label = labels[(turned ? conductors[0] : conductors.at(-1)) ?? 0];
  return edit(`write \`stripe ${label}\` at ${place}`, saying(source, { stripe: `stripe ${label}` }));
}

function renamed(view: View, crossing: Crossing, differing: readonly Conductor[]): Finding {
  const { ribbon, a, b } = crossing;
  const names = ({ a: x, b: y }: Conductor): [string, string] => [
    claimOf(view, x)!.name,
    claimOf(view, y)!.name,
  ];
  const examples = differing.map((one) => names(one).join(' is '));
  const opposite = differing.filter((one) => differsInPolarity(view.machine, ...names(one))).length;
  const polarity =
    opposite > 0 ? `; ${opposite} of them ${agree(opposite, 'differs', 'differ')} in polarity` : '';
  return {
    rule: 'ribbon-crossed',
    severity: 'note',
    message: `${differing.length} ${agree(differing.length, 'line has', 'lines have')} one name at ${a.path} and another at ${b.path} along ${ribbon.name}: ${spokenList(examples, 3)}${polarity}`,
    source: crossing.endB?.source ?? differing[0]!.source,
    path: stepsOf(view, crossing, differing),
    fix: `ring the ribbon through; where both names mean one line, say so with \`allow ribbon-crossed at ${names(differing[0]!)[0]} "reason"\``,
    about: aboutOf(view, crossing, differing),
  };
}

const MOST_CONDUCTORS = 8;

const stepsOf = (view: View, { ribbon }: Crossing, conductors: readonly Conductor[]): Finding['path'] =>
  conductors
    .slice(0, MOST_CONDUCTORS)
    .flatMap(({ a, b }) => [stepAt(view, a, ribbon.source), stepAt(view, b, ribbon.source)]);

function aboutOf(view: View, { ribbon, a, b }: Crossing, conductors: readonly Conductor[]): string[] {
  const names = conductors.flatMap((one) => [claimOf(view, one.a)!.name, claimOf(view, one.b)!.name]);
  return [...new Set([ribbon.name, a.path, b.path, ...names.filter((name) => name !== '')])];
}
