/** A small machine of everything that has a say in wrong matings, thrown together by the numbers that follow from a seed. */
export function randomMachine(seed: number): string {
  const dice = diceOf(seed);
  const { chance, one, some, upTo } = dice;
  const lines: string[] = ['pinout 1'];

  const rails = RAILS.filter(({ name }) => chance(name === '+5V' ? 0.9 : name === 'LAMPS' ? 0.1 : 0.45));
  if (rails.length === 0) rails.push(RAILS[0]!);
  const supplies = chance(0.9) ? (chance(0.3) ? ['PSU', 'AUX'] : ['PSU']) : [];
  const railsOf = (supply: string): readonly Rail[] =>
    supply === 'PSU' ? rails : rails.slice(0, 1 + upTo(rails.length - 1));
  const given = supplies.map((supply) => ({ supply, its: railsOf(supply) }));
  const names = [...new Set(given.flatMap(({ its }) => its.map(({ name }) => name)))];
  const lineNames = names.length > 0 ? names : rails.map(({ name }) => name);

  const edge = 4 + upTo(4);
  const short = Math.max(3, edge - upTo(2));
  const big = 3 + upTo(3);
  const small = Math.max(2, big - upTo(2));
  const sizes: Readonly<Record<string, number>> = {
    EDGE: 2 * edge,
    SHORT: 2 * short,
    BIG: 2 * big,
    SMALL: 2 * small,
    ROW: 5,
    SHELL: 9,
    SOCKET: 8,
  };
  const walls = (): string[] => (chance(0.5) ? [] : [`  ends ${one(['open', 'closed'])}`]);
  const shroud = (): string[] => (chance(0.5) ? [] : [`  shroud${one(['', ' notch'])}`]);
  const key = (positions: number): string[] => {
    const at = 1 + upTo(positions - 2);
    return chance(0.4) ? [`  key between ${at}, ${at + 1}`] : [];
  };
  const holes = (count: number): string[] => [
    ...(chance(0.3) ? [`  pulled ${1 + upTo(count - 1)}`] : []),
    ...(chance(0.3) ? [`  plugged ${1 + upTo(count - 1)}`] : []),
  ];
  const connector = (name: string, shape: string, ...more: string[]): void => {
    lines.push(`connector ${name} {`, `  shape ${shape}`, ...more, '}');
  };
  connector('EDGE', `edge 2 x ${edge}`, `  numbers 1..${2 * edge}`, ...walls(), ...key(edge));
  connector('SHORT', `edge 2 x ${short}`, `  numbers 1..${2 * short}`, ...walls(), ...key(short));
  connector(
    'BIG',
    `header 2 x ${big}`,
    '  numbers zigzag',
    '  pitch 2.54 mm',
    ...shroud(),
    ...holes(2 * big),
  );
  connector(
    'SMALL',
    `header 2 x ${small}`,
    '  numbers zigzag',
    ...(chance(0.3) ? ['  pitch 0.1 in'] : []),
    ...shroud(),
  );
  connector('ROW', 'row 5', ...(chance(0.3) ? holes(5) : []));
  connector('SHELL', 'dshell 9');
  connector('SOCKET', 'dip 8', '  numbers around');

  /** A table of contacts: power, signals, and what nobody knows. */
  const table = (count: number, signals: readonly string[], power = 0.4): string[] =>
    Array.from({ length: count }, (_, i): string => {
      const at = i + 1;
      if (chance(power)) return `    ${at} = ${chance(0.45) ? 'GND' : one(lineNames)}`;
      if (chance(0.15)) return `    ${at} = ${one(['spare', 'unknown', 'private'])}`;
      return `    ${at} = ${one(signals)}`;
    });
  const SIGNALS = ['A0', 'A1', 'D0', 'D1', '/IRQ', 'CLK'];
  const LOCAL = ['Q0', 'Q1', 'Q2', '/ACK'];

  let harness: string | undefined;
  for (const { supply, its } of given) {
    lines.push(`supply ${supply} {`);
    for (const { name, volts } of its) lines.push(`  rail ${name} ${volts}${chance(0.5) ? ' max 3 A' : ''}`);
    lines.push('  ground GND');
    if (chance(0.6)) {
      harness ??= `${supply}.P1`;
      lines.push(`  port P1 on ${one(['ROW', 'SHELL'])} {`, ...table(5, LOCAL, 0.8), '  }');
    }
    lines.push('}');
  }
  const buses = ['MAIN', ...(chance(0.6) ? ['SIDE'] : [])];
  const connectorOf = (bus: string): string => (bus === 'SIDE' && sideIsShort ? 'SHORT' : 'EDGE');
  const sideIsShort = chance(0.4);
  const tables = new Map(buses.map((bus) => [bus, table(sizes[connectorOf(bus)]!, SIGNALS)]));
  for (const [bus, its] of tables) lines.push(`bus ${bus} on ${connectorOf(bus)} {`, ...its, '}');
  /** A contact of a bus that carries a rail or ground. */
  const carrying = (bus: string, name: string): number =>
    tables.get(bus)!.findIndex((line) => line.endsWith(` = ${name}`)) + 1;

  const twoPlaces = buses.length > 1 && chance(0.25);
  const slots = 2 + upTo(2);
  const backplanePort = chance(0.4);
  const guides = chance(0.2) ? ' guides' : '';
  lines.push('backplane CAGE {');
  if (twoPlaces) lines.push(`  slots 1..${slots} on P1 MAIN, P2 SIDE${guides}`);
  else if (buses.length > 1) lines.push(`  slots 1 on MAIN${guides}`, `  slots 2..${slots} on SIDE`);
  else lines.push(`  slots 1..${slots} on MAIN${guides}`);
  for (const { supply, its } of given) {
    for (const { name } of [...its, { name: 'GND' }])
      for (const bus of buses) {
        const at = carrying(bus, name);
        const which = twoPlaces ? `${bus === 'MAIN' ? 'P1' : 'P2'}.${at}` : `${at}`;
        if (at > 0 && (bus === 'MAIN' || twoPlaces) && chance(0.9))
          lines.push(`  feed ${name} from ${supply} at ${which}`);
      }
  }
  if (chance(0.3)) lines.push(`  wire 1${twoPlaces ? '.P1' : ''}.2 to 2${twoPlaces ? '.P1' : ''}.3`);
  if (backplanePort)
    lines.push(`  port PANEL on ${one(['BIG', 'SMALL'])} {`, ...table(2 * small, SIGNALS), '  }');
  lines.push('}');

  // Cards, each with a port or two, and whose ribbons lead from one to another.
  const ports: { readonly path: string; readonly on: string }[] = [];
  if (backplanePort)
    ports.push({ path: 'CAGE.PANEL', on: lines.at(-2 - 2 * small)!.includes('BIG') ? 'BIG' : 'SMALL' });
  const fitted: string[] = [];
  const loose: string[] = [];
  const cards = 2 + upTo(2);
  for (let c = 1; c <= cards; c++) {
    const name = `CARD${c}`;
    const edges =
      c === cards && chance(0.5) ? [] : twoPlaces && chance(0.5) ? ['MAIN', 'SIDE'] : [one(buses)];
    lines.push(`card ${name} {`);
    for (const bus of edges) {
      const place = twoPlaces ? `${bus === 'MAIN' ? 'P1' : 'P2'} ` : '';
      lines.push(`  edge ${place}on ${bus} {`);
      if (chance(0.3)) lines.push(`    ${1 + upTo(5)} = ${one([...SIGNALS, ...lineNames, 'GND'])}`);
      if (chance(0.4)) lines.push(...key(3).map((line) => `  ${line}`));
      if (chance(0.1)) lines.push(`    pulled ${1 + upTo(5)}`);
      lines.push('  }');
    }
    for (const rail of some(lineNames, 0.5)) lines.push(`  takes ${rail} 100 mA`);
    if (names.includes('+8V') && chance(0.6)) lines.push('  makes VCC from +8V with 7805');
    if (names.includes('-12V') && chance(0.5)) lines.push('  makes -5V from -12V with 7905');
    if (names.includes('+12V') && chance(0.3)) lines.push('  makes +5V from +12V with 7805');
    if (chance(0.4)) lines.push('  part U1..U2 with 4116');
    const heard = edges.flatMap((bus) => signalsIn(tables.get(bus)!, SIGNALS));
    for (const signal of some([...new Set(heard)], 0.7)) lines.push(`  ${use(dice, signal)}`);
    const own = edges.length === 0 ? 1 + upTo(1) : upTo(2);
    for (let j = 1; j <= own; j++) {
      const on = one(['BIG', 'BIG', 'SMALL', 'SMALL', 'ROW', 'SHELL', 'SOCKET']);
      const its = table(sizes[on]!, [...LOCAL, one(SIGNALS), 'VCC'], 0.5);
      for (const signal of some(signalsIn(its, LOCAL), 0.6)) lines.push(`  ${use(dice, signal)} at J${j}`);
      lines.push(`  port J${j} on ${on} {`, ...its);
      if (chance(0.2)) lines.push('    bump');
      if (chance(0.2)) lines.push(`    plugged ${1 + upTo(3)}`);
      lines.push('  }');
      ports.push({ path: `${name}.J${j}`, on });
    }
    if (chance(0.5)) lines.push('  untouched rest');
    lines.push('}');
    if (edges.length > 0 && fitted.length < slots && chance(0.85))
      fitted.push(`  ${fitted.length + 1} = ${name}`);
    else loose.push(`loose ${name}`);
  }
  lines.push('fitted CAGE {', ...fitted, '}', ...loose);
  lines.push(...cablesBetween(dice, ports, sizes, harness));
  if (chance(0.4)) {
    const [a, b] = [1 + upTo(5), 1 + upTo(5)];
    const slot = twoPlaces ? '1.P1' : '1';
    lines.push(
      `readings 2026-05-02 cards ${one(['in', 'out'])} power off leads 0.1 ohm {`,
      `  CAGE.${slot}.${a} to CAGE.${twoPlaces ? '2.P1' : '2'}.${b} = 0.2 ohm`,
      `  CAGE.${slot}.${b} to CAGE.${slot}.${a} = 0.2 ohm`,
      '}',
    );
  }
  return `${lines.join('\n')}\n`;
}

