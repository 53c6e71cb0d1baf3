import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { format, printStatement } from '../../../src/language/format.ts';
import { type BlockKind, formNamed, forms } from '../../../src/language/forms.ts';
import { Reader } from '../../../src/language/statement.ts';

const grammar = readFileSync('src/language/pinout.peggy', 'utf8');
const startRules = [...grammar.matchAll(/^([a-z]\w*) = /gm)].map((found) => found[1] as string);

const body = (example: string): string => example.replace(/ \{$/, '');

describe('line forms', () => {
  test('the grammar has a start rule for each form and no other', () => {
    expect([...startRules].sort()).toEqual(forms.map((form) => form.id).sort());
  });

  test('in one kind of block no two forms begin with the same word', () => {
    const seen = forms.flatMap((form) => form.blocks.map((block) => `${block} ${form.word}`));
    expect(seen.length).toBe(new Set(seen).size);
  });

  test.each(forms.map((form) => [form.id, form] as const))(
    '%s: its example is read whole and printed as it is written',
    (_, form) => {
      const parsed = new Reader().read(form, body(form.example));
      expect(parsed.problems).toEqual([]);
      const printed = printStatement(parsed.statement!).replace(/ {2,}/g, ' ');
      expect(printed).toBe(body(form.example));
    },
  );

  test.each(forms.map((form) => [form.id, form] as const))(
    '%s: stands in each of its blocks, and its attributes are known',
    (_, form) => {
      for (const block of form.blocks) {
        const document = parseDocument(
          inBlock(block, form.opens ? `${body(form.example)} {\n}` : form.example),
        );
        expect(document.problems.map((problem) => problem.message)).toEqual([]);
      }
      expect(form.says).not.toBe('');
    },
  );

  test('every word of the language that a name could be mistaken for is refused bare and taken in quotes', () => {
    const reserved = /'active-low[\s\S]*?\.split/.exec(grammar)![0].match(/[a-z][a-z-]*/g)!;
    for (const word of reserved.filter((one) => one !== 'split')) {
      const bare = parseDocument(`card C {\n  receives ${word}\n}`);
      expect(bare.problems.length, word).toBeGreaterThan(0);
      expect(bare.problems[0]?.fix?.text, word).toBe(`"${word}"`);
      expect(parseDocument(`card C {\n  receives "${word}"\n}`).problems, word).toEqual([]);
    }
  });
});

/** A line in a block of this kind, with all that is around it. */
function inBlock(block: BlockKind, line: string): string {
  const around: Record<BlockKind, [string, number]> = {
    file: ['', 0],
    supply: ['supply S {', 1],
    connector: ['connector C {', 1],
    bus: ['bus B on C {', 1],
    backplane: ['backplane P {', 1],
    card: ['card K {', 1],
    edge: ['card K {\nedge on B {', 2],
    port: ['card K {\nport J1 on C {', 2],
    fitted: ['fitted P {', 1],
    board: ['loose K "here" {', 1],
    ribbon: ['ribbon W 26 way {', 1],
    cable: ['cable W {', 1],
    readings: ['readings {', 1],
    family: ['family F {', 1],
    part: ['part F {', 1],
  };
  const [before, closing] = around[block];
  return `${before}\n${line}\n${'}\n'.repeat(closing)}`;
}

describe('also sayable', () => {
  test.each([
    ['rails with ranges and peaks', 'supply', 'rail +8V 7..11 V peak 25 V max 18 A'],
    ['ac', 'supply', 'rail ~16V 16 V ac'],
    ['sense', 'supply', 'sense S+ for +5V'],
    ['order', 'supply', 'order -5V, +12V, +5V'],
    ['grounds declared one', 'supply', 'ground GND, AGND'],
    ['straps', 'backplane', 'strap +5V, +5VB'],
    ['a DIP plug', 'connector', 'shape dip 16'],
    ['a D-shell', 'connector', 'shape dshell 25'],
    ['DIN 41612', 'connector', 'shape din 3 x 32'],
    ['a row', 'connector', 'shape row 6'],
    ['missing pins', 'connector', 'pulled 20'],
    ['blocked holes', 'connector', 'plugged 20'],
    ['a bump', 'connector', 'bump'],
    ['keys slot by slot', 'backplane', 'slots 1..2 on MAIN key between 11, 12'],
    ['two keys on one slot', 'backplane', 'slots 1..2 on MAIN key between 11, 12 key between 3, 4'],
    ['several buses a slot', 'backplane', 'slots 1..7 on P1 VME-J1, P2 VME-J2'],
    ['several edges a card', 'card', 'edge P1 on VME-J1'],
    ['chains with names of their own', 'bus', 'a21 > a22 = IACKIN* > IACKOUT*'],
    ['chains from a table of contacts', 'bus', 'b4, b6 > b5, b7 = BG0IN*, BG1IN* > BG0OUT*, BG1OUT*'],
    ['self-bridging slots', 'backplane', 'slots 1..4 on MAIN self-bridging'],
    ['aliases', 'bus', '36 = DO0 also DATA0'],
    ['private contacts', 'bus', '7 = TXD private'],
    ['unnamed private contacts', 'bus', 'a1..a32 = private'],
    ['letters past Z', 'connector', 'numbers 1..36, A..Z, AA..RR'],
    [
      'a terminator at a port, as a removable part',
      'card',
      'terminate D0..D7 220 ohm to +5V, 330 ohm to GND at J1 as RN1',
    ],
    ['several regulators', 'card', 'makes +5V from +8V with 2 x 7805'],
    ['rigid couplers', 'file', 'ribbon OVER1 40 way rigid {\n}'],
    ['twisted conductors', 'ribbon', 'twist 10..16'],
    ['split conductors', 'ribbon', 'end J1 conductors 1..8 stripe 1'],
    ['every second contact', 'port', '1..19 step 2 = GND'],
    ['negative decimal rails', 'supply', 'rail -5.2V -5.2 V'],
    ['a negative range', 'supply', 'rail -16V -21.5..-14.5 V peak -35 V'],
    ['evidence in full', 'bus', '1 = GND by meter 2026-05-02 "both ends" photo "img/slot3.jpg"'],
    ['a wire by its ends', 'board', 'wire U9.3 to edge.19 by trace "green"'],
    ['a voltage reading', 'readings', 'CAGE.1.2 to GND = 5.02 V'],
    ['a diode reading', 'readings', 'RAM-A.edge.2 to RAM-A.edge.1 = 0.46 V diode'],
    ['marks of active-low names', 'bus', '1..7 = /RD, RD/, -RD, RD*, RD#, ~RD, RD_L'],
    ['a hash that belongs to a name', 'bus', '1 = FRAME# # and a remark'],
  ] as const)('%s', (_, block, line) => {
    const text = inBlock(block, line);
    expect(parseDocument(text).problems.map((problem) => problem.message)).toEqual([]);
    expect(format(format(text))).toBe(format(text));
  });

  test('the names with marks are seven names', () => {
    const document = parseDocument('bus B on C {\n1..7 = /RD, RD/, -RD, RD*, RD#, ~RD, RD_L\n}');
    const is = document.root.entries[0]?.block?.entries[0]?.statement.attributes[0];
    expect(is?.values).toHaveLength(7);
  });
});

test('formNamed knows each form', () => {
  for (const form of forms) expect(formNamed(form.id)).toBe(form);
});
