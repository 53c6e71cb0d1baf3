import { type Leg, networkOf, pullsUp, thevenin } from '../analysis/bias.ts';
import { voltsOfRail } from '../analysis/meetings.ts';
import type { NetView } from '../analysis/nets.ts';
import { limitsOf } from '../analysis/pins.ts';
import type { Biasing, Use } from '../machine/types.ts';
import { edit, saying, withEdits } from './edits.ts';
import { spokenAmount, stepsBetween } from './explain.ts';
import { keyOf, Told } from './power.ts';
import { usualRail, writtenLegs } from './resistor-edits.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** A line whose resistors lift it above what a pin on it stands. One finding per terminator or pull-up statement. */
export const pullUpTooHigh: Rule = {
  id: 'pull-up-too-high',
  severity: 'error',
  summary: 'a pull-up or terminator lifts a line above what a pin on it stands',
  *check(view) {
    const told = new Told();
    for (const net of view.nets.views) {
      if (net.biasings.length === 0 || net.uses.length === 0) continue;
      const lift = lifted(view, net);
      const weak = lift && weakest(view, net, lift.volts);
      if (lift && weak) {
        told.add(keyOf(lift.by.bias.source), net.net, 'line', () => tooHigh(view, lift, weak));
      }
    }
    yield* told.all();
  },
};

interface Lift {
  /** V that the line rises to when nobody drives it. */
  readonly volts: number;
  /** The one with the highest rail. */
  readonly by: Biasing;
  readonly rail: string;
  readonly divided: boolean;
}

/** All resistors of a line together are one divider. Where the rail of one is not known, nobody can tell. */
function lifted({ machine }: View, { biasings }: NetView): Lift | undefined {
  const all: Leg[] = [];
  let top: { leg: Leg; by: Biasing; rail: string } | undefined;
  for (const biasing of biasings) {
    const network = networkOf(machine, biasing);
    if (network.legs === undefined) return undefined;
    all.push(...network.legs);
    if (!pullsUp(network)) continue;
    network.legs.forEach((leg, i) => {
      if (top === undefined || leg.high > top.leg.high)
        top = { leg, by: biasing, rail: biasing.bias.legs[i]!.rail };
    });
  }
  return top && { volts: thevenin(all).high, by: top.by, rail: top.rail, divided: all.length > 1 };
}

function weakest({ machine }: View, { uses }: NetView, volts: number): { use: Use; max: number } | undefined {
  let weak: { use: Use; max: number } | undefined;
  for (const use of uses) {
    if (use.card.kind === 'untouched') continue;
    const { max } = limitsOf(machine, use.card);
    if (max !== undefined && volts > max + 1e-6 && (weak === undefined || max < weak.max))
      weak = { use, max };
  }
  return weak;
}

function tooHigh(
  view: View,
  { volts, by, rail, divided }: Lift,
  { use, max }: { use: Use; max: number },
): Finding {
  const { bias, name, source, node } = by;
  const what = `${bias.word === 'terminate' ? 'the terminator' : 'the pull-up'} to ${rail}`;
  return {
    rule: 'pull-up-too-high',
    severity: 'error',
    message: `${what}${divided ? ", divided with the line's other resistors," : ''} lifts ${name} to ${spokenAmount(volts, 'V')}, above the ${spokenAmount(max, 'V')} that ${use.card.part} on ${use.board.name} stands`,
    source,
    path: stepsBetween(view, node, use.node, source),
    fix: `check with the meter what the resistor of ${name} goes to, and take it to a rail of at most ${spokenAmount(max, 'V')}`,
    ...withEdits(lowered(view, by, rail, max)),
    about: [
      name,
      rail,
      use.board.name,
      use.card.name,
      ...(by.backplane ? [by.backplane.name] : [by.board!.name]),
    ],
  };
}

/** The leg taken to the rail that the other resistors of the place go to, where every pin stands that. */
function lowered(view: View, { bias, backplane, board }: Biasing, rail: string, max: number): Edit[] {
  const where = backplane ?? board?.card;
  const other = where && usualRail(view, { ...where, biases: where.biases.filter((one) => one !== bias) });
  const volts = other === undefined ? undefined : voltsOfRail(view.machine, other);
  if (other === undefined || other === rail || volts === undefined || volts.high > max) return [];
  const legs = writtenLegs(bias.legs.map((leg) => (leg.rail === rail ? { ...leg, rail: other } : leg)));
  return [edit(`take it to ${other}: \`${legs}\``, saying(bias.source, { legs }))];
}
