import { describe, expect, it } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { type RibbonPicture, ribbonPictures } from '../../../src/drawing/ribbon-picture.ts';
import { ribbonSvg } from '../../../src/drawing/ribbon-svg.ts';
import { readToPage } from '../../../src/drawing/to-page.ts';
import { machineFromDisk, machineOf } from '../../support/machine.ts';
import { dangers, HOSTILE, outside, overlaps, readSvg, textBoxes } from '../../support/svg.ts';

const PARTS = `pinout 1
supply PSU {
  rail +5V 5 V max 8 A
  ground GND
}
connector H6 {
  shape header 2 x 3
  numbers zigzag
  pitch 2.54 mm
  shroud notch
  key between 3, 5
}
connector R2 {
  shape row 2
}
card A {
  port J1 on H6 {
    1 = GND by trace
    2..5 = D0..D3 by meter
    6 = +5V by guess
  }
  port P on R2 {
    1 = GND by trace
    2 = +5V by meter
  }
}
card B {
  port J1 on H6 {
    1 = GND by trace
    2..5 = D0..D3 by trace
    6 = +5V by trace
  }
  port P on R2 {
    1 = GND by silkscreen
    2 = D9
  }
}
loose A "left"
loose B "right"
`;

function picturesOf(text: string): RibbonPicture[] {
  const { machine } = machineOf(text);
  return ribbonPictures({ machine, nets: indexNets(machine) });
}
const ribbonOf = (lines: string, parts = PARTS): RibbonPicture =>
  picturesOf(`${parts}ribbon W1 6 way 28 AWG {\n${lines}\n}\n`)[0]!;

const ASTRAY = `pinout 1
connector R4 {
  shape row 4
}
card A {
  port J1 on R4 {
    1 = GND
    2 = X
    3 = Y
    4 = spare
  }
}
card B {
  port J1 on R4 {
    1 = GND
    2 = X
    3 = spare
    4 = Y
  }
}
loose A
loose B
ribbon W1 4 way {
  end A.J1 stripe 1
  end B.J1 stripe 1
}
`;

/** Each conductor's contacts and verdicts: `2 2 D0 | 5 D3 crossed`. */
const told = ({ conductors }: RibbonPicture): string[] =>
  conductors.map(
    ({ number, meets }) =>
      `${number} ${meets.map((met) => (met ? [met.label, met.name, met.verdict ?? ''].join(' ').trim() : '-')).join(' | ')}`,
  );
const textsOf = (svg: string): string[] =>
  readSvg(svg).flatMap(({ name, text }) => (name === 'text' ? text : []));

/** Of what is wrong, each once. */
const shapesOf = (svg: string): string[] => [
  ...new Set(
    readSvg(svg).flatMap(({ name, attributes, inside }) =>
      name === 'path' && attributes.class !== 'halo' && inside.at(-1) === 'g verdict wrong'
        ? attributes.d!
        : [],
    ),
  ),
];

const NO_MENU = { bus: [], connector: [], ribbon: [], 'what-if': [] };

