import { describe, expect, it } from 'vitest';
import { expectMarked, replacement } from '../../support/fixture.ts';
import { findingsOf, machineOf } from '../../support/machine.ts';

const RULE = 'pasted-form';

const machine = (table: string): string => `pinout 1
connector E8 {
  shape edge 1 x 8
}
connector H8 {
  shape header 1 x 8
}
bus B on E8 {
${table}
}
backplane CAGE {
  slots 1..2 on B
}
`;

const claims = (text: string): string[] =>
  machineOf(text).machine.buses[0]!.pins.claims.map((claim) =>
    claim === undefined ? '-' : claim.name === '' ? claim.kind : claim.name,
  );

describe('NC in a table of contacts', () => {
  it.each(['NC', 'N/C', 'nc', 'n/c', 'Nc'])('is no line: %s', (name) => {
    const text = machine(
      `  1 = GND by meter\n  2..4 = ${name} by manual #! error pasted-form\n  5 = ALARM by trace`,
    );
    expectMarked([RULE, 'name-clash', 'duplicate'], text);
    expect(claims(text)).toEqual(['GND', 'unknown', 'unknown', 'unknown', 'ALARM', '-', '-', '-']);
    const finding = findingsOf(text).find(({ rule }) => rule === RULE)!;
    expect(finding.message).toContain('write `unknown`, `spare` or `private`');
    expect(text.slice(finding.source.from, finding.source.to)).toBe(name);
    const { source, text: put } = replacement(finding);
    const mended = text.slice(0, source.from) + put + text.slice(source.to);
    expect(claims(mended)).toEqual(claims(text));
    expect(findingsOf(mended).filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('joins nothing', () => {
    const { machine: built } = machineOf(machine('  1 = NC\n  2 = NC'));
    const { instances, nets } = built;
    const nodes = instances.flatMap(({ base }) => [base, base + 1]);
    expect(new Set(nodes.map((node) => nets.of[node])).size).toBe(nodes.length);
  });

  it('is told once for a list, without a change that the list could not hold', () => {
    const text = machine('  1..5 = A0, NC, NC, N/C, A1 #! error pasted-form');
    expectMarked(RULE, text);
    expect(claims(text).slice(0, 5)).toEqual(['A0', 'unknown', 'unknown', 'unknown', 'A1']);
    const finding = findingsOf(text).find(({ rule }) => rule === RULE);
    expect(finding?.message).toContain('on a line of its own');
    expect(finding?.edits).toBeUndefined();
  });

  it('is told in ports and edges of cards too', () => {
    const card = `card D {
  edge on B {
    1 = NC #! pasted-form
  }
  port J1 on H8 {
    1..8 = N/C #! pasted-form
  }
}`;
    expectMarked(RULE, machine('  2 = A0') + card);
  });

  it.each(['"NC"', 'NC1', 'NCS', '/NC', 'SYNC'])('is a line where it is quoted or longer: %s', (name) => {
    const text = machine(`  1..2 = ${name}\n  3 = A0`);
    expectMarked(RULE, text);
    expect(claims(text)[0]).toBe(name.replaceAll('"', ''));
  });
});
