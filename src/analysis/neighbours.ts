import { familyNamed } from '../knowledge/lookup.ts';
import { keeping } from '../machine/keep.ts';
import { voltsOfName } from '../machine/names.ts';
import type { Claim, Connector, Machine, PinMap, Rail, RailNames } from '../machine/types.ts';

/** What one slip of a probe does between two contacts, worst first. */
type Slip = 'logic' | 'rails' | 'ground';

export interface Hazard {
  readonly slip: Slip;
  /** Contacts, by index; the first is a rail. */
  readonly rail: number;
  readonly other: number;
  /** V between the two, at the most. */
  readonly volts: number;
  /** A that the rails' supplies are rated for; undefined where nobody says. */
  readonly amps?: number;
}

const ORDER: readonly Slip[] = ['logic', 'rails', 'ground'];

/** Above and below these V a rail harms a logic input: what the inputs of the 74 series stand (source: its table). */
const { max: LOGIC_MOST, min: LOGIC_LEAST } = familyNamed('74')!.input;

/** Neighbouring contacts of a map where one slip does harm, worst first: by what it does, then by volts, then by amperes. */
export const hazardsOf = ({ railNames, aliases }: Machine, pins: PinMap): readonly Hazard[] =>
  hazardsIn(pins, railNames, aliases);

const hazardsIn = keeping((pins: PinMap, rails: RailNames, aliases: ReadonlySet<string>): Hazard[] => {
  const hazards: Hazard[] = [];
  const named: Names = { rails, aliases };
  for (const [a, b] of neighboursOf(pins.connector)) {
    if (pins.pulled.has(a) || pins.pulled.has(b)) continue;
    const [one, other] = [pins.claims[a], pins.claims[b]];
    if (one === undefined || other === undefined) continue;
    const hazard =
      one.kind === 'rail' ? hazardAt(named, one, other, a, b) : hazardAt(named, other, one, b, a);
    if (hazard) hazards.push(hazard);
  }
  const place = ({ slip }: Hazard): number => ORDER.indexOf(slip);
  return hazards.sort(
    (x, y) => place(x) - place(y) || y.volts - x.volts || (y.amps ?? 0) - (x.amps ?? 0) || x.rail - y.rail,
  );
});

/** What names say of the whole machine. */
interface Names {
  readonly rails: RailNames;
  readonly aliases: ReadonlySet<string>;
}

/**
 * Contacts side by side in a row, and back to back or across where rows lie as close: on edges, pin headers and
 * DIN connectors. The rows of D-shells are staggered, those of DIP plugs apart.
 */
export function* neighboursOf(connector: Connector): Iterable<readonly [number, number]> {
  const { shape, row, position, labels } = connector;
  const close = shape === 'edge' || shape === 'header' || shape === 'din';
  const at = new Map<string, number>();
  for (let i = 0; i < labels.length; i++) at.set(`${row[i]} ${position[i]}`, i);
  for (let i = 0; i < labels.length; i++) {
    const beside = at.get(`${row[i]} ${position[i]! + 1}`);
    const across = close ? at.get(`${row[i]! + 1} ${position[i]}`) : undefined;
    if (beside !== undefined) yield [i, beside];
    if (across !== undefined) yield [i, across];
  }
}

function hazardAt(
  { rails, aliases }: Names,
  rail: Claim,
  claim: Claim,
  a: number,
  b: number,
): Hazard | undefined {
  if (rail.kind !== 'rail' || rail.name === claim.name || rail.aliases.includes(claim.name)) return undefined;
  if (aliases.has(`${rail.name}\n${claim.name}`)) return undefined;
  const span = spanOf(rails, rail.name);
  if (span === undefined) return undefined;
  const ends = { rail: a, other: b };
  const amps = ampsOf(rails, [rail.name, claim.name]);
  if (claim.kind === 'ground') return { slip: 'ground', ...ends, volts: most(span), ...amps };
  if (claim.kind === 'signal') {
    const harms = span.high > LOGIC_MOST || span.low < LOGIC_LEAST;
    return harms ? { slip: 'logic', ...ends, volts: most(span), ...amps } : undefined;
  }
  const other = claim.kind === 'rail' ? spanOf(rails, claim.name) : undefined;
  // Rails of one voltage do no harm to each other.
  if (other === undefined || (other.low === span.low && other.high === span.high)) return undefined;
  const volts = Math.max(Math.abs(span.high - other.low), Math.abs(other.high - span.low));
  return { slip: 'rails', ...ends, volts, ...amps };
}

const most = ({ low, high }: Pick<Rail, 'low' | 'high'>): number => Math.max(Math.abs(low), Math.abs(high));

/** V at least and at most of all rails of a name, as declared, else as the name says. */
function spanOf({ rails: declared }: RailNames, name: string): { low: number; high: number } | undefined {
  const rails = declared.get(name) ?? [];
  const spelled = voltsOfName(name);
  if (rails.length === 0) return spelled === undefined ? undefined : { low: spelled, high: spelled };
  // What a bus allows is wider than what the supply of this machine gives.
  const given = rails.filter(({ max }) => max !== undefined);
  const list = given.length > 0 ? given : rails;
  return { low: Math.min(...list.map(({ low }) => low)), high: Math.max(...list.map(({ high }) => high)) };
}

function ampsOf({ rails }: RailNames, names: readonly string[]): { amps?: number } {
  const ratings = names.flatMap((name) => (rails.get(name) ?? []).flatMap(({ max }) => max ?? []));
  return ratings.length === 0 ? {} : { amps: Math.max(...ratings) };
}
