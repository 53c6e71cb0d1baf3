import { describe, expect, test } from 'vitest';
import { type CompletionKind, completionDetails } from '../../../src/editing/completion.ts';
import { behind, type Case, compared, offered, taken, within } from '../../support/completion.ts';
import { opened } from '../../support/project.ts';

const held = (cases: Record<string, Case>): void => {
  test.each(Object.entries(cases))('%s', (_, one) => {
    const { found, wanted } = compared(one);
    expect(found).toEqual(wanted);
  });
};

describe('units', () => {
  held({
    'of what can stand there': {
      text: within('card CPU', 'takes -12V 60 |'),
      first: ['A', 'mA', 'uA'],
      never: ['V', 'ohm', 'by', 'at'],
    },
    'with the number where no space stands between': {
      text: within('card CPU', 'takes -12V 60|'),
      first: ['60 A', '60 mA'],
    },
    'behind a word, of what it means': {
      text: within('supply PSU', 'rail +12V 12 V max 2 |'),
      first: ['A', 'mA'],
      never: ['V', '%'],
    },
    'what the line has said already is not meant again': {
      text: within('supply PSU', 'rail +12V 12 V 2 |'),
      first: ['%'],
      never: ['V'],
    },
    'a resistor': {
      text: within('backplane CAGE', 'pull-up /RD 1 |'),
      first: ['ohm'],
      has: ['kohm'],
      never: ['V', 'mA'],
    },
    'a place along a ribbon': {
      text: behind('ribbon W1 10 way {\n  end GAUGE.J1 at 300 |\n}'),
      first: ['mm'],
      never: ['A', 'ohm'],
    },
    'a reading': {
      text: behind('readings {\n  CAGE.1.2 to GND = 48 |\n}'),
      first: ['ohm'],
      has: ['V', 'mA'],
      never: ['mm'],
    },
    'conductors or a size': { text: behind('ribbon W1 26 |'), first: ['way', 'AWG', 'mm'] },
    'a width is said once': { text: behind('ribbon W1 26 way 28 |'), first: ['AWG', 'mm'], never: ['way'] },
    'a need of a chip': {
      text: within('card GAUGE', 'part U4 with 4116 -5V 3 |'),
      first: ['A', 'mA'],
      never: ['V'],
    },
    'none behind a contact or a slot': {
      text: within('backplane CAGE', 'feed +5V from PSU at 2 |'),
      never: ['V', 'A', 'mm', 'ohm'],
    },
    'what a rail’s name says': { text: within('supply PSU', 'rail +24V |'), first: ['24 V'], has: ['max'] },
    'and not twice': { text: within('supply PSU', 'rail +24V 24 V |'), never: ['24 V'] },
  });

  test('number and unit replace the number', () => {
    const text = within('card CPU', 'takes -12V 60|');
    const mA = offered(text).find(({ label }) => label === '60 mA')!;
    expect(taken(text.replace('|', ''), mA)).toContain('takes -12V 60 mA\n');
  });
});

describe('how it is known', () => {
  const options = { today: '2026-06-01' };
  held({
    'evidence words, the surest first, and nothing else': {
      text: within('card CPU', 'takes -12V 60 mA by |'),
      first: ['silkscreen', 'trace', 'meter', 'manual', 'guess'],
      never: ['peak', 'at', 'by'],
    },
    'the day it was measured': {
      text: within('card CPU', 'takes -12V 60 mA by meter |'),
      options,
      first: ['2026-06-01', '"note"'],
      has: ['photo'],
    },
    'no day where the host knows none': {
      text: within('card CPU', 'takes -12V 60 mA by meter |'),
      never: ['2026-06-01'],
    },
    'the day of readings': { text: behind('readings |'), options, first: ['2026-06-01'] },
    'one day for all readings': {
      text: behind('readings 2026-05-02 cards out |'),
      options,
      never: ['2026-06-01'],
    },
    'a picture of the workspace': {
      text: within('card CPU', 'takes -12V 60 mA by meter photo "|"'),
      options: { photos: ['/machine/img/slot3.jpg'] },
      first: ['img/slot3.jpg'],
    },
  });

  test('each tells what it means', () => {
    expect(offered(within('card CPU', 'takes +5V 1 A by |'))[1]).toMatchObject({
      kind: 'evidence',
      detail: 'followed by eye along the copper',
    });
  });
});

