import { describe, expect, it } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import type { View } from '../../../src/checks/types.ts';
import { type ConnectorPicture, connectorPicture, facesOf } from '../../../src/drawing/connector-picture.ts';
import { connectorSvg } from '../../../src/drawing/connector-svg.ts';
import { machineFromDisk, machineOf } from '../../support/machine.ts';
import {
  type Drawn,
  dangers,
  HOSTILE,
  outside,
  overlaps,
  placed,
  readSvg,
  textBoxes,
} from '../../support/svg.ts';

const viewOf = (text: string): View => {
  const { machine } = machineOf(`pinout 1\n${text}`);
  return { machine, nets: indexNets(machine) };
};

const RACK = `
supply PSU {
  rail +5V 5 V max 8 A
  rail +12V 12 V max 3 A
  ground GND
}
connector EDGE8 {
  shape edge 2 x 4
  numbers 1..4, A..D
  pitch 3.96 mm
  ends closed
  key between 2, 3
}
connector H10 {
  shape header 2 x 5
  numbers zigzag
  pitch 2.54 mm
  shroud notch
}
connector DE9 {
  shape dshell 9
}
connector D8 {
  shape dip 8
  numbers around
  pitch 2.54 mm
}
connector DIN {
  shape din 3 x 4
  numbers a1..a4, b1..b4, c1..c4
  pitch 2.54 mm
}
bus MAIN on EDGE8 {
  1, A = GND by silkscreen
  2 = +12V by meter 2026-05-02 "12.06 V"
  3 = D0 by trace
  4 = +5V by guess
  B = D1 by manual
  C = spare
}
bus WIDE on DIN {
  a1, c1 = GND by manual
  b1..b4 = B1..B4 by trace
  a4 = +5V by meter
}
backplane CAGE {
  slots 1..2 on MAIN
  feed +5V from PSU at 4
}
backplane CRATE {
  slots 1..2 on WIDE
}
card CPU "Processor" {
  edge on MAIN
  port J1 on H10 {
    1..7 step 2 = GND by trace
    2..8 step 2 = Q0..Q3 by trace
    pulled 9
    plugged 10
  }
  port J2 on DE9 {
    1 = GND by trace
  }
  port J3 on D8 {
    1 = GND by trace
  }
}
fitted CAGE {
  1 = CPU
}
`;
const view = viewOf(RACK);
const faceOf = (of: string): ConnectorPicture => connectorPicture(view, of)!;
const labelled = (face: ConnectorPicture, label: string) => face.contacts.find((one) => one.label === label)!;

/** Middles of the contacts' numbers in a picture. */
function middles(svg: string): ReadonlyMap<string, { x: number; y: number }> {
  const numbers = readSvg(svg).filter(
    ({ attributes, inside }) =>
      attributes.class === 'label' && inside.some((one) => one.startsWith('g face')),
  );
  return new Map(numbers.map((one) => [one.text, placed(one)]));
}
const textsOf = (svg: string): string[] =>
  readSvg(svg).flatMap(({ name, text }) => (name === 'text' ? text : []));