describe('the data of a ribbon', () => {
  it('tells the contact and claim that each conductor meets at each end', () => {
    const picture = ribbonOf('end A.J1 stripe 1 bump\nend B.J1 stripe 1 at 300 mm');
    expect(told(picture)).toEqual([
      '1 1 GND | 1 GND',
      '2 2 D0 | 2 D0',
      '3 3 D1 | 3 D1',
      '4 4 D2 | 4 D2',
      '5 5 D3 | 5 D3',
      '6 6 +5V | 6 +5V',
    ]);
    expect(picture.ends).toMatchObject([
      {
        place: 'A.J1',
        connector: 'H6',
        stripe: '1',
        turned: false,
        bump: true,
        shroud: 'notch',
        keys: ['3 5'],
      },
      { place: 'B.J1', stripe: '1', bump: false, along: 300 },
    ]);
    expect(picture.pattern).toBeUndefined();
    const spot = picture.conductors[5]!.meets[0]!.spot!;
    expect(PARTS.slice(spot.from, spot.to)).toBe('6 = +5V by guess');
  });

  it('tells what a turned end joins, and that it is as if turned', () => {
    const picture = ribbonOf('end A.J1 stripe 1\nend B.J1 stripe 6');
    expect(picture.pattern).toBe('turned');
    expect(told(picture)).toEqual([
      '1 1 GND | 6 +5V power',
      '2 2 D0 | 5 D3 crossed',
      '3 3 D1 | 4 D2 crossed',
      '4 4 D2 | 3 D1 crossed',
      '5 5 D3 | 2 D0 crossed',
      '6 6 +5V | 1 GND power',
    ]);
  });

  it('tells a line that both ends have and that meets a spare at each', () => {
    expect(told(picturesOf(ASTRAY)[0]!)).toEqual([
      '1 1 GND | 1 GND',
      '2 2 X | 2 X',
      '3 3 Y | 3 spare stray',
      '4 4 spare | 4 Y stray',
    ]);
  });

  it('keeps the order across the ribbon behind a twist', () => {
    const { ends } = ribbonOf('end A.J1 stripe 1\ntwist 2..4\nend B.J1 stripe 1');
    expect(ends.map(({ order }) => order)).toEqual([
      [0, 1, 2, 3, 4, 5],
      [0, 3, 2, 1, 4, 5],
    ]);
  });

  it('shows an end that was unplugged, one that nobody knows, and a pin that is missing', () => {
    const picture = ribbonOf(
      'end A.J1 stripe 1\nend unknown "behind the rack"\nend B.J1 conductors 1..4 found unplugged',
      PARTS.replace('    6 = +5V by guess', '    6 = +5V by guess\n    pulled 2'),
    );
    expect(picture.ends.map(({ known, unplugged }) => [known, unplugged])).toEqual([
      [true, false],
      [false, false],
      [true, true],
    ]);
    expect(picture.ends[2]!.stripe).toBeUndefined();
    expect(told(picture).slice(3)).toEqual(['4 4 D2 | - | 4 D2', '5 5 D3 | - | -', '6 6 +5V | - | -']);
    expect(picture.conductors[1]!.meets[0]).toMatchObject({ label: '2', state: 'pulled' });
    // The pin is missing on the board: with all ends out its conductor rings like the others.
    expect(picture.sheet.buzz.map(({ number }) => number)).toEqual([1, 2, 3, 4]);
  });

  it('makes a sheet to build and ring the ribbon by', () => {
    const { sheet } = ribbonOf('end A.J1 stripe 1 bump\nend B.J1 stripe 6 at 300 mm');
    expect(sheet.parts).toEqual([
      '6-way ribbon, 28 AWG',
      'length 300 mm',
      '2 x mate of header 2 x 3 (H6), pitch 2.54 mm, shroud with notch, for A.J1, B.J1',
    ]);
    expect(sheet.places).toEqual(['A.J1: stripe at 1, with bump', 'B.J1: at 300 mm, stripe at 6, turned']);
    expect(sheet.buzz.slice(0, 2)).toEqual([
      { number: 1, contacts: ['A.J1.1', 'B.J1.6'] },
      { number: 2, contacts: ['A.J1.2', 'B.J1.5'] },
    ]);
  });

  it('tells the wires of a cable', () => {
    const [picture] = picturesOf(`${PARTS}cable C1 18 AWG 700 mm {\n  A.P.1..2 = B.P.1..2\n}\n`);
    expect(told(picture!)).toEqual(['1 1 GND | 1 GND', '2 2 +5V | 2 D9 power']);
    expect(picture!.conductors[1]!.meets.map((met) => met!.place)).toEqual(['A.P.2', 'B.P.2']);
    expect(picture!.sheet.parts).toEqual([
      '2 wires, 18 AWG',
      'length 700 mm',
      '2 x mate of row 2 (R2), pitch not said, for A.P, B.P',
    ]);
  });

  describe('of a cable with wires that share contacts', () => {
    const cable = (wires: string, parts = PARTS): RibbonPicture =>
      picturesOf(`${parts}cable C1 {\n${wires}\n}\n`)[0]!;
    const rings = ({ sheet }: RibbonPicture) => sheet.buzz.map(({ contacts }) => contacts.join(' '));
    const gone = (how: string) => PARTS.replace('    6 = +5V by guess', `    6 = +5V by guess\n    ${how}`);

    it('lets ring together what they join, also by a wire that comes later', () => {
      expect(rings(cable('A.J1.1 = B.P.1\nA.J1.1 = B.P.2\nA.J1.2..3 = B.J1.2..3'))).toEqual([
        'A.J1.1 B.P.1 B.P.2',
        'A.J1.2 B.J1.2',
        'A.J1.3 B.J1.3',
      ]);
      expect(rings(cable('A.J1.1 = B.P.1\nA.J1.2 = B.P.2\nA.J1.3 = B.J1.3\nA.J1.1 = A.J1.2'))).toEqual([
        'A.J1.1 B.P.1 A.J1.2 B.P.2',
        'A.J1.3 B.J1.3',
      ]);
    });

    it('has a wire to a pin that is pulled', () => {
      const picture = cable('A.J1.2..4 = B.J1.2..4', gone('pulled 3'));
      expect(picture.sheet.parts[0]).toBe('3 wires, gauge not said');
      expect(told(picture)).toEqual(['1 2 D0 | 2 D0', '2 3 D1 | 3 D1', '3 4 D2 | 4 D2']);
      expect(picture.conductors[1]!.meets[0]!.state).toBe('pulled');
      expect(rings(picture)[1]).toBe('A.J1.3 B.J1.3');
    });

    it('cannot probe a hole that is plugged, though two wires are joined there', () => {
      expect(rings(cable('A.J1.3 = B.J1.3\nA.J1.3 = B.J1.4\nA.J1.2 = B.J1.2', gone('plugged 3')))).toEqual([
        'B.J1.3 B.J1.4',
        'A.J1.2 B.J1.2',
      ]);
    });

    it('leaves the wire to a pin that is pulled out of what the ends mean to each other', () => {
      expect(told(cable('A.P.1 = B.P.2'))).toEqual(['1 1 GND | 2 D9 ground']);
      const pulled = PARTS.replace('    2 = D9', '    2 = D9\n    pulled 2');
      expect(told(cable('A.P.1 = B.P.2', pulled))).toEqual(['1 1 GND | 2 D9']);
    });

    it('keeps many on lines of their own below each other', () => {
      const stars = `connector R20 {\n  shape row 20\n}\ncard C {\n  port J1 on R20 {\n    1..20 = GND\n  }\n}\nloose C\n`;
      const svg = ribbonSvg(
        cable(
          `${Array.from({ length: 18 }, (_, i) => `A.P.1 = C.J1.${i + 1}`).join('\n')}\nA.P.2 = B.P.2`,
          PARTS + stars,
        ),
      );
      const boxes = textBoxes(readSvg(svg));
      expect([...overlaps(boxes), ...outside(boxes, svg)]).toEqual([]);
      const ticks = readSvg(svg).filter(
        ({ name, attributes }) => name === 'rect' && attributes.width === '8',
      );
      expect(ticks).toHaveLength(2);
      expect(Number(/width="(\d+)"/.exec(svg)![1])).toBeLessThan(1700);
    });
  });

  it('is plain data', () => {
    const picture = ribbonOf('end A.J1 stripe 1\nend B.J1 stripe 6');
    expect(ribbonSvg(JSON.parse(JSON.stringify(picture)))).toBe(ribbonSvg(picture));
  });
});

