import { describe, expect, it } from 'vitest';
import { workspaceSymbols } from '../../../src/editing/workspace-symbols.ts';
import { opened } from '../../support/project.ts';

const FILES = {
  'bus.pinout': `connector E8 {
  shape edge 1 x 8
  numbers 1..8
}
bus MAIN on E8 {
  1 = GND
  2..5 = D0..D3 by trace
  6 = /RESET
}
`,
  'rack.pinout': `use "bus.pinout"
use published "isa-8"
card CPU "Processor" {
  edge on MAIN
  drives D0..D3, /RESET with 74LS244
  port J1 on E8 {
    1 = /RESET
  }
}
`,
};

const symbols = (query: string): string[] => {
  const { project, texts } = opened(FILES);
  return workspaceSymbols(project, query).map(({ name, kind, container, file, from, to }) => {
    const where = `${file.slice('/machine/'.length)} ${texts.get(file)!.slice(from, to)}`;
    return `${kind} ${name}${container === '' ? '' : ` in ${container}`}: ${where}`;
  });
};

describe('workspaceSymbols', () => {
  it('lists what is declared in all files, but not in published tables', () => {
    expect(symbols('')).toEqual([
      'connector E8: bus.pinout E8',
      'bus MAIN: bus.pinout MAIN',
      'name GND in MAIN: bus.pinout GND',
      'name D0..D3 in MAIN: bus.pinout D0..D3',
      'name /RESET in MAIN: bus.pinout /RESET',
      'card CPU: rack.pinout CPU',
      'port J1 in CPU: rack.pinout J1',
      'name /RESET in CPU: rack.pinout /RESET',
    ]);
  });

  it('finds the letters of a query in their order, whatever their case', () => {
    expect(symbols('rst')).toEqual([
      'name /RESET in MAIN: bus.pinout /RESET',
      'name /RESET in CPU: rack.pinout /RESET',
    ]);
    expect(symbols('tsr')).toEqual([]);
  });

  it('finds a member of a vector by its own name', () => {
    expect(symbols('d2')).toEqual(['name D2 in MAIN: bus.pinout D0..D3']);
  });
});
