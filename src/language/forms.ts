import type { Dimension } from './units.ts';

/** A kind of block: what its lines may be depends on it. */
export type BlockKind =
  | 'file'
  | 'supply'
  | 'connector'
  | 'bus'
  | 'backplane'
  | 'card'
  | 'edge'
  | 'port'
  | 'fitted'
  | 'board'
  | 'ribbon'
  | 'cable'
  | 'readings'
  | 'family'
  | 'part';

/**
 * One line form: the only place that says where it may stand, how it begins, which block it opens and how it is
 * written. Its id is the start rule in the grammar.
 */
export interface Form {
  readonly id: string;
  /** First word, or `=` for a line of a table. */
  readonly word: string;
  readonly blocks: readonly BlockKind[];
  readonly opens?: BlockKind;
  /** A form that may stand with or without its block. */
  readonly mayOpen?: BlockKind;
  /** A block has one such line only. */
  readonly once?: true;
  /** Attributes without which the line says nothing. */
  readonly needs?: readonly string[];
  /** What a quantity without a word before it may measure here. */
  readonly bare?: readonly Dimension[];
  /** What the quantity behind a word must measure here. */
  readonly keyed?: Readonly<Record<string, Dimension>>;
  /** Attributes that may be said more than once. */
  readonly repeats?: readonly string[];
  /** The order attributes are written in; those not named follow, evidence last. */
  readonly order?: readonly string[];
  /** Columns, counted from the indentation, at which subject and attributes start. */
  readonly stops: readonly number[];
  /** An example, as the language reference shows it. */
  readonly example: string;
  /** What it says, in one sentence. */
  readonly says: string;
}

const HEADER: readonly number[] = [];
const WORD = [10];
const TABLE = [14, 16, 30, 40];
const ACTION = [13, 32, 44];