describe('a ribbon drawn', () => {
  it('says in words and by a shape what is joined wrongly', () => {
    const svg = ribbonSvg(ribbonOf('end A.J1 stripe 1\nend B.J1 stripe 6'));
    expect(textsOf(svg)).toEqual(
      expect.arrayContaining([
        'What is wrong is as if one connector were turned.',
        'stripe at 6: turned',
        'rail meets something else at B.J1',
        'crossed at B.J1',
        'As described: put right first what is marked.',
      ]),
    );
    const marks = readSvg(svg).filter(
      ({ attributes }) => attributes.class === 'verdict wrong' && attributes.transform !== undefined,
    );
    // Six on the conductors, two in the legend.
    expect(marks).toHaveLength(8);
    expect(shapesOf(svg)).toHaveLength(2);
  });

  it('marks a line that meets a spare by a shape of its own, also on its way to the page', () => {
    const [picture] = picturesOf(ASTRAY);
    const sent = { view: 'ribbon', picture };
    const message = { kind: 'drawing', version: 1, root: 'a', of: 'W1', menu: NO_MENU, at: 0, sent };
    expect(readToPage(JSON.parse(JSON.stringify(message)))).toBeDefined();
    const svg = ribbonSvg(picture!);
    const says = 'line of both ends meets a spare';
    expect(textsOf(svg)).toEqual(expect.arrayContaining([says, `${says} at B.J1`]));
    expect(textsOf(svg).join()).not.toContain('undefined');
    const crossed = ribbonSvg(ribbonOf('end A.J1 stripe 1\nend B.J1 stripe 6'));
    expect(shapesOf(svg)).toHaveLength(1);
    expect(shapesOf(crossed)).not.toContain(shapesOf(svg)[0]);
  });

  it('marks nothing where all is well', () => {
    const svg = ribbonSvg(ribbonOf('end A.J1 stripe 1\nend B.J1 stripe 1'));
    expect(readSvg(svg).filter(({ attributes }) => attributes.class?.includes('wrong'))).toEqual([]);
    expect(textsOf(svg)).toContain('conductor 1, striped');
  });

  it('shows twist, stripe, unplugged and unknown ends', () => {
    const svg = ribbonSvg(
      ribbonOf('end A.J1\ntwist 2..4\nend unknown "behind the rack"\nend B.J1 found unplugged'),
    );
    const texts = textsOf(svg);
    for (const text of [
      'twist',
      'STRIPE NOT SAID',
      'drawn as if at 1',
      'UNPLUGGED',
      'behind the rack',
      'end unknown',
      'unplugged here',
    ])
      expect(texts).toContain(text);
    const open = readSvg(svg).filter(({ name }) => name === 'circle');
    // One at each conductor, one in the legend.
    expect(open).toHaveLength(7);
  });

  it('leads a conductor from its place at the one end to its place at the other', () => {
    const svg = ribbonSvg(ribbonOf('end A.J1 stripe 1\ntwist 2..4\nend B.J1 stripe 1'));
    const steps = readSvg(svg).flatMap(({ attributes: { class: one, d } }) => {
      const found = one?.startsWith('conductor') && /^M\S+ (\S+)H\S+L\S+ (\S+)H/.exec(d!);
      return found ? [(Number(found[2]) - Number(found[1])) / 20] : [];
    });
    expect(steps).toEqual([0, 2, 0, -2, 0, 0]);
  });
});