describe('the data of a connector face', () => {
  it('tells each contact with its claim, how it is known, and where that is said', () => {
    const face = faceOf('CAGE.1');
    expect(face).toMatchObject({
      of: 'CAGE.1',
      connector: 'EDGE8',
      board: 'CPU',
      pitch: 3.96,
      half: 'the socket',
    });
    expect(labelled(face, '2')).toMatchObject({
      name: '+12V',
      kind: 'rail',
      evidence: 'meter',
      known: 'meter 2026-05-02 "12.06 V"',
    });
    expect(labelled(face, 'D')).toMatchObject({ name: 'not said', kind: undefined, spot: undefined });
    const { file, from, to } = labelled(face, '3').spot!;
    expect(file).toMatch(/main\.pinout$/);
    expect(`pinout 1\n${RACK}`.slice(from, to)).toBe('3 = D0 by trace');
  });

  it('is plain data', () => {
    for (const of of facesOf(view)) {
      const face = faceOf(of);
      expect(connectorSvg(JSON.parse(JSON.stringify(face)), { side: 'mating' })).toBe(
        connectorSvg(face, { side: 'mating' }),
      );
    }
  });

  it('lists all that can be drawn, kinds of connectors too', () => {
    expect(facesOf(view)).toEqual([
      ...['CAGE.1', 'CAGE.2', 'CRATE.1', 'CRATE.2', 'CPU.edge', 'CPU.J1', 'CPU.J2', 'CPU.J3'],
      ...['EDGE8', 'H10', 'DE9', 'D8', 'DIN'],
    ]);
    expect(faceOf('H10').contacts.map(({ name }) => name)).toEqual(new Array(10).fill('not said'));
    expect(connectorPicture(view, 'CPU.J7')).toBeUndefined();
  });

  it('tells keys, pulled and plugged contacts, the shroud and hazards', () => {
    const edge = faceOf('CAGE.1');
    expect(edge.keys).toEqual([[1, 2]]);
    expect(edge.hazards.map(({ says }) => says)).toEqual([
      '2 +12V beside 3 D0: 12 V, up to 3 A; kills what hangs on the line',
      '2 +12V beside B D1: 12 V, up to 3 A; kills what hangs on the line',
      '2 +12V beside 1 GND: 12 V, up to 3 A; shorts the rail',
    ]);
    const header = faceOf('CPU.J1');
    expect(header.shroud).toBe('notch');
    expect([labelled(header, '9').state, labelled(header, '10').state]).toEqual(['pulled', 'plugged']);
  });

  it.each([
    ['CAGE.1', '1', 'A', 'below'],
    ['CPU.edge', '1', 'A', 'above'],
    ['CPU.J1', '1', '2', 'below'],
    ['CPU.J2', '1', '6', 'above'],
    ['CPU.J3', '1', '8', 'below'],
    ['CRATE.1', 'a1', 'c1', 'below'],
  ])(
    'draws at %s contact %s of the first row and %s of the last: the first lies %s',
    (of, one, other, where) => {
      const face = faceOf(of);
      const [first, last] = [labelled(face, one), labelled(face, other)];
      expect(first.y > last.y ? 'below' : 'above').toBe(where);
      expect(first.x).toBe(0);
      expect(last.x).toBe(of === 'CPU.J2' ? 0.5 : 0);
    },
  );
});

describe('a connector face drawn', () => {
  it('writes the side, and shows the other as the mirror image', () => {
    const [mating, wiring] = (['mating', 'wiring'] as const).map((side) =>
      connectorSvg(faceOf('CAGE.1'), { side }),
    );
    expect(textsOf(mating!)).toContain('Seen from the mating side: the socket, contact 1 at the left.');
    expect(textsOf(wiring!)).toContain('Seen from the wiring side: the socket, contact 1 at the right.');
    const [seen, behind] = [middles(mating!), middles(wiring!)];
    expect(seen.size).toBe(8);
    const sum = seen.get('1')!.x + behind.get('1')!.x;
    for (const [label, { x, y }] of seen) {
      expect(behind.get(label)!.x + x).toBeCloseTo(sum, 1);
      expect(behind.get(label)!.y).toBeCloseTo(y, 1);
    }
    expect(seen.get('1')!.x).toBeLessThan(seen.get('4')!.x);
  });

  it('prints life-size: millimetres, a bar of 10 mm, contacts at their pitch', () => {
    const svg = connectorSvg(faceOf('CPU.J1'), { side: 'mating', scale: '1:1' });
    const elements = readSvg(svg);
    const root = elements.at(-1)!.attributes;
    const [, , width, height] = root.viewBox!.split(' ').map(Number);
    expect(Number.parseFloat(root.width!)).toBeCloseTo((width! * 25.4) / 96, 2);
    expect(Number.parseFloat(root.height!)).toBeCloseTo((height! * 25.4) / 96, 2);
    expect([root.width, root.height]).toEqual([expect.stringMatching(/mm$/), expect.stringMatching(/mm$/)]);
    const mm = (px: number): number => (px * 25.4) / 96;
    const at = middles(svg);
    expect(mm(at.get('3')!.x - at.get('1')!.x)).toBeCloseTo(2.54, 2);
    expect(mm(at.get('1')!.y - at.get('2')!.y)).toBeCloseTo(2.54, 2);
    expect(textsOf(svg)).toContain('10 mm: measure this bar on the print');
    const bar = elements.find(({ attributes }) => attributes.d?.includes('v8M14 7h'))!.attributes.d!;
    expect(mm(Number(/h([\d.]+)m/.exec(bar)![1]))).toBeCloseTo(10, 2);
  });

  it('says where it is not to scale, and refuses to print that life-size', () => {
    const face = faceOf('CPU.J2');
    const said = textsOf(connectorSvg(face, { side: 'mating' })).join(' ');
    expect(said).toContain('Not to scale: nobody says the pitch.');
    expect(said).not.toContain('10 mm');
    expect(() => connectorSvg(face, { side: 'mating', scale: '1:1' })).toThrow(
      'CPU.J2 cannot be drawn at 1:1: connector DE9 does not say its pitch; measure it over ten contacts and add a line to it such as `pitch 2.54 mm`',
    );
  });

  it('gives each way of knowing its letter, and a guess a look of its own', () => {
    const elements = readSvg(connectorSvg(faceOf('CAGE.1'), { side: 'mating' }));
    const letters = elements.filter(
      ({ attributes, inside }) =>
        attributes.class === 'letter' && inside.some((one) => one.startsWith('g face')),
    );
    expect(letters.map(({ text }) => text)).toEqual([...'SMTG', ...'SB??']);
    const marks = elements.filter(
      ({ attributes, inside }) =>
        attributes.class?.startsWith('contact') && inside.some((one) => one.startsWith('g face')),
    );
    expect(
      marks.filter(({ attributes }) => attributes.class!.includes('guess')).map(({ title }) => title),
    ).toEqual(['4 +5V, guess']);
    expect(
      marks.filter(({ attributes }) => attributes.class!.includes('unsaid')).map(({ title }) => title),
    ).toEqual(['D not said, not said']);
  });

  it('draws keys and hazards between the two contacts they concern', () => {
    const svg = connectorSvg(faceOf('CAGE.1'), { side: 'wiring' });
    const at = middles(svg);
    const elements = readSvg(svg);
    const key = elements.find(({ title }) => title === 'key between 2 and 3')!;
    const middle = Number(key.attributes.x) + Number(key.attributes.width) / 2;
    expect(middle).toBeCloseTo((at.get('2')!.x + at.get('3')!.x) / 2, 1);
    const hazard = elements.find(({ title }) => title.startsWith('2 +12V beside B D1'))!;
    expect(placed(hazard).x).toBeCloseTo(at.get('2')!.x, 1);
    expect(placed(hazard).y).toBeLessThan(at.get('2')!.y);
    expect(placed(hazard).y).toBeGreaterThan(at.get('B')!.y);
  });

  it('explains only the marks that are there', () => {
    const header = textsOf(connectorSvg(faceOf('CPU.J1'), { side: 'mating' }));
    for (const text of ['pulled: no pin', 'plugged: hole blocked', 'shroud, open at its notch', 'traced'])
      expect(header).toContain(text);
    for (const text of ['key', 'metered', 'do not slip here', 'a guess']) expect(header).not.toContain(text);
  });

  it('cuts a name only beyond a width, and tells it whole where one points', () => {
    const long = `A${'0'.repeat(60)}`;
    const face = connectorPicture(viewOf(RACK.replace('= D0 by', `= ${long} by`)), 'CAGE.1')!;
    const names = readSvg(connectorSvg(face, { side: 'mating' })).filter(({ attributes: { class: one } }) =>
      one?.startsWith('name'),
    );
    expect(names.find(({ title }) => title === long)!.text).toMatch(/^A0{10,}\u2026$/);
    expect(names.map(({ text }) => text)).toContain('+12V');
  });
});

