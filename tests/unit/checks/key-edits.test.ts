import { describe, expect, it } from 'vitest';
import { keyPlansOf } from '../../../src/analysis/wrong-mating/plans.ts';
import { isHarmful, wrongMatingOf } from '../../../src/analysis/wrong-mating/wrong-mating.ts';
import { keyEdits } from '../../../src/checks/key-edits.ts';
import { viewOf } from '../../../src/checks/run.ts';
import type { Edit } from '../../../src/checks/types.ts';
import { applied, textChanges } from '../../../src/editing/changes.ts';
import type { Machine } from '../../../src/machine/types.ts';
import { machineOf, ROOT } from '../../support/machine.ts';

/** Harmful cases that nothing prevents, not even what is half said. */
function open(machine: Machine): Set<string> {
  const mating = wrongMatingOf(machine);
  const all = mating.cases().filter((one) => one.verdict.state === 'open');
  return new Set(
    all
      .filter((one) => isHarmful(one, mating.outcome(one)))
      .map(({ plug, place, way }) => JSON.stringify([plug.name, plug.end, place.path, way])),
  );
}

/** What is offered for each connector that lacks keys, the text with all of it done, and how many cases were open and still are. */
function keyed(text: string): { edits: Edit[]; after: string; open: number[] } {
  const { machine, documents } = machineOf(text);
  const view = viewOf(machine);
  const edits = keyPlansOf(machine, wrongMatingOf(machine)).flatMap(({ plan }) =>
    plan ? keyEdits(view, plan) : [],
  );
  const changes = edits.flatMap((one) => {
    const made = textChanges(one, documents);
    expect(made).not.toEqual([]);
    return made;
  });
  expect(changes.every(({ file }) => file === ROOT)).toBe(true);
  const after = applied(text, changes);
  const now = machineOf(after).machine;
  expect(now.problems).toEqual([]);
  const [before, left] = [open(machine), open(now)];
  return { edits, after, open: [before.size, [...left].filter((one) => before.has(one)).length] };
}

/** A rack whose edges, turned, bring +12 V to logic. */
const rack = (on: string, rest = '') => `pinout 1
supply PSU {
  rail +5V 5 V max 3 A
  rail +12V 12 V max 1 A
  ground GND
}
${rest}
card CPU {
  edge on ${on}
  takes +5V 1 A
  drives D0 with 74LS244
}
card RAM {
  edge on ${on} {
    2 = private
  }
  takes +5V 1 A
  receives D0 with 74LS244
}
`;

const EDGE = `connector E8 {
  shape edge 1 x 8
}
`;

const bus = (name: string, five: string, twelve: string) => `bus ${name} on E8 {
  1 = GND
  ${five} = +5V
  ${twelve} = +12V
  4 = D0
}
`;

const FEEDS = `feed GND from PSU at 1
  feed +5V from PSU at 3
  feed +12V from PSU at 5`;

describe('keys of a connector that all get alike', () => {
  it('are written into its block for card edges, and leave nothing open', () => {
    const made = keyed(
      rack(
        'B',
        `${EDGE}${bus('B', '3', '5')}backplane CAGE {
  slots 1..2 on B
  ${FEEDS}
}
fitted CAGE {
  1 = CPU
}`,
      ),
    );
    expect(made.edits.map(({ title }) => title)).toEqual([
      expect.stringMatching(/^add `key between .*` to E8$/),
    ]);
    expect(made.after).toMatch(/connector E8 \{\n {2}shape +edge 1 x 8\n( {2}key +between \d, \d\n)+\}/);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });

  const header = (more: string) => `pinout 1
supply PSU {
  rail +24V 24 V max 3 A
  rail +5V 5 V max 3 A
  ground GND
  port P1 on H10 {
    1..2 = +24V
    3 = +5V
    4..8 = spare
    9..17 = GND
    18..20 = spare
  }
}
connector H10 {
  shape header 2 x 10
  numbers zigzag
${more}}
card LAMP {
  port J1 on H10 {
    1..2 = +24V
    3 = +5V
    4..8 = spare
    9..17 = GND
    18..20 = spare
  }
  takes +24V 1 A at J1
  takes +5V 1 A at J1
}
loose LAMP
ribbon W1 20 way {
  end PSU.P1 stripe 1
  end LAMP.J1 stripe 1
}
`;

  it('are pulled pins and plugged holes on headers', () => {
    const made = keyed(header(''));
    expect(made.after).toMatch(/ {2}pulled +(\d.*)\n {2}plugged +\1\n\}\ncard/);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });

  it('do not say again that a pin is pulled', () => {
    const { machine } = machineOf(header('  pulled 5\n'));
    const connector = machine.connectors.find(({ name }) => name === 'H10')!;
    const groups = [{ owners: [], names: [], places: [[4], [5]] as const }];
    const [made] = keyEdits(viewOf(machine), { connector, groups, prevents: 1, leaves: 0, costs: 0 });
    expect(made?.title).toBe('add `pulled 6` and `plugged 5, 6` to H10');
  });

  it('find pins that are pulled already, on which no hole stands', () => {
    const made = keyed(header('  pulled 4, 5, 18\n'));
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });
});