/** Those of some signals that a table has. */
const signalsIn = (table: readonly string[], signals: readonly string[]): string[] =>
  signals.filter((signal) => table.some((line) => line.endsWith(` = ${signal}`)));

interface Rail {
  readonly name: string;
  readonly volts: string;
}

const RAILS: readonly Rail[] = [
  { name: '+5V', volts: '5 V' },
  { name: '+12V', volts: '12 V' },
  { name: '-12V', volts: '-12 V' },
  { name: '-5V', volts: '-5 V' },
  { name: '+8V', volts: '7..11 V' },
  { name: 'LAMPS', volts: '12 V ac' },
];

/** What a card does on a line, and with which part, if that is said. */
function use({ one, chance }: Dice, signal: string): string {
  const kind = one(['drives', 'receives', 'transceives', 'pulls']);
  const part = {
    drives: ['74LS244', '74LS04', '1488', '74LS04 totem-pole'],
    receives: ['74LS', '74LS14', '1489'],
    transceives: ['74LS245'],
    pulls: ['7406', '74LS38'],
  }[kind]!;
  return `${kind} ${signal}${chance(0.85) ? ` with ${one(part).replace(' totem-pole', '')}` : ''}`;
}

/** Ribbons between ports of one size or two, with stripes either way, a third drop, twists, ends found unplugged; and cables. */
function cablesBetween(
  { chance, one, some, upTo }: Dice,
  ports: readonly { readonly path: string; readonly on: string }[],
  sizes: Readonly<Record<string, number>>,
  harness: string | undefined,
): string[] {
  const lines: string[] = [];
  const free = some(ports, 0.9);
  for (let r = 1; free.length > 1 && r <= 3; r++) {
    const ends = free.splice(0, chance(0.3) ? 3 : 2);
    const least = Math.min(...ends.map(({ on }) => sizes[on]!));
    if (chance(0.25)) {
      lines.push(`cable C${r} 18 AWG 600 mm {`);
      for (let k = 1; k <= least; k++)
        if (chance(0.7))
          lines.push(`  ${ends[0]!.path}.${k} = ${ends[1]!.path}.${chance(0.9) ? k : least + 1 - k}`);
      lines.push('}');
      continue;
    }
    const ways = chance(0.8) ? least : least - 1;
    lines.push(`ribbon W${r} ${ways} way${chance(0.1) ? ' rigid' : ''} {`);
    ends.forEach(({ path, on }, i) => {
      const stripe = chance(0.6) ? ` stripe ${one(['1', '1', String(sizes[on])])}` : '';
      const part = sizes[on] === ways ? '' : ` conductors 1..${ways}`;
      const bump = chance(0.3) ? ' bump' : '';
      const out = chance(0.15) ? ' found unplugged' : '';
      if (i > 0 && chance(0.15)) lines.push(`  twist 2..${2 + upTo(ways - 3)}`);
      lines.push(`  end ${path}${part}${stripe}${bump}${out}`);
    });
    lines.push('}');
  }
  const to = free[0];
  if (harness && to && chance(0.7)) {
    lines.push(`cable P 18 AWG 300 mm {`);
    for (let k = 1; k <= 4; k++) lines.push(`  ${harness}.${k} = ${to.path}.${k}`);
    lines.push('}');
  }
  return lines;
}

interface Dice {
  /** From 0 to 1, without 1. */
  readonly roll: () => number;
  readonly chance: (of: number) => boolean;
  /** 0 … most. */
  readonly upTo: (most: number) => number;
  readonly one: <T>(from: readonly T[]) => T;
  readonly some: <T>(from: readonly T[], of: number) => T[];
}

/** The same numbers for the same seed: a linear congruence (multiplier and increment of Numerical Recipes), its high bits. */
function diceOf(seed: number): Dice {
  let state = (seed * 2_654_435_761 + 12_345) >>> 0;
  const roll = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state >>> 4) / 2 ** 28;
  };
  const upTo = (most: number): number => Math.floor(roll() * (Math.max(0, most) + 1));
  return {
    roll,
    upTo,
    chance: (of) => roll() < of,
    one: (from) => from[upTo(from.length - 1)]!,
    some: (from, of) => from.filter(() => roll() < of),
  };
}
