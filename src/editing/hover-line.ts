import type { Network } from '../analysis/bias.ts';
import { type Line, linesOf } from '../analysis/line.ts';
import { loadSum } from '../analysis/load-sum.ts';
import { type Duty, dutiesOf, legsOf, worst } from '../analysis/loading.ts';
import { drivesIt, hearsIt } from '../analysis/parties.ts';
import { spokenAmount, spokenEvidence } from '../checks/explain.ts';
import { grouped, spokenLevel, spokenSome, spokenUse } from '../checks/sisters.ts';
import { spokenItem, spokenPlace } from '../checks/terminators.ts';
import type { View } from '../checks/types.ts';
import type { Bias, Use } from '../machine/types.ts';
import { code, codes, plain } from './markdown.ts';

/** Who drives and hears a line, what the driver that is worst off must carry, and what sits at its ends. Markdown. */
export function lineItems(line: Line): (string | undefined)[] {
  const { view, networks, drivers } = line;
  const { unknown } = line.loaded();
  const duties = dutiesOf(line, legsOf(line));
  const [low, high] = [worst(duties, 'low'), worst(duties, 'high')];
  const kindOf = (use: Use): string => drivers.find((one) => one.use === use)?.kind ?? '';
  return [
    spokenUses('driven by', view.uses.filter(drivesIt), kindOf),
    spokenUses('heard by', view.uses.filter(hearsIt), () => ''),
    spokenUses(
      'started by',
      view.uses.filter(({ card }) => card.kind === 'starts'),
      () => '',
    ),
    low && spokenDuty(line, low),
    high && spokenDuty(line, high),
    unknown.length === 0
      ? undefined
      : `not counted, currents not known: ${plain(spokenSome(unknown.map((use) => spokenUse(use))))}`,
    ...networks.map(spokenNetwork),
    line.wired && networks.length === 0 ? 'wired-or, and nothing pulls it up' : undefined,
  ];
}

/** Boards that do the same with the same part together. */
function spokenUses(does: string, uses: readonly Use[], kindOf: (use: Use) => string): string | undefined {
  if (uses.length === 0) return undefined;
  const groups = grouped(uses, (use) => `${use.card.part ?? ''}\n${kindOf(use)}`);
  const parts = groups.map((its) => {
    const [first] = its as [Use, ...Use[]];
    const kind = kindOf(first);
    const { part } = first.card;
    const boards = codes([...new Set(its.map(({ board }) => board.name))]);
    return boards + (part === undefined ? '' : ` with ${code(part)}`) + (kind === '' ? '' : `, ${kind}`);
  });
  return `**${does}** ${parts.join('; ')}`;
}

const MOST_ITEMS = 5;

function spokenDuty(line: Line, duty: Duty): string | undefined {
  const { driver, level, demand, point, ratio } = duty;
  const items = loadSum(line, duty, line.networks);
  if (items.length === 0) return undefined;
  const named = items
    .slice(0, MOST_ITEMS)
    .map((item) => `${plain(spokenItem(item))} ${spokenAmount(item.amps, 'A')}`);
  const rest = items.slice(MOST_ITEMS).reduce((sum, { amps }) => sum + amps, 0);
  if (rest !== 0) named.push(`others ${spokenAmount(rest, 'A')}`);
  const rated = `${spokenAmount(point.current, 'A')} at ${spokenLevel(point.voltage)}`;
  const verb = level === 'low' ? 'sink' : 'give';
  // The resistors may give more than the inputs ask.
  const does =
    demand > 0
      ? `must ${verb} ${spokenAmount(demand, 'A')} of ${rated} (${Math.round(ratio * 100)} %)`
      : `has nothing to ${verb}, rated ${rated}`;
  return `**${level}** ${code(driver.use.board.name)} ${does}: ${named.join(', ')}`;
}

function spokenNetwork({ biasing }: Network): string {
  const { word, as, evidence } = biasing.bias;
  const named = as === undefined ? '' : ` as ${code(as)}`;
  const what = word === 'terminate' ? 'terminated' : word;
  return `**${what}** ${spokenLegs(biasing.bias)} ${plain(spokenPlace(biasing))}${named}: ${plain(spokenEvidence(evidence))}`;
}

/** ``220 ohm to `+5V`, 330 ohm to `GND` ``. */
export const spokenLegs = ({ legs }: Bias): string =>
  legs.map((leg) => `${spokenAmount(leg.ohms, 'ohm')} to ${code(leg.rail)}`).join(', ');

/** A member of a vector, and the net that it is. */
export interface Member {
  readonly name: string;
  readonly net: number | undefined;
}

/** Whether the members of a vector are driven, heard, loaded and terminated as this one is, or which are not. */
export function sameLoad({ machine, nets }: View, line: Line, vector: readonly Member[]): string {
  const lines = new Map(linesOf(machine, nets).map((one) => [one.view.net, one]));
  const wanted = loadKey(line);
  const differing = vector.filter(({ net }) => {
    const other = net === undefined ? undefined : lines.get(net);
    return other === undefined || loadKey(other) !== wanted;
  });
  const count = vector.length;
  return differing.length === 0
    ? `${count === 2 ? 'both' : `all ${count}`} lines of the vector are alike`
    : `of the ${count} lines of the vector, not like this one: ${codes(differing.map(({ name }) => name))}`;
}

const loadKey = ({ view, networks }: Line): string =>
  [
    ...view.uses.map(({ board, card }) => `${board.name} ${card.kind} ${card.part}`),
    ...networks.map(({ biasing: { bias } }) => JSON.stringify([bias.word, bias.legs, bias.place])),
  ]
    .sort()
    .join('\n');