describe('keys of a published connector', () => {
  const isa = (slots: string, edge: string) => `pinout 1
use published "isa-8"
supply PSU {
  rail +5V 5 V max 3 A
  rail +12V 12 V max 1 A
  rail -12V -12 V max 1 A
  rail -5V -5 V max 1 A
  ground GND
}
backplane RACK {
  ${slots}
  feed GND from PSU at B1
  feed +5V from PSU at B3
  feed +12V from PSU at B9
  feed -12V from PSU at B7
  feed -5V from PSU at B5
}
card CPU {
  edge on ISA8${edge}
  drives SA0..SA19 with 74LS244
  takes +5V 1 A
}
card IO {
  edge on ISA8 {
    A10 = private
  }
  takes +5V 1 A
}
fitted RACK {
  1 = CPU
}
`;

  it('are said of the slots and of every edge, that of a card that no board is of included', () => {
    const made = keyed(isa('slots 1..4 on ISA8', ''));
    expect(made.edits.map(({ title }) => title)).toEqual([
      expect.stringMatching(/^add `key between A2, A3` to everything on ISA62$/),
    ]);
    expect(made.after).toMatch(/on ISA8 +key between A2, A3\n/);
    expect(made.after.match(/^ {4}key +between A2, A3$/gm)).toHaveLength(2);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });

  it('stand behind those that the slots have already', () => {
    // These two change places when a board is turned.
    const there = ['key between A15, A16', 'key between A16, A17'];
    const made = keyed(isa(`slots 1..4 on ISA8 ${there.join(' ')}`, ` {\n${there.join('\n')}\n}`));
    expect(made.after).toMatch(/ {2}key between A15, A16 {2}key between A16, A17 {2}key between A2, A3\n/);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });
});

describe('keys that places must tell apart', () => {
  it('are said of each port', () => {
    const port = (name: string, first: string, last: string) => `  port ${name} on R6 {
    1 = ${first}
    2..5 = spare
    6 = ${last}
  }
`;
    const made = keyed(`pinout 1
supply PSU {
  rail +24V 24 V max 3 A
  rail +5V 5 V max 3 A
  ground GND
${port('P1', '+24V', 'GND')}${port('P2', '+5V', 'GND')}}
connector R6 {
  shape header 2 x 3
  numbers zigzag
  shroud notch
  bump
}
card LAMP {
${port('J1', '+24V', 'GND')}${port('J2', '+5V', 'GND')}  takes +24V 1 A at J1
  takes +5V 1 A at J2
}
loose LAMP
ribbon W1 6 way {
  end PSU.P1 stripe 1
  end LAMP.J1 stripe 1
}
ribbon W2 6 way {
  end PSU.P2 stripe 1
  end LAMP.J2 stripe 1
}
`);
    expect(made.edits.map(({ title }) => title)).toEqual([
      'key R6 differently for LAMP.J1 and PSU.P1 than for PSU.P2 and LAMP.J2',
    ]);
    expect(made.after.match(/^ {4}pulled +\d$/gm)).toHaveLength(4);
    expect(made.after.match(/^ {4}plugged +\d$/gm)).toHaveLength(4);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });

  const two = (slots: string, feeds: string) => `pinout 1
supply PSU {
  rail +5V 5 V max 3 A
  rail +12V 12 V max 1 A
  ground GND
}
${EDGE}${bus('B', '3', '5')}${bus('C', '5', '3')}backplane CAGE {
  ${slots}
  ${feeds}
}
card CPU {
  edge on B
  takes +5V 1 A
}
card RAM {
  edge on C {
    2 = private
  }
  takes +5V 1 A
}
fitted CAGE {
  1 = CPU
  2 = RAM
}
`;

  it('are said of the slots of each bus and of the edges made for it', () => {
    const made = keyed(
      two(
        'slots 1 on B guides\n  slots 2 on C guides',
        'feed GND from PSU at 1\n  feed +5V from PSU at 3\n  feed +12V from PSU at 5',
      ),
    );
    expect(made.edits.map(({ title }) => title)).toEqual(['key E8 differently for C than for B']);
    expect(made.after.match(/^ {2}slots .* key between \d, \d$/gm)).toHaveLength(2);
    expect(made.after.match(/^ {4}key +between \d, \d$/gm)).toHaveLength(2);
    expect(made.open[0]).toBeGreaterThan(0);
    expect(made.open[1]).toBe(0);
  });
});
