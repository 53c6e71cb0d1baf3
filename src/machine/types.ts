/**
 * The machine: what the text says of the metal, as plain data built once per change. Units are SI.
 *
 * A **node** is a place where copper is: first all contacts of all connector instances (so a contact's id is its
 * node), then what lies between them: the line of a bus through its slots, a name on a board, a ribbon conductor, a
 * rail of a supply, a chip's pin. A **join** connects two nodes. A **net** is what joins connect.
 */

import type { OwnParts } from './parts.ts';

/** A place in a file. Its offsets follow the text while the statement that it is in stays: read them, copy them not. */
export interface Source {
  readonly file: string;
  readonly from: number;
  readonly to: number;
}

export type EvidenceKind = 'silkscreen' | 'trace' | 'meter' | 'manual' | 'guess';

/** How something is known. Undefined `kind`: not said. */
export interface Evidence {
  readonly kind?: EvidenceKind;
  readonly date?: string;
  readonly note?: string;
  readonly photo?: string;
}

export type ClaimKind = 'rail' | 'ground' | 'signal' | 'spare' | 'unknown' | 'private';

/** What somebody says a contact is. One object a table entry and contact; boards of one card share it. */
export interface Claim {
  readonly kind: ClaimKind;
  /** Empty for spare, unknown and unnamed private contacts. */
  readonly name: string;
  readonly evidence: Evidence;
  readonly source: Source;
  readonly aliases: readonly string[];
  readonly wiredOr: boolean;
  /** A line on whose edges something happens. */
  readonly clock: boolean;
  readonly strobe: boolean;
  readonly private: boolean;
  /** Where it is said: the bus or the card. */
  readonly owner: string;
  /** Slots in which it holds; everywhere where undefined. */
  readonly slots: ReadonlySet<string> | undefined;
}

export type Shape = 'edge' | 'header' | 'row' | 'dip' | 'dshell' | 'din';

/** A kind of connector. Contacts are known by their index in `labels`. */
export interface Connector {
  readonly name: string;
  readonly shape: Shape;
  readonly rows: number;
  readonly positions: number;
  readonly labels: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  /** Row (from 0) and position (from 0) of each contact. */
  readonly row: Uint16Array;
  readonly position: Uint16Array;
  /** Contact that ribbon conductor k (from 0) meets; undefined where the order must be declared and is not. */
  readonly conductors?: readonly number[];
  /** m */
  readonly pitch?: number;
  /** A and ohm of one contact. */
  readonly rating?: number;
  readonly resistance?: number;
  readonly ends?: 'open' | 'closed';
  readonly keys: readonly (readonly [number, number])[];
  readonly pulled: ReadonlySet<number>;
  readonly plugged: ReadonlySet<number>;
  readonly shroud?: 'plain' | 'notch';
  readonly bump: boolean;
  readonly source: Source;
}

/** What each contact of a connector is said to be; undefined where nothing is said. */
export interface PinMap {
  readonly connector: Connector;
  readonly claims: readonly (Claim | undefined)[];
  /** Claims that the owner of the map makes itself, beyond those it takes over from its bus. */
  readonly own: readonly (Claim | undefined)[];
  readonly keys: readonly (readonly [number, number])[];
  readonly pulled: ReadonlySet<number>;
  readonly plugged: ReadonlySet<number>;
  readonly ends?: Connector['ends'];
  readonly shroud?: Connector['shroud'];
  readonly bump: boolean;
}

export interface Chain {
  readonly name: string;
  readonly outName: string;
  readonly input: number;
  readonly output: number;
  readonly claim: Claim;
}

