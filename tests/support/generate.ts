/** A machine made for measuring: one backplane, every slot filled, every line used as on a real bus. */
export interface Size {
  readonly slots: number;
  readonly contacts: number;
  /** Goes into every name, so that no two texts share a line. */
  readonly tag?: string;
  /** Backplanes of that size. */
  readonly backplanes?: number;
}

interface Layout {
  readonly rails: readonly {
    readonly name: string;
    readonly volts: number;
    readonly contacts: readonly number[];
  }[];
  readonly data: readonly string[];
  readonly address: readonly string[];
  readonly control: readonly string[];
}

/** A tenth of the contacts each for ground and rails, the rest data, address and control. */
function layout({ contacts, tag = '' }: Size): Layout {
  const share = Math.max(1, Math.floor(contacts / 20));
  const at = (from: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + i + 1);
  const rails = [
    { name: 'GND', volts: 0, contacts: at(0, 2 * share) },
    { name: '+5V', volts: 5, contacts: at(2 * share, share) },
    { name: '+12V', volts: 12, contacts: at(3 * share, share) },
  ];
  const left = contacts - 4 * share;
  const named = (name: string, count: number): string[] =>
    Array.from({ length: count }, (_, i) => `${name}${tag}_${i}`);
  const third = Math.floor(left / 3);
  return {
    rails,
    data: named('D', third),
    address: named('A', third),
    control: named('C', left - 2 * third),
  };
}

/** The machine in the pinout language, one contact a line as a person would write it who knows each by itself. */
export function generatedText(size: Size): string {
  const { contacts, tag = '', backplanes = 1 } = size;
  const { rails, data, address, control } = layout(size);
  const lines = [
    'pinout 1',
    `title "Generated machine${tag}"`,
    `supply PSU${tag} {`,
    '  rail +5V 5 V 2 % max 500000 A',
    '  rail +12V 12 V 5 % max 500000 A',
    '  ground GND',
    '}',
    `connector EDGE${tag} {`,
    `  shape edge 2 x ${contacts / 2}`,
    `  numbers 1..${contacts}`,
    '  pitch 2.54 mm',
    '  contact 300 A 20 mohm',
    '  ends closed',
    '}',
    `bus MAIN${tag} on EDGE${tag} {`,
  ];
  for (const rail of rails) {
    for (const contact of rail.contacts)
      lines.push(`  ${contact} = ${rail.name} by meter 2026-05-02 "${tag}"`);
  }
  let contact = rails.flatMap((rail) => rail.contacts).length;
  for (const name of [...data, ...address, ...control]) lines.push(`  ${++contact} = ${name} by trace`);
  lines.push('}');
  for (let n = 0; n < backplanes; n++) lines.push(...backplane(size, n, { rails, data, address, control }));
  return `${lines.join('\n')}\n`;
}

function backplane(
  { slots, tag = '' }: Size,
  n: number,
  { rails, data, address, control }: Layout,
): string[] {
  const name = `CAGE${tag}_${n}`;
  const lines = [`backplane ${name} {`, `  slots 1..${slots} on MAIN${tag} pitch 20 mm guides`];
  for (const rail of rails)
    lines.push(`  feed ${rail.name} from PSU${tag} at ${rail.contacts[0]} by "lugs ${tag}"`);
  lines.push('}', `fitted ${name} {`);
  const cards: string[] = [];
  for (let slot = 1; slot <= slots; slot++) {
    const card = `CARD${tag}_${n}_${slot}`;
    lines.push(`  ${slot} = ${card} date 8327`);
    const master = slot === 1;
    cards.push(
      `card ${card} "board ${slot}" {`,
      `  edge on MAIN${tag}`,
      '  takes +5V 1 A',
      '  takes +12V 100 mA',
      `  transceives ${data.join(', ')} with 74LS245`,
      `  ${master ? 'drives' : 'receives'} ${address.join(', ')} with ${master ? '74S240' : '74LS'}`,
      `  ${master ? 'drives' : 'receives'} ${control.join(', ')} with ${master ? '74S240' : '74LS'}`,
      '  untouched rest',
      '}',
    );
  }
  lines.push('}');
  return [...cards, ...lines];
}

