import type { Quantity } from './tree.ts';

/** What a unit measures; the name by which an attribute without a word of its own goes. */
export type Dimension =
  | 'voltage'
  | 'current'
  | 'resistance'
  | 'length'
  | 'gauge'
  | 'percent'
  | 'capacitance'
  | 'time'
  | 'capacitance per length'
  | 'inductance per length'
  | 'delay';

interface Unit {
  readonly dimension: Dimension;
  /** What to multiply by to get SI units (percent: a fraction; gauge: AWG number). */
  readonly factor: number;
}

const unit = (dimension: Dimension, factor: number): Unit => ({ dimension, factor });

/** Every unit, in its canonical spelling. */
export const units: ReadonlyMap<string, Unit> = new Map(
  Object.entries({
    V: unit('voltage', 1),
    mV: unit('voltage', 1e-3),
    A: unit('current', 1),
    mA: unit('current', 1e-3),
    uA: unit('current', 1e-6),
    mohm: unit('resistance', 1e-3),
    ohm: unit('resistance', 1),
    kohm: unit('resistance', 1e3),
    megohm: unit('resistance', 1e6),
    mm: unit('length', 1e-3),
    cm: unit('length', 1e-2),
    m: unit('length', 1),
    in: unit('length', 0.0254),
    mil: unit('length', 0.0254e-3),
    AWG: unit('gauge', 1),
    '%': unit('percent', 0.01),
    pF: unit('capacitance', 1e-12),
    nF: unit('capacitance', 1e-9),
    ns: unit('time', 1e-9),
    'pF/cm': unit('capacitance per length', 1e-10),
    'nH/cm': unit('inductance per length', 1e-7),
    'ns/m': unit('delay', 1e-9),
  }),
);

/** Other spellings that mean the same without doubt; the formatter writes the canonical one. */
const spellings: ReadonlyMap<string, string> = new Map(
  Object.entries({
    // Greek omega and the ohm sign; micro sign and Greek mu.
    '\u03a9': 'ohm',
    '\u2126': 'ohm',
    'm\u03a9': 'mohm',
    'm\u2126': 'mohm',
    'k\u03a9': 'kohm',
    'k\u2126': 'kohm',
    '\u00b5A': 'uA',
    '\u03bcA': 'uA',
  }),
);

/** Spellings that are wrong or could be two things, with what was most likely meant. */
const mistakes: ReadonlyMap<string, string> = new Map(
  Object.entries({
    v: 'V',
    volt: 'V',
    volts: 'V',
    Volt: 'V',
    Volts: 'V',
    mv: 'mV',
    a: 'A',
    amp: 'A',
    amps: 'A',
    ma: 'mA',
    MA: 'mA',
    ua: 'uA',
    UA: 'uA',
    R: 'ohm',
    E: 'ohm',
    Ohm: 'ohm',
    ohms: 'ohm',
    Ohms: 'ohm',
    OHM: 'ohm',
    K: 'kohm',
    k: 'kohm',
    Kohm: 'kohm',
    KOhm: 'kohm',
    kOhm: 'kohm',
    kohms: 'kohm',
    Mohm: 'megohm',
    MOhm: 'megohm',
    'M\u03a9': 'megohm',
    'M\u2126': 'megohm',
    M: 'megohm',
    MM: 'mm',
    inch: 'in',
    mils: 'mil',
    thou: 'mil',
    inches: 'in',
    awg: 'AWG',
    pf: 'pF',
    PF: 'pF',
    nS: 'ns',
    nsec: 'ns',
    pct: '%',
    percent: '%',
  }),
);

/** The canonical spelling of a unit as written, or undefined where it is none of ours. */
export function canonicalUnit(written: string): string | undefined {
  if (units.has(written)) return written;
  return spellings.get(written);
}

/** The unit most likely meant by one that is wrong. */
export function likelyUnit(written: string): string | undefined {
  return mistakes.get(written) ?? mistakes.get(written.toLowerCase());
}

/** What the quantity measures; undefined where its unit is missing or wrong. */
export function dimensionOf(quantity: Quantity): Dimension | undefined {
  const canonical = canonicalUnit(quantity.unit);
  return canonical === undefined ? undefined : units.get(canonical)?.dimension;
}

const CODE = /^([kKMRE])(\d+)$/;

/** `4k7` reads as the number 4 with the unit k7: a resistor's printed code, which means 4.7 kohm. */
export function printedCode({ low, unit }: Quantity): { low: string; unit: string } | undefined {
  const found = CODE.exec(unit);
  const meant = found ? likelyUnit(found[1] as string) : undefined;
  return found && meant ? { low: `${low}.${found[2]}`, unit: meant } : undefined;
}

/**
 * A quantity in SI units. A unit that is misspelt counts as the one that was meant; where it is missing, unknown or
 * measures something else, nothing is known.
 */
export function measure(quantity: Quantity, dimension: Dimension): { low: number; high: number } | undefined {
  const code = printedCode(quantity);
  if (code !== undefined) return measure({ ...quantity, ...code }, dimension);
  const spelled = canonicalUnit(quantity.unit) ?? likelyUnit(quantity.unit);
  const known = spelled === undefined ? undefined : units.get(spelled);
  if (known?.dimension !== dimension) return undefined;
  const low = Number(quantity.low) * known.factor;
  return { low, high: quantity.high === undefined ? low : Number(quantity.high) * known.factor };
}

/** An example of each dimension, for messages. */
export const examples: Readonly<Record<Dimension, string>> = {
  voltage: '5 V',
  current: '850 mA',
  resistance: '220 ohm',
  length: '300 mm',
  gauge: '28 AWG',
  percent: '2 %',
  capacitance: '60 pF',
  time: '12 ns',
  'capacitance per length': '1.7 pF/cm',
  'inductance per length': '6 nH/cm',
  delay: '6.5 ns/m',
};

/** The unit that a number without one most likely has. */
export const usual: Readonly<Record<Dimension, string>> = {
  voltage: 'V',
  current: 'A',
  resistance: 'ohm',
  length: 'mm',
  gauge: 'AWG',
  percent: '%',
  capacitance: 'pF',
  time: 'ns',
  'capacitance per length': 'pF/cm',
  'inductance per length': 'nH/cm',
  delay: 'ns/m',
};
