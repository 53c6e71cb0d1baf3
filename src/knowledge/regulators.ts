import type { Regulator } from './types.ts';

/**
 * Three-terminal linear regulators. A drop-out is what the data sheet prints for the rated current (typical
 * where it prints nothing else); where it prints only the least input it guarantees, that less the output.
 */

interface Limits {
  readonly dropout: number;
  readonly maxInput: number;
  readonly current: number;
}

/** One member of a numbered series: the last two digits of its number are its volts. */
function numbered(series: string, volts: number, title: string, limits: Limits, source: string): Regulator {
  const polarity = series.startsWith('79') ? -1 : 1;
  const name = series + String(volts).padStart(2, '0');
  return { name, title, polarity, output: polarity * volts, ...limits, source };
}

function lm340(volts: number): Regulator {
  return {
    name: `LM340-${volts}`,
    title: `+${volts} V, 1 A`,
    polarity: 1,
    output: volts,
    dropout: 2,
    maxInput: 35,
    current: 1,
    source:
      'LM340 data sheet, National Semiconductor/TI SNOSBT0: 7.5 to 35 V in for 5 V, 2 V drop-out at 1 A',
  };
}

function adjustable(name: string, polarity: 1 | -1, current: number, source: string): Regulator {
  return { name, title: `adjustable, ${current} A`, polarity, dropout: 2.5, maxInput: 40, current, source };
}

export const regulators: readonly Regulator[] = [
  // The LM340 data sheet covers the LM7800C too; 35 V in up to 18 V out and 40 V for 24 V: Fairchild MC78XX.
  ...[5, 6, 8, 9, 10, 12, 15, 18, 24].map((volts) =>
    numbered(
      '78',
      volts,
      `+${volts} V, 1 A`,
      { dropout: 2, maxInput: volts === 24 ? 40 : 35, current: 1 },
      'LM340/LM7800C data sheet, National/TI SNOSBT0; maximum input: MC78XX, Fairchild',
    ),
  ),
  // Some makers allow 35 V on the 5 V part; the lower is taken.
  ...[5, 12, 15].map((volts) =>
    numbered(
      '78L',
      volts,
      `+${volts} V, 100 mA`,
      { dropout: 1.7, maxInput: volts === 5 ? 30 : 35, current: 0.1 },
      'LM78LXX, HTC (maximum input); drop-out: 78LXX, Minilogic',
    ),
  ),
  ...[5, 12, 15].map((volts) =>
    numbered(
      '78M',
      volts,
      `+${volts} V, 500 mA`,
      { dropout: 2, maxInput: 35, current: 0.5 },
      'MC78M05/LM78M05, Fairchild (35 V in, specified from 7 V in); 12 and 15 V (from memory)',
    ),
  ),
  // National rates the input of its 7905 at 25 V, Fairchild at 35 V: the lower is taken.
  ...[5, 12, 15].map((volts) =>
    numbered(
      '79',
      volts,
      `−${volts} V, 1 A`,
      { dropout: 1.1, maxInput: volts === 5 ? 25 : 35, current: 1 },
      'LM79XX series, National DS007340/TI SNOSBQ7B: 1.1 V at 1 A (typical)',
    ),
  ),
  ...[6, 8, 9, 18, 24].map((volts) =>
    numbered(
      '79',
      volts,
      `−${volts} V, 1 A`,
      { dropout: 1.1, maxInput: 35, current: 1 },
      'LM79XX, Fairchild (35 V in); drop-out as LM7912, National',
    ),
  ),
  ...(
    [
      [5, 2.3],
      [12, 2.6],
      [15, 2.7],
    ] as const
  ).map(([volts, dropout]) =>
    numbered(
      '79L',
      volts,
      `−${volts} V, 100 mA`,
      { dropout, maxInput: 35, current: 0.1 },
      'LM79LXXAC, National DS007748: least input for line regulation at 100 mA',
    ),
  ),
  lm340(5),
  lm340(12),
  lm340(15),
  {
    name: 'LM309',
    title: '+5 V, 1 A (TO-3)',
    polarity: 1,
    output: 5,
    dropout: 2,
    maxInput: 35,
    current: 1,
    source: 'LM309, National: 35 V in, 1 A, specified from 7.1 V in at 25 °C; drop-out 2 V (from memory)',
  },
  {
    name: 'LM309H',
    title: '+5 V, 200 mA (TO-39)',
    polarity: 1,
    output: 5,
    dropout: 2,
    maxInput: 35,
    current: 0.2,
    source: 'LM309, National: 35 V in, 0.2 A in TO-39, specified from 7.1 V in; drop-out 2 V (from memory)',
  },
  {
    name: 'LM323',
    title: '+5 V, 3 A',
    polarity: 1,
    output: 5,
    dropout: 2.5,
    maxInput: 20,
    current: 3,
    source: 'LM323, STMicroelectronics: 3 A, least input 7.5 V; maximum input 20 V (from memory)',
  },
  // Adjustable regulators float: their maximum is between input and output.
  adjustable(
    'LM317',
    1,
    1.5,
    'LM317, STMicroelectronics DS0433: 40 V from input to output, 1.5 A; drop-out (from memory)',
  ),
  adjustable('LM317M', 1, 0.5, 'LM317M data sheet (from memory)'),
  adjustable('LM317L', 1, 0.1, 'LM317L data sheet (from memory)'),
  adjustable('LM337', -1, 1.5, 'LM337 data sheet, National (from memory)'),
  adjustable('LM337M', -1, 0.5, 'LM337M data sheet (from memory)'),
  adjustable('LM337L', -1, 0.1, 'LM337L data sheet (from memory)'),
];