export interface Rail {
  readonly name: string;
  /** V, signed; a range where low ≠ high. */
  readonly low: number;
  readonly high: number;
  /** Fraction either way. */
  readonly tolerance?: number;
  /** V, A, A */
  readonly peak?: number;
  readonly max?: number;
  readonly min?: number;
  readonly ac: boolean;
  readonly owner: string;
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Bus {
  readonly name: string;
  readonly pins: PinMap;
  /** The map of every edge that was made for this bus and says nothing of its own. */
  readonly taken: PinMap;
  readonly chains: readonly Chain[];
  readonly source: Source;
}

/** Where something is declared, and how it is known. */
export interface Declared {
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Supply {
  readonly name: string;
  readonly rails: readonly Rail[];
  readonly grounds: readonly string[];
  /** The line that declares each ground. */
  readonly groundLines: ReadonlyMap<string, Declared>;
  /** Names of rails in the order they come up; undefined where not said. */
  readonly order?: readonly string[];
  readonly ports: readonly Port[];
  readonly source: Source;
}

/** A connector on a card, backplane or supply, or an edge (then with the bus it was made for). */
export interface Port {
  readonly name: string;
  readonly pins: PinMap;
  readonly bus?: Bus;
  readonly source: Source;
}

export type UseKind = 'drives' | 'transceives' | 'receives' | 'pulls' | 'starts' | 'passes' | 'untouched';
export type Output = 'three-state' | 'totem-pole' | 'open-collector';

/** What a card does on a line. */
export interface CardUse {
  readonly kind: UseKind;
  readonly name: string;
  readonly part: string | undefined;
  /** Where its name stands. */
  readonly partSource: Source | undefined;
  readonly count: number;
  readonly output: Output | undefined;
  /** Port or edge it is said of. */
  readonly at: string | undefined;
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Take {
  readonly rail: string;
  /** A; undefined where not said. */
  readonly current?: number;
  readonly peak?: number;
  readonly at?: string;
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Make {
  readonly rail: string;
  readonly from: string;
  readonly part: string | undefined;
  readonly partSource: Source | undefined;
  readonly count: number;
  readonly volts?: number;
  readonly max?: number;
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Chip {
  readonly names: readonly string[];
  readonly part: string;
  readonly partSource: Source | undefined;
  readonly needs: readonly { readonly rail: string; readonly current: number; readonly each: boolean }[];
  readonly source: Source;
}

export interface Resistor {
  readonly ohms: number;
  readonly rail: string;
}

/** A terminator or pull-up as said: on these names, with these legs. */
export interface Bias {
  readonly word: 'terminate' | 'pull-up' | 'pull-down';
  readonly names: readonly { readonly name: string; readonly source: Source }[];
  readonly legs: readonly Resistor[];
  readonly place?: { readonly word: 'after' | 'before' | 'at'; readonly of: string };
  readonly as?: string;
  readonly evidence: Evidence;
  readonly source: Source;
}

/** A wire, strap or cut on a card or board, by the names in the text. */
export interface Rework {
  readonly kind: 'wire' | 'strap' | 'cut';
  readonly places: readonly { readonly place: string; readonly source: Source }[];
  readonly between?: readonly [string, string];
  readonly evidence: Evidence;
  readonly source: Source;
}

export interface Card {
  readonly name: string;
  readonly title: string;
  readonly edges: readonly Port[];
  readonly ports: readonly Port[];
  /** Another list in the machine's next version, where a card stays the same object while these lines change. */
  uses: readonly CardUse[];
  readonly takes: readonly Take[];
  readonly makes: readonly Make[];
  readonly chips: readonly Chip[];
  readonly biases: readonly Bias[];
  readonly rework: readonly Rework[];
  /** Whether everything not mentioned is known to be untouched. */
  readonly closed: boolean;
  readonly source: Source;
}

/** One board: a card in the hand. */
export interface Board {
  readonly name: string;
  readonly card: Card;
  readonly slot?: Slot;
  readonly date?: { readonly text: string; readonly source: Source };
  readonly without: ReadonlySet<string>;
  readonly rework: readonly Rework[];
  /** Instances of its edges and ports. */
  readonly instances: Instance[];
  readonly source: Source;
}

export interface Slot {
  readonly label: string;
  /** Place in the row of slots, from 0. */
  readonly index: number;
  readonly backplane: Backplane;
  /** One instance a bus that the slot carries. */
  readonly instances: Instance[];
  readonly selfBridging: boolean;
  readonly guides: boolean;
  /** Said to be empty, to hold a board, or nothing said. */
  state: 'unsaid' | 'empty' | 'fitted';
  board?: Board;
  bridges: readonly { readonly name: string; readonly source: Source }[];
  readonly pitch?: number;
  /** The line of the backplane that says what it carries. */
  readonly described: Source;
  /** Where the slot is described: its line in `fitted`, else in the backplane. */
  source: Source;
}

export interface Feed {
  readonly rail: string;
  readonly supply: Supply;
  readonly contacts: readonly { readonly instanceBus: Bus; readonly contact: number }[];
  /** Said to arrive by lugs, bus bar or the like: not limited by contacts. */
  readonly hardware?: string;
  readonly evidence: Evidence;
  readonly source: Source;
}

/** Electrical data of bare lines: ohm, F/m, H/m, s/m. */
export interface LineData {
  readonly names: readonly string[];
  readonly impedance?: number;
  readonly capacitance?: number;
  readonly inductance?: number;
  readonly delay?: number;
  readonly source: Source;
}

export interface Backplane {
  readonly name: string;
  readonly slots: Slot[];
  readonly buses: readonly { readonly place: string; readonly bus: Bus }[];
  readonly feeds: Feed[];
  readonly biases: readonly Bias[];
  readonly rework: readonly Rework[];
  readonly lines: readonly LineData[];
  readonly ports: readonly Port[];
  readonly portInstances: Instance[];
  /** Whether a `fitted` block says what sits in it. */
  described: boolean;
  readonly source: Source;
}

export type InstanceKind = 'slot' | 'edge' | 'port' | 'backplane port' | 'supply port';

/** One connector in the machine: its contacts are nodes base … base + labels.length − 1. */
export interface Instance {
  readonly path: string;
  readonly kind: InstanceKind;
  readonly port: Port;
  readonly pins: PinMap;
  readonly base: number;
  readonly slot: Slot | undefined;
  readonly board: Board | undefined;
  readonly backplane: Backplane | undefined;
  readonly supply: Supply | undefined;
  /** Ribbon or cable ends plugged in here. */
  readonly plugs: { readonly name: string; readonly unplugged: boolean }[];
}

export interface RibbonEnd {
  readonly instance?: Instance;
  readonly place: string;
  /** Contact node that each conductor (from 0) meets; −1 where the conductor ends before, or its pin is missing. */
  readonly contacts: Int32Array;
  /** The same whether or not there is a pin: where the conductor is crimped. */
  readonly crimped: Int32Array;
  /** Conductor (from 0) that lies in each place across the ribbon here: twists on the way from the first end change it. */
  readonly order: readonly number[];
  readonly stripe?: string;
  readonly turned: boolean;
  readonly bump: boolean;
  readonly unplugged: boolean;
  /** m along the ribbon from its first end. */
  readonly along?: number;
  readonly source: Source;
}

/** One wire of a cable, by the contacts it is said to lead to: also one that is pulled or plugged, which it meets not. */
export interface Wire {
  readonly a: number;
  readonly b: number;
  readonly source: Source;
}

export interface Ribbon {
  readonly name: string;
  readonly kind: 'ribbon' | 'cable';
  readonly conductors: number;
  readonly gauge?: number;
  readonly length?: number;
  readonly impedance?: number;
  readonly rigid: boolean;
  readonly ends: readonly RibbonEnd[];
  /** Of a cable, in the order of the text. */
  readonly wires: readonly Wire[];
  /** Node of the first conductor; a cable's wires have none. */
  readonly base: number;
  readonly source: Source;
}

/** What a board does on a line, in its place: on which node. */
export interface Use {
  readonly board: Board;
  readonly card: CardUse;
  readonly node: number;
}

/** A terminator or pull-up in its place. */
export interface Biasing {
  readonly bias: Bias;
  readonly name: string;
  readonly node: number;
  readonly board?: Board;
  readonly backplane?: Backplane;
  readonly source: Source;
}

/** A place where current of a rail comes from: a supply's output or a regulator's. */
export interface RailSource {
  readonly kind: 'supply' | 'regulator';
  readonly node: number;
  readonly rail: string;
  /** V, signed: at least and at most. */
  readonly low: number;
  readonly high: number;
  /** `PSU`, or the board that the regulator sits on. */
  readonly owner: string;
  readonly ac: boolean;
  readonly declared?: Rail;
  readonly board?: Board;
  readonly make?: Make;
  readonly source: Source;
}

/** A ground of a supply in its place: where the current of its rails returns. */
export interface SupplyGround {
  readonly supply: Supply;
  readonly name: string;
  readonly node: number;
}

export interface Reading {
  readonly from: number;
  readonly to: number;
  readonly fromText: string;
  readonly toText: string;
  readonly open: boolean;
  readonly ohms?: number;
  readonly volts?: number;
  readonly diode: boolean;
  readonly leads: number;
  readonly cards?: 'in' | 'out';
  readonly power?: 'on' | 'off';
  readonly evidence: Evidence;
  readonly source: Source;
}

export type JoinKind =
  | 'bus'
  | 'chain'
  | 'finger'
  | 'board'
  | 'wire'
  | 'strap'
  | 'bridge'
  | 'ribbon'
  | 'cable'
  | 'feed'
  | 'ground'
  | 'supply'
  | 'reading';

/** Joins as parallel arrays: `from[i]` and `to[i]` are nodes, `cause[i]` indexes `causes`. */
export interface Joins {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly cause: Int32Array;
  readonly causes: readonly {
    readonly kind: JoinKind;
    readonly source: Source;
    readonly evidence: Evidence;
  }[];
}

/** Which node is on which net, and the nodes of each net: `members[start[n] … start[n + 1])`. */
export interface Nets {
  readonly count: number;
  readonly of: Int32Array;
  readonly start: Int32Array;
  readonly members: Int32Array;
}

/** What makes a name a rail or a ground, over the whole machine. */
export interface RailNames {
  readonly grounds: ReadonlyMap<string, number>;
  readonly rails: ReadonlyMap<string, readonly Rail[]>;
  /** Sense leads: at the voltage of what they watch, but no way for its current. */
  readonly senses: ReadonlySet<string>;
}

/** Something the text gets wrong that shows only once it is put together. */
export interface MachineProblem {
  readonly rule: string;
  readonly severity?: 'error' | 'warning' | 'question' | 'note';
  readonly message: string;
  readonly source: Source;
  readonly related?: readonly { readonly source: Source; readonly message: string }[];
  readonly fix?: { readonly title: string; readonly text: string; readonly source: Source };
}

export interface Allowance {
  readonly rule: string;
  readonly places: readonly string[];
  readonly source: Source;
}

export interface Machine {
  /** The same object from version to version as long as all stays that has a say in how the current of rails flows. */
  readonly flow: object;
  readonly files: readonly string[];
  readonly title: string;
  readonly supplies: readonly Supply[];
  readonly connectors: readonly Connector[];
  readonly buses: readonly Bus[];
  readonly backplanes: readonly Backplane[];
  readonly cards: readonly Card[];
  readonly boards: readonly Board[];
  readonly ribbons: readonly Ribbon[];
  readonly instances: readonly Instance[];
  readonly railNames: RailNames;
  readonly busRails: readonly Rail[];
  readonly uses: readonly Use[];
  readonly biasings: readonly Biasing[];
  readonly railSources: readonly RailSource[];
  /** Node of each name on a board that is not simply the one contact of that name: its rails, and what is inside it. */
  readonly boardNames: ReadonlyMap<Board, ReadonlyMap<string, number>>;
  readonly supplyGrounds: readonly SupplyGround[];
  readonly readings: readonly Reading[];
  readonly allowances: readonly Allowance[];
  readonly ownParts: OwnParts;
  readonly activeLow: ReadonlySet<string>;
  /** Pairs of names declared to be one (aliases, straps), in either order: `a\nb`. */
  readonly aliases: ReadonlySet<string>;
  readonly contactCount: number;
  readonly nodeCount: number;
  /** Name of each node past the contacts, by node − contactCount. */
  readonly nodeNames: readonly string[];
  readonly joins: Joins;
  readonly nets: Nets;
  readonly problems: readonly MachineProblem[];
}
