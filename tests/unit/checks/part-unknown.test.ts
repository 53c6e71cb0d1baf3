import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent, replacement } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'part-unknown';

const machine = (card: string, more = ''): string => `pinout 1
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1 = GND by meter
  2 = +5V by meter
  3 = -12V by meter
  4..7 = D0..D3 by trace
}
backplane CAGE {
  slots 1..2 on B
}
card CPU {
  edge on B
${card}
}
fitted CAGE {
  1 = CPU as CPU-A
  2 = CPU as CPU-B
}
${more}`;

const found = (text: string) => findingsOf(text).filter(({ rule }) => rule === RULE);
const meant = (line: string): string | undefined =>
  /did you mean `([^`]+)`/.exec(found(machine(line))[0]?.message ?? '')?.[1];

describe('part-unknown fires', () => {
  it.each([
    'drives D0 with 8XQ97',
    'transceives D0..D3 with 8XQ97 three-state',
    'receives D0..D3 with 8XQ97',
    'pulls D0 with 8XQ97',
    'passes D0 with 8XQ97',
    'makes -5V from -12V with 8XQ97',
    'makes -5V from -12V with 74LS04',
    'drives D0 with 7805',
    'part U1 with 8XQ97',
  ])('on %s', (line) => {
    expectMarked(RULE, machine(`${line} #! question part-unknown`));
  });

  it('once for a name, however it is written, and counts the lines', () => {
    const text = machine(
      `  drives D0..D2 with 8XQ97 #! part-unknown
  drives D3 with 8xq97
  part U1, U2 with 8XQ97`,
      'card RAM {\n  edge on B\n  receives D0..D3 with 8XQ97\n}\nloose RAM',
    );
    expectMarked(RULE, text);
    const [finding] = found(text);
    expect(finding?.message).toBe(
      'CPU drives D0 with `8XQ97`, the first of 4 lines that name it: no table knows a part or family of this name, so nothing about it is checked',
    );
    expect(finding?.path.map(({ contact, signal }) => `${contact} ${signal}`.trim())).toEqual([
      'CPU drives D0',
      'CPU drives D3',
      'CPU',
      'RAM receives D0',
    ]);
    expect(finding?.fix).toContain('`part 8XQ97 {`');
    expect(finding?.edits).toBeUndefined();
  });

  it('at the name itself, with the change that mends it', () => {
    const text = machine('makes -5V from -12V with 2 x LM79O5CT by trace');
    const [finding] = found(text);
    expect(finding?.message).toContain('CPU makes -5V with `LM79O5CT`: no table knows a regulator');
    const { source, text: put } = replacement(finding!);
    expect(text.slice(source.from, source.to)).toBe('LM79O5CT');
    expect(put).toBe('LM7905CT');
    expect(finding?.fix).toContain('write `LM7905CT`');
  });

  it('is silenced at the name', () => {
    expectSilent(
      [RULE, 'allow-unused'],
      machine('drives D0 with 8XQ97', 'allow part-unknown at 8XQ97 "no data sheet left"'),
    );
  });
});

describe('part-unknown says what was meant', () => {
  it.each([
    ['makes -5V from -12V with 79O5', '7905'],
    ['makes -5V from -12V with 79o5', '7905'],
    ['makes -5V from -12V with 7950', '7905'],
    ['makes -5V from -12V with LM7950', 'LM7905'],
    ['part U1 with 41l6', '4116'],
    ['part U1 with 4II6', '4116'],
    ['part U1 with 27O8', '2708'],
    ['drives D0 with 74LSO4', '74LS04'],
    ['drives D0 with 74SL04', '74LS04'],
    ['drives D0 with 74SL244', '74LS244'],
    ['drives D0 with Z8O', 'Z80'],
  ])('%s → %s', (line, part) => {
    expect(meant(line)).toBe(part);
  });

  it('of the files’ own parts too', () => {
    const own = 'part HOUSE-12 {\n  like 74S\n}';
    expect(found(machine('drives D0 with HOUSE-21', own))[0]?.message).toContain('mean `HOUSE-12`?');
  });

  it.each(['drives D0 with 8XQ97', 'drives D0 with 79O5', 'drives D0 with X'])('and not of %s', (line) => {
    expect(found(machine(line))).toHaveLength(1);
    expect(meant(line)).toBeUndefined();
  });
});

describe('part-unknown is silent', () => {
  it.each([
    'receives D0..D3 with 74LS',
    'drives D0 with 74LS999',
    'drives D0 with SN74LS244N three-state',
    'drives D0',
    'starts D0',
    'passes D0',
    'makes -5V from -12V',
    'makes -5V from -12V with LM7905CT',
    'part U1 with 8XQ97 +5V 100 mA',
    'part U1 with MCM4116',
    'part U1 with 7805',
  ])('on %s', (line) => {
    expectSilent(RULE, machine(line));
  });

  it('on what the files describe', () => {
    const own = `family HOUSE {
  input low 0.4 mA high 20 uA
}
part 8XQ97 {
  like HOUSE
}
part REG-5 {
  regulates -5 V dropout 2 V max 1 A stands 35 V
}`;
    const card = `  drives D0 with 8xq97
  receives D0..D3 with HOUSE
  makes -5V from -12V with REG-5
  part U1 with 8XQ97`;
    expectSilent(RULE, machine(card, own));
  });
});
