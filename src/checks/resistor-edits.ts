import type { Line } from '../analysis/line.ts';
import { voltsOfRail } from '../analysis/meetings.ts';
import { segmentsOf } from '../analysis/segments.ts';
import type { Backplane, Bias, Card } from '../machine/types.ts';
import { edit, saying, writtenNames } from './edits.ts';
import { spokenAmount } from './explain.ts';
import { valueWithin, windowOf } from './pull-up-window.ts';
import { grouped } from './sisters.ts';
import type { Change, Edit, View } from './types.ts';

/** `220 ohm to +5V, 330 ohm to GND`. */
export const writtenLegs = (legs: Bias['legs']): string =>
  legs.map(({ ohms, rail }) => `${spokenAmount(ohms, 'ohm')} to ${rail}`).join(', ');

/** What some names of a `terminate` or `pull-up` line are to say anew, by key. */
type Anew = Readonly<Record<string, string>>;

/**
 * A `terminate` or `pull-up` line said anew for some of its names: where it has others, these get a line of their own.
 * `place` and `legs` are what the line says then.
 */
export function biasAnew(bias: Bias, names: readonly string[], say: Anew, into: Backplane | Card): Change[] {
  const wanted = new Set(names);
  if (bias.names.every(({ name }) => wanted.has(name))) return [saying(bias.source, say)];
  const { place } = bias;
  const as = bias.as === undefined ? '' : ` as ${bias.as}`;
  const legs = say.legs ?? writtenLegs(bias.legs);
  const moved = [say.after, say.before].find((one) => one !== undefined && one !== '');
  const at = moved ?? (place ? `${place.word} ${place.of}` : '');
  const line = `${bias.word} ${writtenNames([...wanted])} ${legs} ${at}${as}`;
  return [
    { kind: 'list', source: bias.source, from: [...wanted], to: [] },
    { kind: 'add', line, into: into.source },
  ];
}

/** The rail that most pull-ups go to, among those said at one place; else +5V, where there is one. */
export function usualRail({ machine }: View, { biases }: Backplane | Card): string | undefined {
  const legs = biases.filter(({ word }) => word !== 'pull-down').map((bias) => bias.legs[0]?.rail ?? '');
  const groups = grouped(
    legs.filter((rail) => (voltsOfRail(machine, rail)?.low ?? 0) > 0),
    (rail) => rail,
  );
  const most = groups.sort((a, b) => b.length - a.length)[0]?.[0];
  return most ?? (machine.railNames.rails.has('+5V') ? '+5V' : undefined);
}

/** A pull-up for each of the lines, of a value that suits its drivers, at the far end of the backplane. */
export function pullingUp(view: View, lines: readonly Line[]): Edit[] {
  const added: { text: string; into: Backplane }[] = [];
  const placed = lines.flatMap((line) => {
    const [run] = segmentsOf(view.machine, view.nets, line.view.net).runs;
    const claim = line.view.claims.find(
      ({ contact }) => view.nets.instanceOf(contact).kind === 'slot',
    )?.claim;
    return run && claim ? [{ line, run, name: claim.name }] : [];
  });
  if (placed.length < lines.length) return [];
  for (const one of grouped(placed, ({ run }) => `${run.backplane.name}\n${run.last}`)) {
    const { backplane, last } = one[0]!.run;
    const value = pullUpValue(
      view,
      backplane,
      one.map(({ line }) => line),
    );
    if (value === undefined) return [];
    const names = writtenNames(one.map(({ name }) => name));
    added.push({ text: `pull-up ${names} ${value} after ${backplane.slots[last]!.label}`, into: backplane });
  }
  const title = `add \`${added.map(({ text }) => text).join('` and `')}\``;
  return [
    edit(title, ...added.map(({ text, into }) => ({ kind: 'add', line: text, into: into.source }) as const)),
  ];
}

/** `1 kohm to +5V`, for what suits all of the lines. */
export function pullUpValue(view: View, where: Backplane | Card, lines: readonly Line[]): string | undefined {
  const rail = usualRail(view, where);
  const volts = rail === undefined ? undefined : voltsOfRail(view.machine, rail);
  const ohms = volts && valueWithin(lines.map((line) => windowOf(line, volts.low, volts.high)));
  return ohms === undefined ? undefined : `${spokenAmount(ohms, 'ohm')} to ${rail}`;
}
