import type { Item, Quantity } from '../language/tree.ts';
import { attribute, has, items, said as saidText, subjects } from '../language/tree.ts';
import { dimensionOf, measure } from '../language/units.ts';
import { optional } from './connectors.ts';
import { amount, evidenceOf, inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Reading } from './types.ts';

/** ohm of a pair of meter leads where the block does not say (common practice, no source). */
const LEADS = 0.2;

/**
 * Whether a reading proves two places joined: between rails at the leads' resistance + 0.3 ohm or less; elsewhere, where
 * a few ohms of trace and contact are no news, at + 2 ohm (common practice, no source).
 */
export function continuity(reading: Reading, rails: boolean): boolean {
  if (reading.ohms === undefined || reading.diode || reading.power === 'on') return false;
  return reading.ohms <= reading.leads + (rails ? 0.3 : 2);
}

/** ohm above which no copper reads, however long and tarnished (common practice, no source). */
const NO_COPPER = 100;

/** Whether a reading says that no copper joins two places. */
export function apart(reading: Reading): boolean {
  if (reading.diode || reading.power === 'on') return false;
  return reading.open || (reading.ohms !== undefined && reading.ohms > NO_COPPER);
}

/** The lines of a `readings` block. Readings whose places are not in the machine are left out; that is reported. */
export function readReadings(
  said: Said,
  place: (item: Item, line: Said) => number | undefined,
  problems: Problems,
): Reading[] {
  const header = statementOf(said);
  const shared = {
    leads: amount(header, 'leads', 'resistance') ?? LEADS,
    ...optional('cards', saidText(header, 'cards') as 'in' | 'out' | undefined),
    ...optional('power', saidText(header, 'power') as 'on' | 'off' | undefined),
  };
  const list: Reading[] = [];
  for (const line of inside(said)) {
    const statement = statementOf(line);
    if (statement.form !== 'reading') continue;
    const fromItem = subjects(statement)[0];
    const toItem = items(statement, 'to')[0];
    if (fromItem === undefined || toItem === undefined) continue;
    const from = place(fromItem, line);
    const to = place(toItem, line);
    if (from === undefined || to === undefined) continue;
    const is = attribute(statement, 'is')?.values[0];
    const value = is?.kind === 'quantity' ? is : undefined;
    if (from === to) problems.add('duplicate', sourceOf(line), 'this reading is between a place and itself');
    list.push({
      ...shared,
      from,
      to,
      fromText: fromItem.first,
      toText: toItem.first,
      open: is?.kind === 'word',
      ...optional('ohms', of(value, 'resistance')),
      ...optional('volts', of(value, 'voltage')),
      diode: has(statement, 'diode'),
      evidence: { kind: 'meter', ...optional('date', saidText(header, 'date')), ...evidenceOf(statement) },
      source: sourceOf(line),
    });
  }
  return list;
}

function of(value: Quantity | undefined, dimension: 'resistance' | 'voltage'): number | undefined {
  if (value === undefined || dimensionOf(value) !== dimension) return undefined;
  return measure(value, dimension)?.low;
}
