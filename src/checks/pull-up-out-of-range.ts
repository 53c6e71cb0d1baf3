import { thevenin } from '../analysis/bias.ts';
import { type Line, linesOf } from '../analysis/line.ts';
import { HIGH_LIMIT, HIGH_THRESHOLD, isPulledUp, leastPullUp, legsOf } from '../analysis/loading.ts';
import { edit, preferred, withEdits } from './edits.ts';
import { spokenAmount, spokenEvidence } from './explain.ts';
import { spokenNames } from './lists.ts';
import { valueWithin, type Window, windowOf } from './pull-up-window.ts';
import { biasAnew } from './resistor-edits.ts';
import { grouped, placeKey, spokenLevel, spokenSome, spokenUse } from './sisters.ts';
import { spokenPlace } from './terminators.ts';
import type { Edit, Finding, Rule, Severity } from './types.ts';

/** As for line-overloaded: up to here above the rated current it is a warning. */
const MARGIN = 1.25;
const EXACT = 1e-6;

/** The pull-up of a line of open collectors, outside R_min … R_max. One finding for sister lines. */
export const pullUpOutOfRange: Rule = {
  id: 'pull-up-out-of-range',
  severity: 'error',
  summary: 'the pull-up of an open-collector line is too small for its drivers or too large for its leakage',
  *check({ machine, nets }) {
    const found: Found[] = [];
    for (const line of linesOf(machine, nets)) {
      const one = isPulledUp(line) ? judge(line) : undefined;
      if (one) found.push(one);
    }
    const key = ({ line, why }: Found): string =>
      [why, ...line.networks.map(({ biasing }) => placeKey(biasing.bias.source))].join('\n');
    for (const sisters of grouped(found, key)) yield finding(sisters);
  },
};

interface Found {
  readonly line: Line;
  readonly severity: Severity;
  readonly ohms: number;
  readonly limits: Window;
  readonly window: string;
  readonly why: string;
}

function judge(line: Line): Found | undefined {
  const { low, high, ohms } = thevenin(legsOf(line));
  const limits = windowOf(line, low, high);
  const { least, most, leakage, weakest } = limits;
  // Inputs that are too much by themselves are line-overloaded's: no resistor would mend it.
  if (least === Number.POSITIVE_INFINITY) return undefined;
  const window = spokenWindow(least, most);
  const unknown =
    line.loaded().unknown.length > 0
      ? `; not known of ${spokenSome(line.loaded().unknown.map(spokenUse))}`
      : '';
  if (weakest && ohms < least * (1 - EXACT)) {
    const { driver, point, inputs } = weakest;
    const demand = inputs + (high - point.voltage) / ohms;
    const relieved = driver.output?.low.some(
      (one) => one.voltage > point.voltage && ohms >= leastPullUp(high, one, inputs) * (1 - EXACT),
    );
    const severity = relieved ? 'note' : demand <= point.current * MARGIN ? 'warning' : 'error';
    const rated = `${spokenAmount(point.current, 'A')} at ${spokenLevel(point.voltage)}`;
    const why = `${spokenUse(driver.use)} would sink ${spokenAmount(demand, 'A')} and is rated ${rated}${relieved ? ', and more with less noise margin' : ''}${unknown}`;
    return { line, severity, ohms, limits, window, why };
  }
  if (ohms > most * (1 + EXACT)) {
    const reached = low - ohms * leakage;
    const why = `with up to ${spokenAmount(leakage, 'A')} into inputs and outputs that are off it rises to ${spokenLevel(Math.max(0, reached))} only, not ${spokenLevel(HIGH_LIMIT)}${unknown}`;
    return { line, severity: reached >= HIGH_THRESHOLD ? 'note' : 'warning', ohms, limits, window, why };
  }
  return undefined;
}

function spokenWindow(least: number, most: number): string {
  const from = spokenAmount(least, 'ohm');
  if (most === Number.POSITIVE_INFINITY) return `${from} or more`;
  if (most < least) return 'no value at all';
  return least > 0 ? `${from} to ${spokenAmount(most, 'ohm')}` : `up to ${spokenAmount(most, 'ohm')}`;
}

function finding(sisters: readonly Found[]): Finding {
  const { line, severity, ohms, window, why } = sisters[0]!;
  const names = sisters.map((one) => one.line.name);
  const { networks } = line;
  const what =
    networks.length > 1
      ? `${networks.length} pull-ups in parallel are ${spokenAmount(ohms, 'ohm')}`
      : `the pull-up is ${spokenAmount(ohms, 'ohm')}`;
  const first = networks[0]!.biasing;
  return {
    rule: 'pull-up-out-of-range',
    severity,
    message: `${spokenNames(names)}: ${what}, ${window} would do: ${why}`,
    source: first.bias.source,
    path: networks.map(({ biasing }) => ({
      contact: spokenPlace(biasing),
      signal: biasing.name,
      evidence: spokenEvidence(biasing.bias.evidence),
      source: biasing.bias.source,
    })),
    ...withEdits(edits(sisters)),
    fix: `fit a pull-up within the window, or check the value that is there: ${window}`,
    about: [...names, ...networks.map(({ biasing }) => biasing.board?.name ?? biasing.backplane?.name ?? '')],
  };
}

/** One resistor of a value within the window: the colour band next to it, else the value nearest to the usual one. */
function edits(sisters: readonly Found[]): Edit[] {
  const { line, ohms, limits } = sisters[0]!;
  const [network, other] = line.networks;
  const bias = network?.biasing.bias;
  const where = network?.biasing.backplane ?? network?.biasing.board?.card;
  if (bias === undefined || where === undefined || other !== undefined || bias.legs.length !== 1) return [];
  const windows = sisters.map((one) => one.limits);
  const inAll = (value: number): boolean =>
    windows.every(({ least, most }) => value >= least && value <= most);
  const value = [ohms * 10, ohms / 10].find(inAll) ?? valueWithin(windows);
  if (value === undefined || value < limits.least) return [];
  const text = spokenAmount(value, 'ohm');
  const names = sisters.map((one) => one.line.networks[0]!.biasing.name);
  const legs = `${text} to ${bias.legs[0]!.rail}`;
  return [preferred(edit(`fit ${text}`, ...biasAnew(bias, names, { legs }, where)))];
}
