import { knownPart, knownRegulator } from '../analysis/parts.ts';
import { spokenAmount } from '../checks/explain.ts';
import { spokenLevel } from '../checks/sisters.ts';
import type { LogicInput, LogicOutput, Part, Regulator } from '../knowledge/types.ts';
import type { Machine } from '../machine/types.ts';
import { code, list, paragraphs, plain } from './markdown.ts';

/** What is known of a part, family or regulator by what is printed on it, and where the figures come from. Markdown. */
export function partHover(machine: Machine, name: string): string {
  const known = knownPart(machine, name);
  const regulator = knownRegulator(machine, name);
  if (known === undefined && regulator === undefined) {
    const hint =
      'describe it in a `part` block, or write its family (`74LS`) where that is all that is known';
    return paragraphs([`**${code(name)}** is not known here`, hint]);
  }
  const { part, family } = known ?? {};
  const { title, source } = (part ?? family ?? regulator)!;
  const called = known?.name ?? regulator!.name;
  return paragraphs([
    `**${code(name)}** ${title === name ? 'of your own' : plain(title)}${called === name ? '' : ` (${code(called)})`}`,
    list([
      part?.family === undefined || part.family === name ? undefined : `family ${code(part.family)}`,
      family && `supply ${spokenAmount(family.supply.min, 'V')} to ${spokenAmount(family.supply.max, 'V')}`,
      known?.input && spokenInput(known.input),
      known?.output && spokenOutput(known.output),
      part && spokenRails(part),
      regulator && spokenRegulator(regulator),
      `figures: ${plain(source)}`,
    ]),
  ]);
}

const spokenInput = ({ low, high, min, max }: LogicInput): string =>
  `input: ${spokenAmount(low, 'A')} low, ${spokenAmount(high, 'A')} high, stands ${spokenLevel(min)} to ${spokenLevel(max)}`;

function spokenOutput({ kind, low, high, offLow, offHigh }: LogicOutput): string {
  const points = (list: LogicOutput['low']): string =>
    list
      .map(({ current, voltage }) => `${spokenAmount(current, 'A')} at ${spokenLevel(voltage)}`)
      .join(' or ');
  const off = Math.max(offLow, offHigh);
  return [
    `output: ${kind}`,
    ...(low.length > 0 ? [`sinks ${points(low)}`] : []),
    ...(high.length > 0 ? [`gives ${points(high)}`] : []),
    ...(off > 0 ? [`leaks ${spokenAmount(off, 'A')} when off`] : []),
  ].join(', ');
}

function spokenRails({ rails = [], first }: Part): string | undefined {
  if (rails.length === 0) return undefined;
  const each = rails.map(
    ({ volts, current }) =>
      spokenAmount(volts, 'V') + (current === undefined ? '' : ` at up to ${spokenAmount(current, 'A')}`),
  );
  const order =
    first && `; ${spokenAmount(first.volts, 'V')} ${first.binding ? 'must be' : 'should be'} on first`;
  return `rails: ${each.join(', ')}${order ?? ''}`;
}

function spokenRegulator({ output, dropout, maxInput, current }: Regulator): string {
  const gives = output === undefined ? 'output set by the circuit' : `gives ${spokenAmount(output, 'V')}`;
  const needs = `needs ${spokenAmount(dropout, 'V')} more at its input, stands ${spokenAmount(maxInput, 'V')} there`;
  return `regulator: ${gives}, up to ${spokenAmount(current, 'A')}; ${needs}`;
}
