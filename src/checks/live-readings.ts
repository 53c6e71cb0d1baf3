import { potentialAt } from '../analysis/potential.ts';
import { pairOf } from '../analysis/readings.ts';
import type { Reading } from '../machine/types.ts';
import { stepAt } from './explain.ts';
import { type Line, lineAt, readingStep, spokenReading } from './readings.ts';
import type { Finding, View } from './types.ts';

/** A finding with what tells its cause from others. */
export type Found = readonly [cause: string, finding: Finding];

/** V below which no silicon junction conducts, so that nothing is fed or hurt by it (common practice, no source). */
const DEAD = 0.5;

/** Readings of volts where power is said to be off: what is believed dead is still fed. */
export function* liveWhenOff(view: View): Iterable<Found> {
  const { machine, nets } = view;
  for (const reading of machine.readings) {
    const { power, diode, volts } = reading;
    if (power !== 'off' || diode || volts === undefined || Math.abs(volts) < DEAD) continue;
    yield [pairOf(machine, nets, reading), live(view, reading)];
  }
}

function live(view: View, reading: Reading): Finding {
  const { from, to, fromText, toText, source } = reading;
  const lines = [from, to].flatMap((node) => lineAt(view, node) ?? []);
  const fed = lines.filter((line) => !isGround(view, line)).map(({ name }) => name);
  return {
    rule: 'reading-contradicts',
    severity: 'warning',
    message: `${fromText} to ${toText} reads ${spokenReading(reading)} with power off: something still feeds ${fed.join(' and ') || 'this place'}`,
    source,
    path: [stepAt(view, from, source), stepAt(view, to, source), readingStep(reading)],
    fix: `touch nothing yet: pull the mains plug, discharge the capacitors through a resistor, disconnect any battery and any second supply, and read again until it is below ${DEAD} V; if power was on, write \`power on\``,
    about: [...new Set([...lines.map(({ name }) => name), fromText, toText])],
  };
}

const isGround = ({ machine, nets }: View, { node }: Line): boolean =>
  potentialAt(machine, nets, node)?.kind === 'ground';