/** Its id is its first word, where no other form begins with that. */
const table: readonly (Omit<Form, 'id'> & { readonly id?: string })[] = [
  {
    word: 'pinout',
    blocks: ['file'],
    once: true,
    stops: HEADER,
    example: 'pinout 1',
    says: 'the version of the language',
  },
  {
    word: 'title',
    blocks: ['file'],
    once: true,
    stops: HEADER,
    example: 'title "Tide-gauge station logger"',
    says: 'what the file describes',
  },
  {
    word: 'use',
    blocks: ['file'],
    order: ['published'],
    stops: HEADER,
    example: 'use published "ieee-696"',
    says: 'brings in another file, or a bus table that ships with the product',
  },
  {
    id: 'activelow',
    word: 'active-low',
    blocks: ['file'],
    stops: HEADER,
    example: 'active-low nRD, nWR',
    says: 'names whose leading n is an active-low mark',
  },
  {
    word: 'allow',
    blocks: ['file'],
    needs: ['at', 'text'],
    order: ['at', 'text'],
    stops: HEADER,
    example: 'allow rail-unused at +24V "spare winding, capped"',
    says: 'silences one finding, with the reason',
  },

  {
    word: 'supply',
    blocks: ['file'],
    opens: 'supply',
    order: ['text'],
    stops: HEADER,
    example: 'supply PSU {',
    says: 'a power supply and the rails it gives',
  },
  {
    word: 'connector',
    blocks: ['file'],
    opens: 'connector',
    order: ['text'],
    stops: HEADER,
    example: 'connector EDGE44 {',
    says: 'a kind of connector',
  },
  {
    word: 'bus',
    blocks: ['file'],
    opens: 'bus',
    needs: ['on'],
    order: ['on', 'text'],
    stops: HEADER,
    example: 'bus MAIN on EDGE44 {',
    says: 'what each contact of a bus is',
  },
  {
    word: 'backplane',
    blocks: ['file'],
    opens: 'backplane',
    order: ['text'],
    stops: HEADER,
    example: 'backplane CAGE {',
    says: 'slots, feeds, terminators and rework of a backplane',
  },
  {
    word: 'card',
    blocks: ['file'],
    opens: 'card',
    order: ['text'],
    stops: HEADER,
    example: 'card CPU "Processor" {',
    says: 'a kind of card',
  },
  {
    word: 'fitted',
    blocks: ['file'],
    opens: 'fitted',
    order: ['text'],
    stops: HEADER,
    example: 'fitted CAGE {',
    says: 'which board sits in which slot',
  },
  {
    word: 'loose',
    blocks: ['file'],
    mayOpen: 'board',
    order: ['as', 'text', 'date'],
    stops: HEADER,
    example: 'loose DISPLAY "behind the front panel"',
    says: 'a board outside any card cage',
  },
  {
    word: 'ribbon',
    blocks: ['file'],
    opens: 'ribbon',
    needs: ['way'],
    bare: ['gauge', 'length', 'resistance'],
    order: ['way', 'gauge', 'length', 'resistance', 'rigid', 'text'],
    stops: HEADER,
    example: 'ribbon W1 26 way 28 AWG {',
    says: 'a ribbon and its ends, in order along it',
  },
  {
    word: 'cable',
    blocks: ['file'],
    opens: 'cable',
    bare: ['gauge', 'length'],
    order: ['gauge', 'length', 'text'],
    stops: HEADER,
    example: 'cable C1 18 AWG 600 mm {',
    says: 'loose wires, as on a power harness',
  },
  {
    word: 'readings',
    blocks: ['file'],
    opens: 'readings',
    keyed: { leads: 'resistance' },
    order: ['date', 'cards', 'power', 'leads', 'text'],
    stops: HEADER,
    example: 'readings 2026-05-02 cards out power off leads 0.1 ohm {',
    says: 'what the meter said',
  },
  {
    word: 'family',
    blocks: ['file'],
    opens: 'family',
    order: ['text'],
    stops: HEADER,
    example: 'family 74XX {',
    says: 'a logic family of your own',
  },
  {
    id: 'parttable',
    word: 'part',
    blocks: ['file'],
    opens: 'part',
    order: ['text'],
    stops: HEADER,
    example: 'part 8T28 {',
    says: 'a part of your own',
  },

  {
    word: 'rail',
    blocks: ['supply', 'bus'],
    bare: ['voltage', 'percent'],
    keyed: { max: 'current', min: 'current', peak: 'voltage' },
    order: ['voltage', 'percent', 'peak', 'max', 'min', 'ac', 'text'],
    stops: [8, 15, 23, 29, 39],
    example: 'rail +5V 5 V 2 % max 12 A min 1 A',
    says: 'a rail: its voltage, tolerance and rating',
  },
  {
    word: 'ground',
    blocks: ['supply', 'bus'],
    stops: [8],
    example: 'ground GND, AGND',
    says: 'names of ground; several on one line are one ground',
  },
  {
    word: 'sense',
    blocks: ['supply'],
    needs: ['for'],
    order: ['for', 'text'],
    stops: [8, 15],
    example: 'sense S+ for +5V',
    says: 'a sense wire and the rail it watches',
  },
  {
    word: 'order',
    blocks: ['supply'],
    once: true,
    stops: [8],
    example: 'order -5V, +12V, +5V',
    says: 'the order in which the rails come up',
  },
  {
    word: 'strap',
    blocks: ['supply', 'backplane', 'card', 'board'],
    order: ['text'],
    stops: ACTION,
    example: 'strap +5V, +5VB',
    says: 'joins rails or names on purpose',
  },

  {
    word: 'shape',
    blocks: ['connector'],
    once: true,
    order: ['grid'],
    stops: WORD,
    example: 'shape edge 2 x 22',
    says: 'edge, header, row, dip, dshell or din, and its rows and positions',
  },
  {
    word: 'numbers',
    blocks: ['connector'],
    once: true,
    stops: WORD,
    example: 'numbers 1..22, A..Z',
    says: 'the labels of the contacts, row by row, or zigzag, or around',
  },
  {
    word: 'conductors',
    blocks: ['connector'],
    once: true,
    stops: WORD,
    example: 'conductors a1, b1, c1',
    says: 'which contact each ribbon conductor meets, in order',
  },
  {
    word: 'pitch',
    blocks: ['connector'],
    once: true,
    bare: ['length'],
    stops: WORD,
    example: 'pitch 3.96 mm',
    says: 'the distance between neighbouring contacts',
  },
  {
    word: 'contact',
    blocks: ['connector'],
    once: true,
    bare: ['current', 'resistance'],
    order: ['current', 'resistance'],
    stops: [10, 15],
    example: 'contact 3 A 20 mohm',
    says: 'the rating and the resistance of one contact',
  },
  {
    word: 'ends',
    blocks: ['connector', 'port'],
    once: true,
    stops: WORD,
    example: 'ends closed',
    says: 'whether the ends of the socket have walls',
  },
  {
    word: 'key',
    blocks: ['connector', 'edge', 'port'],
    needs: ['between'],
    order: ['between', 'text'],
    stops: WORD,
    example: 'key between 9, 10',
    says: 'a key, or the slot for it, between two contacts',
  },
  {
    word: 'shroud',
    blocks: ['connector', 'port'],
    once: true,
    order: ['notch', 'text'],
    stops: WORD,
    example: 'shroud notch',
    says: 'a wall round the pins, with or without a notch',
  },
  {
    word: 'pulled',
    blocks: ['connector', 'edge', 'port'],
    stops: WORD,
    example: 'pulled 20',
    says: 'contacts that are missing',
  },
  {
    word: 'plugged',
    blocks: ['connector', 'edge', 'port'],
    stops: WORD,
    example: 'plugged 20',
    says: 'contacts of the mating half that are blocked',
  },
  {
    word: 'bump',
    blocks: ['connector', 'port'],
    once: true,
    stops: WORD,
    example: 'bump',
    says: 'a polarising bump',
  },

  {
    id: 'entry',
    word: '=',
    blocks: ['bus', 'edge', 'port'],
    needs: ['is'],
    order: ['also', 'wired-or', 'clock', 'strobe', 'private', 'in', 'text'],
    stops: TABLE,
    example: '4..11 = D0..D7 by trace',
    says: 'what these contacts are',
  },

  {
    word: 'slots',
    blocks: ['backplane'],
    needs: ['on'],
    keyed: { pitch: 'length' },
    repeats: ['key'],
    order: ['on', 'pitch', 'guides', 'self-bridging', 'key', 'text'],
    stops: ACTION,
    example: 'slots 1..8 on MAIN pitch 25.4 mm guides',
    says: 'slots, the bus or buses they carry, their pitch and guides',
  },
  {
    word: 'feed',
    blocks: ['backplane'],
    needs: ['from', 'at'],
    order: ['from', 'at', 'text'],
    stops: ACTION,
    example: 'feed +5V from PSU at 2 by "lugs, bus bar"',
    says: 'at which contact of the bus a rail of a supply enters the backplane',
  },
  {
    word: 'terminate',
    blocks: ['backplane', 'card'],
    needs: ['legs'],
    order: ['legs', 'after', 'before', 'at', 'as', 'text'],
    stops: ACTION,
    example: 'terminate D0..D7 220 ohm to +5V, 330 ohm to GND after 8',
    says: 'terminators, and at which end or on which board',
  },
  {
    id: 'pullup',
    word: 'pull-up',
    blocks: ['backplane', 'card'],
    needs: ['legs'],
    order: ['legs', 'after', 'before', 'at', 'as', 'text'],
    stops: ACTION,
    example: 'pull-up /IRQ 1 kohm to +5V after 8',
    says: 'a resistor to a rail',
  },
  {
    id: 'pulldown',
    word: 'pull-down',
    blocks: ['backplane', 'card'],
    needs: ['legs'],
    order: ['legs', 'after', 'before', 'at', 'as', 'text'],
    stops: ACTION,
    example: 'pull-down SYNC 1 kohm to GND after 8',
    says: 'a resistor to ground',
  },
  {
    word: 'line',
    blocks: ['backplane'],
    bare: ['resistance', 'capacitance per length', 'inductance per length', 'delay'],
    order: ['resistance', 'capacitance per length', 'inductance per length', 'delay', 'text'],
    stops: ACTION,
    example: 'line 60 ohm 1.7 pF/cm',
    says: 'impedance of the bare backplane lines',
  },
  {
    word: 'wire',
    blocks: ['backplane', 'card', 'board'],
    needs: ['to'],
    bare: ['gauge', 'length'],
    order: ['to', 'gauge', 'length', 'text'],
    stops: ACTION,
    example: 'wire 1.19 to 2.19 by trace "blue wire-wrap"',
    says: 'a rework wire',
  },
  {
    word: 'cut',
    blocks: ['backplane', 'card', 'board'],
    order: ['between', 'text'],
    stops: ACTION,
    example: 'cut SYNC between 6, 7',
    says: 'a trace that is cut',
  },
  {
    word: 'port',
    blocks: ['supply', 'backplane', 'card'],
    opens: 'port',
    needs: ['on'],
    order: ['on', 'text'],
    stops: HEADER,
    example: 'port J1 on IDC26 {',
    says: 'a header or other connector',
  },

  {
    word: 'edge',
    blocks: ['card'],
    mayOpen: 'edge',
    needs: ['on'],
    order: ['on', 'text'],
    stops: ACTION,
    example: 'edge on MAIN',
    says: 'the edge connector and the bus it was made for',
  },
  {
    word: 'takes',
    blocks: ['card'],
    bare: ['current'],
    keyed: { peak: 'current' },
    order: ['current', 'peak', 'at', 'text'],
    stops: ACTION,
    example: 'takes +5V 2.6 A',
    says: 'all of a rail that enters the board',
  },
  {
    word: 'drives',
    blocks: ['card'],
    order: ['with', 'three-state', 'totem-pole', 'open-collector', 'at', 'text'],
    stops: ACTION,
    example: 'drives A0..A7 with 74LS244 three-state',
    says: 'lines the card drives',
  },
  {
    word: 'transceives',
    blocks: ['card'],
    order: ['with', 'three-state', 'totem-pole', 'open-collector', 'at', 'text'],
    stops: ACTION,
    example: 'transceives D0..D7 with 74LS245',
    says: 'lines the card drives and hears',
  },
  {
    word: 'receives',
    blocks: ['card'],
    order: ['with', 'at', 'text'],
    stops: ACTION,
    example: 'receives /IRQ with 74LS',
    says: 'lines the card hears',
  },
  {
    word: 'pulls',
    blocks: ['card'],
    order: ['with', 'at', 'text'],
    stops: ACTION,
    example: 'pulls /IRQ with 7406',
    says: 'lines the card pulls low with an open collector',
  },
  {
    word: 'starts',
    blocks: ['card'],
    order: ['with', 'at', 'text'],
    stops: ACTION,
    example: 'starts GRANT',
    says: 'a chain the card starts',
  },
  {
    word: 'passes',
    blocks: ['card'],
    order: ['with', 'at', 'text'],
    stops: ACTION,
    example: 'passes GRANT',
    says: 'a chain the card uses and passes on',
  },
  {
    word: 'untouched',
    blocks: ['card'],
    once: true,
    stops: ACTION,
    example: 'untouched rest',
    says: 'contacts known not to be used; rest: all others',
  },
  {
    word: 'makes',
    blocks: ['card'],
    needs: ['from'],
    bare: ['voltage'],
    keyed: { max: 'current' },
    order: ['from', 'with', 'voltage', 'max', 'text'],
    stops: ACTION,
    example: 'makes -5V from -12V with 7905',
    says: 'a rail made on the card by a regulator',
  },
  {
    id: 'chip',
    word: 'part',
    blocks: ['card'],
    needs: ['with'],
    repeats: ['need'],
    order: ['with', 'need', 'text'],
    stops: ACTION,
    example: 'part U1..U8 with 4116 -5V 3 mA',
    says: 'chips whose rails matter',
  },

  {
    id: 'slot',
    word: '=',
    blocks: ['fitted'],
    mayOpen: 'board',
    order: ['as', 'date', 'bridge', 'text'],
    stops: [5, 7, 17, 27],
    example: '3 = RAM as RAM-B date 8431',
    says: 'what sits in a slot',
  },
  {
    word: 'without',
    blocks: ['board'],
    stops: ACTION,
    example: 'without U5..U8',
    says: 'parts this board lacks',
  },

  {
    word: 'end',
    blocks: ['ribbon'],
    keyed: { along: 'length' },
    order: ['stripe', 'bump', 'conductors', 'along', 'found', 'text'],
    stops: [5, 18],
    example: 'end GAUGE.J1 stripe 1 bump',
    says: 'an end of the ribbon: where, and which contact the stripe meets',
  },
  {
    word: 'twist',
    blocks: ['ribbon'],
    stops: [7],
    example: 'twist 10..16',
    says: 'conductors whose order is reversed from here on',
  },
  {
    id: 'join',
    word: '=',
    blocks: ['cable'],
    bare: ['gauge', 'length'],
    order: ['gauge', 'length', 'text'],
    stops: [22, 24, 46],
    example: 'PSU.P1.1..3 = DISPLAY.J9.1..3',
    says: 'wires of the cable',
  },
  {
    id: 'reading',
    word: '=',
    blocks: ['readings'],
    stops: [36, 38, 48],
    order: ['diode', 'text'],
    example: 'CAGE.1.3 to CAGE.6.3 = 0.2 ohm',
    says: 'a reading between two places, red lead first',
  },

  {
    id: 'powered',
    word: 'supply',
    blocks: ['family', 'part'],
    once: true,
    bare: ['voltage'],
    keyed: { peak: 'voltage' },
    order: ['voltage', 'peak'],
    stops: WORD,
    example: 'supply 4.75..5.25 V peak 7 V',
    says: 'the supply it works at, and the most it stands',
  },
  {
    word: 'input',
    blocks: ['family', 'part'],
    once: true,
    keyed: { low: 'current', high: 'current', stands: 'voltage' },
    order: ['low', 'high', 'stands'],
    stops: WORD,
    example: 'input low 0.4 mA high 20 uA stands -0.5..7 V',
    says: 'what an input draws and stands',
  },
  {
    word: 'output',
    blocks: ['family', 'part'],
    once: true,
    keyed: { off: 'current', stands: 'voltage' },
    order: ['three-state', 'totem-pole', 'open-collector', 'off', 'stands'],
    stops: WORD,
    example: 'output three-state off 20 uA stands 5.5 V',
    says: 'what kind of output it has',
  },
  {
    word: 'sinks',
    blocks: ['family', 'part'],
    needs: ['current', 'voltage'],
    bare: ['current', 'voltage'],
    order: ['current', 'voltage'],
    stops: WORD,
    example: 'sinks 24 mA 0.5 V',
    says: 'current an output sinks at no more than this voltage',
  },
  {
    word: 'gives',
    blocks: ['family', 'part'],
    needs: ['current', 'voltage'],
    bare: ['current', 'voltage'],
    order: ['current', 'voltage'],
    stops: WORD,
    example: 'gives 3 mA 2.4 V',
    says: 'current an output gives at no less than this voltage',
  },
  {
    word: 'like',
    blocks: ['part'],
    once: true,
    stops: WORD,
    example: 'like 74LS',
    says: 'the family whose figures it shares',
  },
  {
    word: 'needs',
    blocks: ['part'],
    bare: ['current'],
    order: ['current', 'each'],
    stops: WORD,
    example: 'needs -5V 3 mA',
    says: 'a rail the part needs',
  },
  {
    word: 'first',
    blocks: ['part'],
    once: true,
    stops: WORD,
    example: 'first -5V',
    says: 'the rail its maker wants on first',
  },
  {
    word: 'regulates',
    blocks: ['part'],
    once: true,
    bare: ['voltage'],
    keyed: { dropout: 'voltage', max: 'current', stands: 'voltage' },
    order: ['voltage', 'dropout', 'max', 'stands'],
    stops: WORD,
    example: 'regulates -5 V dropout 1.1 V max 1.5 A stands 35 V',
    says: 'a regulator: output, dropout, rating',
  },
];

export const forms: readonly Form[] = table.map((form) => ({ ...form, id: form.id ?? form.word }));

const byWord = new Map<string, Form[]>();
const byId = new Map<string, Form>();
for (const form of forms) {
  byWord.set(form.word, [...(byWord.get(form.word) ?? []), form]);
  byId.set(form.id, form);
}

/** The form with this first word (or `=`) in this kind of block. */
export function formIn(block: BlockKind, word: string): Form | undefined {
  return byWord.get(word)?.find((form) => form.blocks.includes(block));
}

export function formNamed(id: string): Form {
  const form = byId.get(id);
  if (form === undefined) throw new Error(`no line form '${id}'`);
  return form;
}

/** Forms with this first word, wherever they may stand. */
export function formsWith(word: string): readonly Form[] {
  return byWord.get(word) ?? [];
}

/** First words that may begin a line of this block (tables have none). */
export function wordsIn(block: BlockKind): string[] {
  return forms.filter((form) => form.word !== '=' && form.blocks.includes(block)).map((form) => form.word);
}

/** The form of this block's table lines. */
export function tableIn(block: BlockKind): Form | undefined {
  return formIn(block, '=');
}
