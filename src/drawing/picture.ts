import type { Severity } from '../checks/types.ts';
import type { EvidenceKind } from '../machine/types.ts';
import type { Group } from './line-groups.ts';

/** A place in a file, as plain data: what is drawn outlives the text it was drawn from. Offsets in characters. */
export interface Spot {
  readonly file: string;
  readonly from: number;
  readonly to: number;
}

/**
 * What the board in a slot does on a line. `stops`: a chain comes in and is not handed on. `bridge`: nothing sits there,
 * or it leaves the chain alone, and copper hands it on. `open`: the slot is empty. `unknown`: nobody has said.
 */
export type Role =
  | 'takes'
  | 'makes'
  | 'ground'
  | 'drives'
  | 'receives'
  | 'both'
  | 'pulls'
  | 'starts'
  | 'passes'
  | 'bridge'
  | 'stops'
  | 'unknown'
  | 'untouched'
  | 'open';

/** Where a line meets a slot. */
export interface Crossing {
  /** The slot's contacts, as `3 C`. */
  readonly contacts: string;
  readonly role: Role;
  /** The weakest of what is said of the contact and of the board's part in it. */
  readonly evidence: EvidenceKind | undefined;
  /** A that the board takes of a rail. */
  readonly amps?: number;
  /** The word of a resistor that the board itself has on the line. */
  readonly bias?: 'terminate' | 'pull-up' | 'pull-down';
  /** The worst finding that names this crossing. */
  readonly finding?: Severity;
  /** The statement that says so. */
  readonly spot: Spot;
  /** The net it is on. */
  readonly net: number;
}

/** A resistor network, or a rail that arrives, in the gap before slot `gap` (from 0); behind the last slot it is the count. */
export interface EndMark {
  readonly kind: 'terminate' | 'pull-up' | 'pull-down' | 'feed';
  readonly gap: number;
  /** `220 ohm to +5V, 330 ohm to GND`, `from PSU` */
  readonly text: string;
  readonly guess: boolean;
  readonly spot: Spot;
}

/** One line of the bus through its slots. */
export interface LineRow {
  readonly name: string;
  /** `1 A 22 Z`, or `14 > 15` for a chain. */
  readonly contacts: string;
  readonly group: Group;
  readonly crossings: readonly (Crossing | undefined)[];
  /** Whether copper leads from slot i to slot i + 1. */
  readonly links: readonly boolean[];
  readonly chain: boolean;
  readonly ends: readonly EndMark[];
  /** Contacts elsewhere on the same net: `CPU.J2.8`. */
  readonly beyond: readonly string[];
  readonly spot: Spot | undefined;
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
}
