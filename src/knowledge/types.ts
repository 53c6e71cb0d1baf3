/**
 * Shapes of the knowledge tables. Units are SI throughout: volts, amperes, ohms, metres, seconds.
 * Currents are magnitudes; the field's name says which way they flow.
 */

/** One point of an output's curve: `current` A at `voltage` V. */
export interface OutputPoint {
  readonly current: number;
  readonly voltage: number;
}

export type OutputKind = 'totem-pole' | 'three-state' | 'open-collector';

export interface LogicInput {
  /** A that flow out of the input and must be sunk while it is held low (|I_IL|). */
  readonly low: number;
  /** A that flow into the input while it is held high (I_IH). */
  readonly high: number;
  /** V, absolute maximum and minimum at the pin. */
  readonly max: number;
  readonly min: number;
}

export interface LogicOutput {
  readonly kind: OutputKind;
  /** Sink points, weakest first: A sunk at no more than this V_OL. */
  readonly low: readonly OutputPoint[];
  /** Source points, weakest first: A given at no less than this V_OH. Empty for an open collector. */
  readonly high: readonly OutputPoint[];
  /** A of leakage when off (I_OZ, or I_OH of an open collector): while the line is low, and while it is high. */
  readonly offLow: number;
  readonly offHigh: number;
  /** V, the most the output withstands from outside. */
  readonly max: number;
}

/** Every field's value comes from `source`; a value from memory says so there. */
export interface Family {
  readonly name: string;
  readonly title: string;
  readonly supply: { readonly min: number; readonly max: number; readonly absolute: number };
  readonly input: LogicInput;
  readonly output: LogicOutput;
  readonly source: string;
}

/** A rail a part needs: its nominal V, the A it draws at most (where published). */
export interface PartRail {
  readonly volts: number;
  readonly current?: number;
}

/** A chip: what its pins do to a line, and the rails it needs. */
export interface Part {
  readonly name: string;
  readonly title: string;
  readonly family?: string;
  readonly input?: LogicInput;
  readonly output?: LogicOutput;
  readonly rails?: readonly PartRail[];
  /** V of the rail that its maker wants on first and off last; `binding` where the maker demands it. */
  readonly first?: { readonly volts: number; readonly binding: boolean };
  readonly source: string;
}

/** A linear regulator. `output` is signed; undefined where the circuit around it sets it. */
export interface Regulator {
  readonly name: string;
  readonly title: string;
  readonly polarity: 1 | -1;
  readonly output?: number;
  /** V between input and output that it needs at its rated current. */
  readonly dropout: number;
  /** V, the most its input stands (magnitude). */
  readonly maxInput: number;
  /** A, its own rating. */
  readonly current: number;
  readonly source: string;
}