const LOOKS = (['mating', 'wiring'] as const).flatMap((side) =>
  (['reading', '1:1'] as const).map((scale) => ({ side, scale })),
);
const EXAMPLES = ['tide-gauge/as-found', 's100/s100', 'vme/vme', 'isa/isa'];

describe.each(LOOKS)('from the $side side at $scale', (look) => {
  it.each(EXAMPLES)('no text of %s lies on another or outside', (name) => {
    const { machine } = machineFromDisk(`examples/${name}.pinout`);
    const example: View = { machine, nets: indexNets(machine) };
    // Slots of one bus differ in nothing that counts here.
    const names = facesOf(example).filter((of) => !/^[A-Z]+\.([3-9]|10)$/.test(of));
    let drawn = 0;
    for (const of of names) {
      const face = connectorPicture(example, of)!;
      if (look.scale === '1:1' && face.pitch === undefined) continue;
      const svg = connectorSvg(face, look);
      const elements = readSvg(svg);
      const boxes = textBoxes(elements);
      expect([of, ...overlaps(boxes), ...outside(boxes, svg)]).toEqual([of]);
      expect(dangers(elements)).toEqual([]);
      drawn++;
    }
    expect(drawn).toBeGreaterThan(2);
  });

  it.each(HOSTILE)('%j stays a text', (bad) => {
    const face = faceOf('CAGE.1');
    const hostile: ConnectorPicture = {
      ...face,
      title: bad,
      of: bad,
      board: bad,
      connector: bad,
      contacts: face.contacts.map((one) => ({ ...one, label: bad, name: bad, known: bad })),
      hazards: face.hazards.map((one) => ({ ...one, says: bad })),
    };
    const elements: Drawn[] = readSvg(connectorSvg(hostile, look));
    expect(dangers(elements)).toEqual([]);
    expect(
      elements.filter(({ attributes }) => attributes.class?.startsWith('contact there')).length,
    ).toBeGreaterThan(7);
  });
});
