import type { Finding, Severity } from '../checks/types.ts';
import type { EvidenceKind } from '../machine/types.ts';
import type { Group } from './line-groups.ts';

/** A place in a file, as plain data: what is drawn outlives the text it was drawn from. Offsets in characters. */
export interface Spot {
  readonly file: string;
  readonly from: number;
  readonly to: number;
}

/**
 * What the board in a slot does on a line, by the copper of its fingers there. `holds`: nothing but a resistor. `stops`: a
 * chain comes in and is not handed on, and a slot behind waits for it. `bridge`: nothing sits there, or it leaves the
 * chain alone, and copper hands it on. `open`: the slot is empty. `unknown`: nobody has said.
 */
export type Role =
  | 'takes'
  | 'makes'
  | 'ground'
  | 'drives'
  | 'receives'
  | 'both'
  | 'pulls'
  | 'holds'
  | 'starts'
  | 'passes'
  | 'bridge'
  | 'stops'
  | 'unknown'
  | 'untouched'
  | 'open';

/**
 * A picture without what only its maker needs: the places in files that it was made from. This much travels to a page,
 * and this much is drawn.
 */
export type Drawn<T> = T extends readonly unknown[]
  ? { readonly [I in keyof T]: Drawn<T[I]> }
  : T extends object
    ? { readonly [K in keyof T as K extends 'spot' | 'origin' ? never : K]: Drawn<T[K]> }
    : T;

/** What a crossing was made from. */
export interface Origin {
  /** The slot's contacts, as `3 C`. */
  readonly contacts: string;
  /** The statements that say what happens there, and what each contact is; the one to go to first. */
  readonly spots: readonly [Spot, ...Spot[]];
  /** Index of its net in the machine; of a chain's in contact, and then of its out. */
  readonly net: number;
  readonly out?: number;
  /** What is found there. */
  readonly findings: readonly Finding[];
}

/** The contact of a machine, as its node, that a drawn one is. */
export interface ContactOrigin {
  readonly contact: number;
}

/** Where a line meets a slot. */
export interface Crossing {
  readonly role: Role;
  /** The weakest of what is said of the contact and of the board's part in it. */
  readonly evidence: EvidenceKind | undefined;
  /**
   * A that the board takes, below zero what it gives; undefined where nobody knows. Of a rail, whatever its polarity, what
   * its `takes` says, and to a rail that it makes, what others take. On a line while it is low: what the board's driver
   * must sink at worst, or else what its inputs and resistors give. How it divides among lines that the board itself
   * joins, nobody knows.
   */
  readonly amps?: number;
  /** The last reading at its contacts, the slot's or the board's, in a few characters: `5.02V`, `470` ohm, `open`. */
  readonly reading?: string;
  /** The words of the resistors that the board itself has on the line. */
  readonly biases?: readonly ('terminate' | 'pull-up' | 'pull-down')[];
  /** The worst finding that names this crossing. */
  readonly finding?: Severity;
  /** Crossings with one number are on one net; counted through the picture. */
  readonly net: number;
  /** The same of a chain's out contact, where it is on another net than its in. */
  readonly out?: number;
  readonly origin: Origin;
}

/**
 * A place in a picture, counted from 0. In a bus: a line, and 0 for the gap before the first slot, 1 for that slot, 2
 * for the next gap, and so on; row `HEAD` for the slots' names, column `HEAD` for a line's name. On a connector: row and
 * column of its face. On a ribbon: a conductor and an end; row `HEAD` for the ends, column `HEAD` for the conductor.
 */
export interface Cell {
  readonly row: number;
  readonly column: number;
}

export const HEAD = -1;

/** The column of a slot, and of a gap (from 0, before the slot of that number), in a bus. */
export const columnOf = (slot: number): number => 2 * slot + 1;
export const columnOfGap = (gap: number): number => 2 * gap;

/** A finding that concerns what is drawn. */
export interface DrawnFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly cells: readonly Cell[];
}

/** A resistor network, or a rail that arrives, in the gap before slot `gap` (from 0); behind the last slot it is the count. */
export interface EndMark {
  readonly kind: 'terminate' | 'pull-up' | 'pull-down' | 'feed';
  readonly gap: number;
  /** On which side of the gap, where the line is cut there. */
  readonly side?: 'left' | 'right';
  /** `220 ohm to +5V, 330 ohm to GND`, `from PSU` */
  readonly text: string;
  readonly guess: boolean;
  readonly spot: Spot;
  /** The worst finding that is about it. */
  readonly finding?: Severity;
  readonly origin: { readonly findings: readonly Finding[] };
}

/** One line of the bus through its slots. */
export interface LineRow {
  readonly name: string;
  /** `1 A 22 Z`, or `14 > 15` for a chain. */
  readonly contacts: string;
  readonly group: Group;
  readonly crossings: readonly (Crossing | undefined)[];
  /** Whether the trace leads past the gap between slot i and slot i + 1, whatever else joins the two. */
  readonly links: readonly boolean[];
  readonly chain: boolean;
  readonly ends: readonly EndMark[];
  /** Contacts elsewhere on the same net: `CPU.J2.8`. */
  readonly beyond: readonly string[];
  readonly spot: Spot | undefined;
  /** The worst of what is found on the line as a whole. */
  readonly finding?: Severity;
  readonly origin: { readonly findings: readonly Finding[] };
}

export interface SlotColumn {
  readonly label: string;
  /** The board's name; empty where the slot holds none. */
  readonly board: string;
  readonly state: 'unsaid' | 'empty' | 'fitted';
  readonly spot: Spot;
}

/** A bus through the slots of a backplane, as it is drawn. Plain data. */
export interface BusPicture {
  readonly title: string;
  readonly backplane: string;
  readonly bus: string;
  readonly slots: readonly SlotColumn[];
  readonly lines: readonly LineRow[];
  /** The worst first. */
  readonly findings: readonly DrawnFinding[];
}
