import type { Network } from '../analysis/bias.ts';
import { type Line, linesOf } from '../analysis/line.ts';
import { loadSum } from '../analysis/load-sum.ts';
import { type Duty, dutiesOf, exceeds, isPulledUp, legsOf, worst } from '../analysis/loading.ts';
import type { Use } from '../machine/types.ts';
import { spokenAmount, spokenEvidence, stepAt } from './explain.ts';
import { spokenNames } from './lists.ts';
import { contactOfUse, grouped, spokenLevel, spokenSome, spokenUse } from './sisters.ts';
import { spokenItem, spokenPlace } from './terminators.ts';
import type { Finding, Rule, Severity, Step, View } from './types.ts';

/** Up to this many times the rated current it is a warning: data sheets keep something in hand (common practice). */
const MARGIN = 1.25;
const MOST_ITEMS = 5;

/** A driver that must sink or give more than it is rated for. One finding for sister lines that fail the same way. */
export const lineOverloaded: Rule = {
  id: 'line-overloaded',
  severity: 'error',
  summary: 'inputs, terminators and pull-ups ask more of a driver than it is rated for',
  *check(view) {
    const over: Overload[] = [];
    for (const line of linesOf(view.machine, view.nets)) {
      const one = overloadOf(line);
      if (one) over.push(one);
    }
    for (const sisters of grouped(over, ({ key }) => key)) yield finding(view, sisters);
  },
};

interface Overload {
  readonly line: Line;
  readonly duty: Duty;
  readonly sum: string;
  readonly unknown: readonly string[];
  readonly key: string;
}

const RANK: readonly Severity[] = ['error', 'warning', 'note'];

/** Too many inputs are too many at either level: the worse of the two is told, the low one where they are alike. */
function overloadOf(line: Line): Overload | undefined {
  // The value of a pull-up on a wired line is judged by pull-up-out-of-range: one cause, one finding.
  const pulledUp = isPulledUp(line);
  const duties = dutiesOf(line, pulledUp ? [] : legsOf(line));
  const over = [worst(duties, 'low'), worst(duties, 'high')].filter(
    (one) => one !== undefined && exceeds(one),
  );
  const [duty] = over.sort((a, b) => RANK.indexOf(severityOf(a!)) - RANK.indexOf(severityOf(b!)));
  if (duty === undefined) return undefined;
  const { use } = duty.driver;
  const sum = spokenSum(line, duty, pulledUp ? [] : line.networks);
  const unknown = [
    ...line
      .loaded()
      .unknown.filter((one) => one !== use)
      .map((one) => spokenUse(one)),
    ...line.networks.filter(({ legs }) => legs === undefined).map(({ biasing }) => spokenPlace(biasing)),
  ];
  const key = [duty.level, use.board.name, use.card.part, duty.ratio.toPrecision(6), sum, ...unknown];
  return { line, duty, sum, unknown, key: key.join('\n') };
}

/** What makes up the sum, the largest first. */
function spokenSum(line: Line, duty: Duty, networks: readonly Network[]): string {
  const items = loadSum(line, duty, networks);
  const named = items
    .slice(0, MOST_ITEMS)
    .map((item) => `${spokenItem(item)} ${spokenAmount(item.amps, 'A')}`);
  const rest = items.slice(MOST_ITEMS).reduce((sum, { amps }) => sum + amps, 0);
  return [...named, ...(rest === 0 ? [] : [`others ${spokenAmount(rest, 'A')}`])].join(', ');
}

function severityOf({ level, ratio, relief }: Duty): Severity {
  if (relief) return 'note';
  // A TTL output gives several times its rated high current at a level that is still a high one (common practice).
  return level === 'high' || ratio <= MARGIN ? 'warning' : 'error';
}

function finding(view: View, sisters: readonly Overload[]): Finding {
  const { duty, line, sum, unknown } = sisters[0]!;
  const { driver, point, demand, level, relief } = duty;
  const names = sisters.map((one) => one.line.name);
  const verb = level === 'low' ? 'sink' : 'give';
  const each = names.length > 1 ? ' on each' : '';
  const margin = relief
    ? `, within ${spokenAmount(relief.current, 'A')} at ${spokenLevel(relief.voltage)} only, with less noise margin`
    : '';
  const missing =
    unknown.length > 0 ? `; not counted because their currents are not known: ${spokenSome(unknown)}` : '';
  return {
    rule: 'line-overloaded',
    severity: severityOf(duty),
    message:
      `${spokenNames(names)}: ${spokenUse(driver.use)} must ${verb} ${spokenAmount(demand, 'A')}${each} and is rated ` +
      `${spokenAmount(point.current, 'A')} at ${spokenLevel(point.voltage)}${margin} (${sum})${missing}`,
    source: driver.use.card.source,
    path: pathOf(view, line, duty),
    fix:
      level === 'low'
        ? 'take a terminator off if there are too many, use a stronger driver, or fit fewer boards'
        : 'raise or remove the resistors to ground, or use a stronger driver',
    about: [...names, driver.use.board.name, driver.use.card.part ?? ''].filter((name) => name !== ''),
  };
}

/** The driver first, then what it carries. */
function pathOf(view: View, line: Line, { driver }: Duty): Step[] {
  const ofUse = (use: Use): Step => stepAt(view, contactOfUse(view, use), use.card.source);
  const others = line
    .loaded()
    .loads.filter(({ use }) => use !== driver.use)
    .slice(0, MOST_ITEMS);
  return [
    { ...ofUse(driver.use), source: driver.use.card.source },
    ...line.networks.map(({ biasing }) => ({
      contact: spokenPlace(biasing),
      signal: biasing.name,
      evidence: spokenEvidence(biasing.bias.evidence),
      source: biasing.bias.source,
    })),
    ...others.map(({ use }) => ({ ...ofUse(use), source: use.card.source })),
  ];
}
