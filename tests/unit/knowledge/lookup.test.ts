import { describe, expect, it } from 'vitest';
import { families } from '../../../src/knowledge/families.ts';
import { familyNamed, familyOfPart, partNamed, regulatorNamed } from '../../../src/knowledge/lookup.ts';
import { parts } from '../../../src/knowledge/parts.ts';
import { regulators } from '../../../src/knowledge/regulators.ts';

describe('tables', () => {
  it.each([
    ['families', families],
    ['parts', parts],
    ['regulators', regulators],
  ] as const)('%s: names unique, sources said', (_, list) => {
    expect(new Set(list.map((entry) => entry.name)).size).toBe(list.length);
    for (const entry of list) expect(entry.source).not.toBe('');
  });

  it('lists output points weakest first', () => {
    for (const { name, output } of [...families, ...parts]) {
      for (const points of [output?.low ?? [], output?.high ?? []]) {
        const currents = points.map((point) => point.current);
        expect(currents, name).toEqual(currents.toSorted((a, b) => a - b));
      }
    }
  });

  it('gives an open collector no high level, every other output one', () => {
    for (const { name, output } of parts) {
      if (output) expect(output.high.length === 0, name).toBe(output.kind === 'open-collector');
    }
  });

  it('finds every entry by its own name', () => {
    for (const family of families) expect(familyNamed(family.name)).toBe(family);
    for (const part of parts) expect(partNamed(part.name), part.name).toBe(part);
    for (const regulator of regulators)
      expect(regulatorNamed(regulator.name), regulator.name).toBe(regulator);
  });
});

describe('familyNamed', () => {
  it.each([
    ['74LS', '74LS'],
    ['74ls', '74LS'],
    ['54LS', '74LS'],
    ['SN74LS', '74LS'],
    ['74', '74'],
    ['74HCT', '74HCT'],
    ['CD4000', '4000'],
  ])('%s is %s', (name, family) => {
    expect(familyNamed(name)?.name).toBe(family);
  });

  it.each(['74LS244', '74XYZ', 'LS', '', '7', 'unknown'])('%s is no family', (name) => {
    expect(familyNamed(name)).toBeUndefined();
  });
});

describe('partNamed', () => {
  it.each([
    ['SN74LS244N', '74LS244'],
    ['sn74ls244n', '74LS244'],
    [' DM74LS245N ', '74LS245'],
    ['SN54LS244J', '74LS244'],
    ['MC74F245N', '74F245'],
    ['74LS244A', '74LS244'],
    ['DM7406', '7406'],
    ['SN7406N', '7406'],
    ['N8T26AN', '8T26'],
    ['AM26LS31CN', '26LS31'],
    ['DP8304BN', 'DP8304'],
    ['SN75451BP', '75451'],
    ['MC1488P', '1488'],
    ['D4116C-2', '4116'],
    ['MK4116N-3', '4116'],
    ['MCM4116AC20', 'MCM4116'],
    ['C8080A', '8080A'],
    ['P8080', '8080'],
    ['D8080AFC', '8080A'],
    ['Z80A', 'Z80'],
    ['Z80ACPU', 'Z80'],
    ['µPD2114LC', '2114'],
    ['MC6800P', '6800'],
    ['MC68000L8', '68000'],
  ])('%s is %s', (name, part) => {
    expect(partNamed(name)?.name).toBe(part);
  });

  it.each([
    ['74LS04', '74LS04', '74LS'],
    ['SN74LS04N', '74LS04', '74LS'],
    ['7400', '7400', '74'],
    ['74S00', '74S00', '74S'],
    ['5408', '7408', '74'],
    ['74HCT04', '74HCT04', '74HCT'],
    ['74HC4060', '74HC4060', '74HC'],
    ['74LS161A', '74LS161', '74LS'],
    ['CD4011BE', '4011', '4000'],
    ['MC14011BCP', '4011', '4000'],
  ])('%s is an ordinary gate', (name, part, family) => {
    const found = partNamed(name);
    expect(found).toMatchObject({ name: part, family, output: { kind: 'totem-pole' } });
    expect(found?.input).toBe(familyNamed(family)?.input);
    expect(found?.output).toBe(familyNamed(family)?.output);
  });

  it('never takes an open collector for an ordinary gate', () => {
    for (const name of [
      '7401',
      '74LS03',
      '74S03',
      '7405',
      'SN74LS05N',
      '74LS09',
      '7438',
      '74LS38',
      '74S38',
    ]) {
      expect(partNamed(name)?.output?.kind, name).toBe('open-collector');
    }
  });

  it('tells a flip-flop from a memory of the same number by its maker', () => {
    expect(partNamed('CD4027BE')?.family).toBe('4000');
    expect(partNamed('MK4027J-3')?.rails).toHaveLength(3);
  });

  it("tells TI's three-rail 2716 from the usual one", () => {
    expect(partNamed('D2716')?.rails).toHaveLength(1);
    expect(partNamed('TMS2716JL')?.rails).toHaveLength(3);
  });

  it.each([
    '74LS',
    '74LSX4',
    '74XX04',
    '74LS0',
    '74LS123456',
    'LM741CN',
    'MC68008',
    'Z80PIO',
    '',
    '4',
    'LM7805',
  ])('%s is unknown', (name) => {
    expect(partNamed(name)).toBeUndefined();
  });

  it('answers at once for a name of any length', () => {
    expect(partNamed(`74LS${'0'.repeat(1_000_000)}`)).toBeUndefined();
  });
});

describe('familyOfPart', () => {
  it.each([
    ['74LS245', '74LS'],
    ['SN7438N', '74'],
    ['74F00', '74F'],
  ])('%s belongs to %s', (name, family) => {
    expect(familyOfPart(name)?.name).toBe(family);
  });

  it.each(['8T26', '4116', 'unknown'])('%s belongs to none', (name) => {
    expect(familyOfPart(name)).toBeUndefined();
  });
});

describe('regulatorNamed', () => {
  it.each([
    ['LM7805CT', '7805'],
    ['uA7805', '7805'],
    ['µA7805UC', '7805'],
    ['L7805CV', '7805'],
    ['MC7812', '7812'],
    ['MC7912CT', '7912'],
    ['LM78L05ACZ', '78L05'],
    ['uA78M12', '78M12'],
    ['LM340T-5', 'LM340-5'],
    ['LM340T-5.0', 'LM340-5'],
    ['LM340T5', 'LM340-5'],
    ['LM340K-12', 'LM340-12'],
    ['LM309K', 'LM309'],
    ['LM309H', 'LM309H'],
    ['LM317T', 'LM317'],
    ['LM317LZ', 'LM317L'],
  ])('%s is %s', (name, regulator) => {
    expect(regulatorNamed(name)?.name).toBe(regulator);
  });

  it.each(['78', '7803', '78051', 'LM340', 'LM340LAZ-5', '74LS244', ''])('%s is unknown', (name) => {
    expect(regulatorNamed(name)).toBeUndefined();
  });

  it('gives each its sign', () => {
    expect(regulatorNamed('7912')).toMatchObject({ polarity: -1, output: -12 });
    expect(regulatorNamed('7824')).toMatchObject({ polarity: 1, output: 24 });
    expect(regulatorNamed('LM337T')?.output).toBeUndefined();
  });
});