/** The same facts as plain data, for a general-purpose format. */
export function generatedData(size: Size): unknown {
  const { slots, contacts, tag = '', backplanes = 1 } = size;
  const { rails, data, address, control } = layout(size);
  const entries: unknown[] = [];
  for (const rail of rails) {
    for (const contact of rail.contacts) {
      entries.push({ contact, name: rail.name, evidence: { kind: 'meter', date: '2026-05-02', note: tag } });
    }
  }
  let contact = rails.flatMap((rail) => rail.contacts).length;
  for (const name of [...data, ...address, ...control])
    entries.push({ contact: ++contact, name, evidence: { kind: 'trace' } });
  const uses = (kind: string, names: readonly string[], part: string): unknown => ({ kind, names, part });
  return {
    title: `Generated machine${tag}`,
    supplies: [
      {
        name: `PSU${tag}`,
        rails: [
          { name: '+5V', volts: 5, tolerance: 2, max: 500000 },
          { name: '+12V', volts: 12, tolerance: 5, max: 500000 },
        ],
        grounds: ['GND'],
      },
    ],
    connectors: [
      {
        name: `EDGE${tag}`,
        shape: 'edge',
        rows: 2,
        positions: contacts / 2,
        pitch: 2.54,
        rating: 300,
        resistance: 0.02,
        ends: 'closed',
      },
    ],
    buses: [{ name: `MAIN${tag}`, connector: `EDGE${tag}`, entries }],
    backplanes: Array.from({ length: backplanes }, (_, n) => ({
      name: `CAGE${tag}_${n}`,
      bus: `MAIN${tag}`,
      pitch: 20,
      guides: true,
      feeds: rails.map((rail) => ({
        rail: rail.name,
        supply: `PSU${tag}`,
        contact: rail.contacts[0],
        hardware: `lugs ${tag}`,
      })),
      slots: Array.from({ length: slots }, (_, i) => ({
        slot: i + 1,
        card: `CARD${tag}_${n}_${i + 1}`,
        date: '8327',
      })),
    })),
    cards: Array.from({ length: slots * backplanes }, (_, i) => ({
      name: `CARD${tag}_${Math.floor(i / slots)}_${(i % slots) + 1}`,
      title: `board ${(i % slots) + 1}`,
      edge: `MAIN${tag}`,
      takes: [
        { rail: '+5V', amps: 1 },
        { rail: '+12V', amps: 0.1 },
      ],
      uses: [
        uses('transceives', data, '74LS245'),
        uses(i % slots === 0 ? 'drives' : 'receives', address, i % slots === 0 ? '74S240' : '74LS'),
        uses(i % slots === 0 ? 'drives' : 'receives', control, i % slots === 0 ? '74S240' : '74LS'),
      ],
      closed: true,
    })),
  };
}

const text = { type: 'string' };
const number = { type: 'number' };
const list = (items: unknown) => ({ type: 'array', items });
const object = (properties: Record<string, unknown>, optional: readonly string[] = []) => ({
  type: 'object',
  properties,
  required: Object.keys(properties).filter((key) => !optional.includes(key)),
  additionalProperties: false,
});

/** JSON Schema of that data, as strict as a person would write it. */
export const generatedSchema = object({
  title: text,
  supplies: list(
    object({
      name: text,
      rails: list(object({ name: text, volts: number, tolerance: number, max: number })),
      grounds: list(text),
    }),
  ),
  connectors: list(
    object({
      name: text,
      shape: { enum: ['edge', 'header', 'row', 'dip', 'dshell', 'din'] },
      rows: number,
      positions: number,
      pitch: number,
      rating: number,
      resistance: number,
      ends: { enum: ['open', 'closed'] },
    }),
  ),
  buses: list(
    object({
      name: text,
      connector: text,
      entries: list(
        object({
          contact: number,
          name: text,
          evidence: object(
            {
              kind: { enum: ['silkscreen', 'trace', 'meter', 'manual', 'guess'] },
              date: { type: 'string', pattern: '^\\d{4}-\\d{2}-\\d{2}$' },
              note: text,
            },
            ['date', 'note'],
          ),
        }),
      ),
    }),
  ),
  backplanes: list(
    object({
      name: text,
      bus: text,
      pitch: number,
      guides: { type: 'boolean' },
      feeds: list(object({ rail: text, supply: text, contact: number, hardware: text })),
      slots: list(object({ slot: number, card: text, date: text })),
    }),
  ),
  cards: list(
    object({
      name: text,
      title: text,
      edge: text,
      takes: list(object({ rail: text, amps: number })),
      uses: list(
        object({ kind: { enum: ['drives', 'transceives', 'receives'] }, names: list(text), part: text }),
      ),
      closed: { type: 'boolean' },
    }),
  ),
});

/** The same machine with nothing that keeps wrong plugs out, and ten ribbons of 26 and 34 ways between its cards, on open pins. */
export function generatedMisfits({ slots, contacts, tag = '' }: Size): string {
  const { rails } = layout({ slots, contacts, tag });
  const [ground, supply] = [rails[0]!.name, rails[1]!.name];
  const ways = (ribbon: number): number => (ribbon % 2 === 0 ? 26 : 34);
  const headers = [26, 34].map(
    (way) => `connector PINS${way} {\n  shape header 2 x ${way / 2}\n  numbers zigzag\n  pitch 2.54 mm\n}\n`,
  );
  const port = (way: number, drives: boolean): string =>
    [
      `  ${drives ? 'drives' : 'receives'} Q0..Q${way / 2 - 3} with ${drives ? '74LS244' : '74LS'} at J1`,
      `  port J1 on PINS${way} {`,
      `    1..${way - 1} step 2 = ${ground}`,
      `    2..${way - 4} step 2 = Q0..Q${way / 2 - 3}`,
      `    ${way - 2}, ${way} = ${supply}`,
      '  }',
      '',
    ].join('\n');
  let card = 0;
  const cards = generatedText({ slots, contacts, tag })
    .replace('  ends closed\n', '  ends open\n')
    .replace(' guides\n', '\n')
    .replaceAll('  untouched rest\n', () => {
      const mine = card++;
      return `${port(ways(mine >> 1), mine % 2 === 0)}  untouched rest\n`;
    });
  const ribbons = Array.from({ length: slots >> 1 }, (_, i) => {
    const end = (slot: number): string => `  end CARD${tag}_0_${slot}.J1 stripe 1\n`;
    return `ribbon W${i} ${ways(i)} way {\n${end(2 * i + 1)}${end(2 * i + 2)}}\n`;
  });
  return [cards, ...headers, ...ribbons].join('');
}