describe('files and tables', () => {
  const options = {
    files: ['/machine/main.pinout', '/machine/bus.pinout', '/machine/old/rack.pinout', '/shared/x.pinout'],
  };
  held({
    'files of the workspace as seen from this one': {
      text: 'pinout 1\nuse "|"\n',
      options,
      first: ['bus.pinout', 'old/rack.pinout', '../shared/x.pinout'],
      never: ['main.pinout'],
    },
    'tables that ship with the product': {
      text: 'pinout 1\nuse published "|"\n',
      first: ['ieee-696', 'vme-j1', 'isa-8'],
      never: ['bus.pinout'],
    },
    'those used already come last': {
      text: 'pinout 1\nuse published "ieee-696"\nuse published "|"\n',
      first: ['vme-j1', 'isa-8', 'ieee-696'],
    },
    'either, before there is a quote': {
      text: 'pinout 1\nuse |\n',
      options,
      first: ['"bus.pinout"'],
      has: ['published'],
    },
    'tables behind `published`': { text: 'pinout 1\nuse published |\n', first: ['"ieee-696"'] },
  });

  test('a file replaces what stands in the quotes and closes them where need be', () => {
    const closed = 'pinout 1\nuse "b|us.pin"\n';
    expect(taken(closed.replace('|', ''), offered(closed, options)[0]!)).toBe('pinout 1\nuse "bus.pinout"\n');
    const open = 'pinout 1\nuse "bus.p|\n';
    expect(taken(open.replace('|', ''), offered(open, options)[0]!)).toBe('pinout 1\nuse "bus.pinout"\n');
  });
});

describe('silencing a finding', () => {
  const findings = within('card CPU', 'drives D0 with 7406X');
  held({
    'rules that find something now first': {
      text: `${findings}allow |`,
      has: ['part-unknown', 'rail-conflict'],
      never: ['7406X'],
    },
    'places that the rule’s findings are about': {
      text: behind('supply AUX {\n  rail +24V 24 V\n}\nallow rail-unused at |'),
      has: ['+24V', '-12V'],
      never: ['D0', 'GND'],
    },
    'the reason in quotes': { text: behind('allow rail-unused at +24V |'), first: ['"reason"'] },
  });

  test('a reason that nobody types stays none', () => {
    const [reason] = offered(behind('allow rail-unused at +24V |'));
    expect(reason?.insert).toBe('"$1"');
  });

  test('a rule tells how much it finds', () => {
    const all = offered(behind('supply AUX {\n  rail +24V 24 V\n}\nallow |'));
    expect(all.find(({ label }) => label === 'rail-unused')?.detail).toBe('2 findings now');
    expect(all.findIndex(({ label }) => label === 'rail-unused')).toBeLessThan(
      all.findIndex(({ label }) => label === 'rail-conflict'),
    );
  });
});

describe('parts', () => {
  held({
    'drivers: those the machine uses for it first': {
      text: within('card GAUGE', 'drives D0 with |'),
      first: ['74LS244'],
      has: ['74S240', '8T97'],
      never: ['7905', '2708'],
    },
    'of the kind of output that the line says': {
      text: within('card CPU', 'drives D0 three-state with |'),
      first: ['74LS244'],
      never: ['7406', '74LS'],
    },
    'transceivers before other drivers': {
      text: within('card GAUGE', 'transceives D0 with |'),
      first: ['74LS245', '74LS640'],
      never: ['7406'],
    },
    'open collectors to pull': {
      text: within('card CPU', 'pulls D0 with |'),
      first: ['7406'],
      has: ['7438', '74LS05'],
      never: ['74LS244'],
    },
    'families for what is heard': {
      text: within('card CPU', 'receives D0 with |'),
      first: ['74LS'],
      has: ['74HCT', '74LS244'],
      never: ['7905'],
    },
    'regulators of the polarity and voltage wanted first': {
      text: within('card CPU', 'makes -5V from -12V with |'),
      first: ['7905', '79L05'],
      has: ['LM337', '7912'],
      never: ['7805', 'LM317'],
    },
    'chips whose rails matter before others': {
      text: within('card CPU', 'part U1 with |'),
      first: ['4116'],
      has: ['2708', 'Z80'],
      never: ['7905'],
    },
    'parts and families of one’s own': {
      text: within('card CPU', 'drives D0 with |').concat(
        'family HOUSE {\n  supply 5 V\n}\npart 8T99 {\n  like HOUSE\n  output three-state\n}\n',
      ),
      first: ['8T99'],
      has: ['HOUSE'],
    },
    'families that a part is like, one’s own first': {
      text: behind('family HOUSE {\n  supply 5 V\n}\npart X {\n  like |\n}'),
      first: ['HOUSE', '74'],
      has: ['74LS'],
      never: ['74LS244'],
    },
  });

  test('the details come from the tables, with their source', () => {
    const { project, file } = opened(behind(''));
    const analysis = project.of(file)!;
    const text = completionDetails(analysis, { kind: 'part', label: '74LS244' });
    expect(text).toContain('24 mA at 0.5 V');
    expect(text).toContain('figures:');
    const details = (kind: CompletionKind, label: string): string | undefined =>
      completionDetails(analysis, { kind, label });
    expect(details('regulator', '7905')).toContain('regulator:');
    expect(details('signal', 'D0..D3')).toMatch(/^\*\*`D0`\*\* line/);
    expect(details('rail', '+5V')).toMatch(/^\*\*`\+5V`\*\* rail/);
    expect(details('card', 'GAUGE')).toContain('`J1`');
    expect(completionDetails(analysis, { kind: 'rule', label: 'rail-conflict' })).toContain('two rails');
    expect(completionDetails(analysis, { kind: 'word', label: 'with' })).toBeUndefined();
  });
});