describe.each(['tide-gauge/as-found', 'tide-gauge/tide-gauge', 's100/s100'])('%s', (name) => {
  const { machine } = machineFromDisk(`examples/${name}.pinout`);
  it.each(ribbonPictures({ machine, nets: indexNets(machine) }).map((one) => [one.name, one] as const))(
    'no text of %s lies on another or outside',
    (_, picture) => {
      const svg = ribbonSvg(picture);
      const elements = readSvg(svg);
      const boxes = textBoxes(elements);
      expect(boxes.length).toBeGreaterThan(20);
      expect([...overlaps(boxes), ...outside(boxes, svg)]).toEqual([]);
      expect(dangers(elements)).toEqual([]);
    },
  );
});

describe('hostile names', () => {
  const picture = ribbonOf('end A.J1 stripe 1\nend unknown\nend B.J1 stripe 6 found unplugged');
  it.each(HOSTILE)('%j stays a text', (bad) => {
    const svg = ribbonSvg({
      ...picture,
      title: bad,
      name: bad,
      ends: picture.ends.map((end) => ({ ...end, place: bad, connector: bad, stripe: bad, keys: [bad] })),
      conductors: picture.conductors.map((conductor) => ({
        ...conductor,
        meets: conductor.meets.map((met) => met && { ...met, label: bad, name: bad, known: bad, place: bad }),
      })),
      sheet: {
        parts: [bad],
        places: [bad],
        buzz: picture.sheet.buzz.map(({ number }) => ({ number, contacts: [bad, bad] })),
      },
    });
    const elements = readSvg(svg);
    expect(dangers(elements)).toEqual([]);
    const boxes = textBoxes(elements);
    expect([...overlaps(boxes), ...outside(boxes, svg)]).toEqual([]);
  });
});
