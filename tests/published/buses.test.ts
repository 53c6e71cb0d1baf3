import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { published } from '../../src/knowledge/published.ts';
import { format } from '../../src/language/format.ts';
import type { Bus } from '../../src/machine/types.ts';
import { machineOf } from '../support/machine.ts';

/** Contacts on which a description differs from the shipped table, and why. All others agree in both columns. */
const differences: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'ieee-696': {
    '24 B': 'system clock, described instead of named',
    '49 B': 'CLOCK (2 mhz), with its frequency',
    '54 B': 'slave clear *, spelled out',
  },
  'vme-j1': {
    'b12 A': 'BRO*, a misprint: letter O for zero',
    'b25 B': 'IRQ5*, a misprint: printed twice',
    'b31 A': '+5V_STANDBY, spelling',
    'b31 B': '+5VSTBY, spelling',
  },
  'isa-8': {
    'A1 B': 'IO, shortened',
    'A10 B': 'IO_READY, spelling',
    'B8 A': '-CARD SLCTD: what the XT has here; the AT asks for no wait states',
    'B8 B': 'UNUSED: what the PC has here',
    'B19 A': '-DACK0 (MREF): both names of the PC and XT in one',
  },
};

/** A name without the ways of spelling that mean nothing: case, spaces, where the active-low mark stands, words for ground. */
function folded(name: string): string {
  let text = name
    .toUpperCase()
    .replaceAll(' ', '')
    .replace(/VOLT$|VDC$/, 'V');
  if (/^(0V|GND|GROUND)$/.test(text)) return 'GND';
  if (text === 'VCC') return '+5V';
  if (/^(NDEF|RFU)$/.test(text)) return 'SPARE';
  text = text.replace(/^\+(?=[A-Z])/, '');
  if (/^[/-](?=[A-Z])/.test(text)) text = `${text.slice(1)}*`;
  // Prefixes by which a description marks data and address lines of the system, or buffered ones.
  return text
    .replaceAll('/', '')
    .replace(/^(?:DATA|DB|D|SD)(?=\d+$)/, 'SD')
    .replace(/^(?:ADDRESS|BA|A|SA)0?(?=\d+$)/, 'SA')
    .replace(/[#]$/, '*')
    .replaceAll('_', '');
}

function busOf(name: string): Bus {
  const { machine, documents } = machineOf(`use published "${name}"`);
  expect(documents.get(`published:${name}`)?.problems).toEqual([]);
  expect(machine.problems).toEqual([]);
  return machine.buses[0]!;
}

function rows(name: string): string[][] {
  const text = readFileSync(`tests/published/tables/${name}.tsv`, 'utf8');
  return text
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split('\t'));
}

describe.each([
  ['ieee-696', 100],
  ['vme-j1', 96],
  ['isa-8', 62],
] as const)('%s', (name, count) => {
  test('says something of every contact, once', () => {
    const { pins } = busOf(name);
    expect(pins.connector.labels).toHaveLength(count);
    expect(pins.claims.filter((claim) => claim !== undefined)).toHaveLength(count);
  });

  test('agrees with two public descriptions on every contact that is not listed as a difference', () => {
    const { pins } = busOf(name);
    const found: string[] = [];
    const table = rows(name);
    expect(table).toHaveLength(count);
    for (const [contact, ...columns] of table) {
      const claim = pins.claims[pins.connector.indexOf.get(contact!)!]!;
      const ours = [claim.name || claim.kind, ...claim.aliases].map(folded);
      columns.forEach((theirs, i) => {
        if (!ours.includes(folded(theirs))) found.push(`${contact} ${'AB'[i]}`);
      });
    }
    const listed = Object.keys(differences[name]!);
    expect(found.sort()).toEqual(listed.sort());
  });

  test('is in canonical form, and says where it comes from', () => {
    const text = published.get(name)!;
    expect(format(text)).toBe(text);
    expect(text).toMatch(/^# .*\n(#.*\n)*#.*[Ss]ource/);
    const { pins } = busOf(name);
    for (const claim of pins.claims) expect(claim?.evidence.kind).toBeDefined();
  });
});

describe('VMEbus J1: chains (ANSI/VITA 1-1994, bus grant and interrupt acknowledge)', () => {
  test('four bus-grant chains and one interrupt-acknowledge chain', () => {
    const { chains, pins } = busOf('vme-j1');
    const label = (index: number): string => pins.connector.labels[index]!;
    expect(
      chains.map(({ name, outName, input, output }) => [name, outName, label(input), label(output)]),
    ).toEqual([
      ['IACKIN*', 'IACKOUT*', 'a21', 'a22'],
      ['BG0IN*', 'BG0OUT*', 'b4', 'b5'],
      ['BG1IN*', 'BG1OUT*', 'b6', 'b7'],
      ['BG2IN*', 'BG2OUT*', 'b8', 'b9'],
      ['BG3IN*', 'BG3OUT*', 'b10', 'b11'],
    ]);
  });
});

describe('rails', () => {
  test('IEEE 696: +8 V 7 to 11 V, peak 25 V; ±16 V 14.5 to 21.5 V, peak 35 V (J. Monahan, S-100 bus pin designations; "Gern", net.micro.cpm, 15 Aug 1985)', () => {
    const { machine } = machineOf('use published "ieee-696"');
    expect(machine.busRails.map(({ name, low, high, peak }) => [name, low, high, peak])).toEqual([
      ['+8V', 7, 11, 25],
      ['+16V', 14.5, 21.5, 35],
      ['-16V', -21.5, -14.5, -35],
    ]);
  });

  test('ISA: 5 V 5 %, −5 V 10 %, 12 V 5 %, −12 V 10 % (IBM Personal Computer XT Technical Reference, p. 1-15)', () => {
    const { machine } = machineOf('use published "isa-8"');
    expect(machine.busRails.map(({ name, low, high }) => [name, low, high])).toEqual([
      ['+5V', 4.75, 5.25],
      ['-5V', -5.5, -4.5],
      ['+12V', 11.4, 12.6],
      ['-12V', -13.2, -10.8],
    ]);
  });
});
