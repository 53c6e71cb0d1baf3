import { describe, expect, it, test } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { check } from '../../../src/checks/run.ts';
import { severities } from '../../../src/checks/severities.ts';
import { MARKS_SHOWN, type MarksShown } from '../../../src/drawing/bus-layout.ts';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { busSvg } from '../../../src/drawing/bus-svg.ts';
import type { BusPicture } from '../../../src/drawing/picture.ts';
import { generatedText } from '../../support/generate.ts';
import { type Built, machineFromDisk, machineOf } from '../../support/machine.ts';
import { dangers, HOSTILE, outside, overlaps, readSvg, textBoxes } from '../../support/svg.ts';

function picturesOf({ machine, documents }: Built): BusPicture[] {
  return busPictures({ machine, nets: indexNets(machine) }, check(machine, documents));
}

const EXAMPLES = ['tide-gauge/as-found', 'tide-gauge/tide-gauge', 's100/s100', 'vme/vme', 'isa/isa'];
const PICTURES = new Map(
  EXAMPLES.map((name) => [name, picturesOf(machineFromDisk(`examples/${name}.pinout`))]),
);
const [AS_FOUND] = PICTURES.get('tide-gauge/as-found') as [BusPicture];

/** What is written as marks and in the legend. */
function written(picture: BusPicture, marks: MarksShown) {
  const elements = readSvg(busSvg(picture, { marks }));
  const inLine = (inside: readonly string[]): boolean => inside.includes('g line');
  return {
    marks: elements.flatMap(({ text, attributes, inside }) =>
      inLine(inside) && /^(value|amount)$/.test(attributes.class ?? '') ? text : [],
    ),
    legend: elements.flatMap(({ name, text, inside }) => (name === 'text' && !inLine(inside) ? text : [])),
    frames: elements.filter(({ attributes, inside }) => inLine(inside) && attributes.class === 'frame')
      .length,
  };
}

describe.each(MARKS_SHOWN)('marks that show %s', (marks) => {
  it.each(EXAMPLES)('no text of %s lies on another or outside', (name) => {
    for (const picture of PICTURES.get(name)!) {
      const svg = busSvg(picture, { marks });
      const elements = readSvg(svg);
      const boxes = textBoxes(elements);
      expect(boxes.length).toBeGreaterThan(40);
      expect([...overlaps(boxes), ...outside(boxes, svg)]).toEqual([]);
      expect(dangers(elements)).toEqual([]);
    }
  });

  it.each(HOSTILE)('%j stays a text', (bad) => {
    const svg = busSvg(
      {
        ...AS_FOUND,
        title: bad,
        backplane: bad,
        bus: bad,
        slots: AS_FOUND.slots.map((slot) => ({ ...slot, label: bad, board: bad })),
        lines: AS_FOUND.lines.map((line) => ({
          ...line,
          name: bad,
          contacts: bad,
          beyond: line.beyond.map(() => bad),
          ends: line.ends.map((end) => ({ ...end, text: bad })),
          crossings: line.crossings.map((one) => one && { ...one, reading: bad }),
        })),
      },
      { marks },
    );
    const elements = readSvg(svg);
    expect(dangers(elements)).toEqual([]);
    expect(elements.filter(({ attributes }) => attributes.class === 'line').length).toBe(
      AS_FOUND.lines.length,
    );
    const boxes = textBoxes(elements);
    expect([...overlaps(boxes), ...outside(boxes, svg)]).toEqual([]);
  });

  it('grow with the contacts and no faster', () => {
    const perContact = [100, 400].map((contacts) => {
      const [picture] = picturesOf(machineOf(generatedText({ slots: 20, contacts }))) as [BusPicture];
      const besides = busSvg({ ...picture, lines: [] }, { marks }).length;
      return (busSvg(picture, { marks }).length - besides) / contacts;
    }) as [number, number];
    expect(perContact[1] / perContact[0]).toBeGreaterThan(0.85);
    expect(perContact[1] / perContact[0]).toBeLessThan(1.15);
  });
});

describe('what stands at the crossings', () => {
  test('evidence: a letter at each, empty slots too, a guess in a frame of its own', () => {
    const crossings = AS_FOUND.lines.flatMap((line) => line.crossings.flatMap((one) => one ?? []));
    const { marks, legend, frames } = written(AS_FOUND, 'evidence');
    // A break of a chain is drawn whatever the marks show.
    const breaks = crossings.filter(({ role }) => role === 'stops').length;
    expect([breaks > 0, marks.length]).toEqual([true, crossings.length - breaks]);
    expect(legend).toEqual(
      expect.arrayContaining(['the chain stops', 'traced', 'metered', 'guess', 'nobody says how known']),
    );
    const guessed = { ...crossings[0]!, evidence: 'guess' as const };
    const empty = { ...guessed, role: 'open' as const, evidence: undefined };
    const [line] = AS_FOUND.lines as [BusPicture['lines'][number]];
    const one = written({ ...AS_FOUND, lines: [{ ...line, crossings: [guessed, empty] }] }, 'evidence');
    expect([frames, one.marks, one.frames]).toEqual([0, ['G', '?'], 1]);
  });

  test('current: where it is known, and nothing where it is not', () => {
    const { marks, legend } = written(AS_FOUND, 'current');
    const known = AS_FOUND.lines.flatMap((line) => line.crossings).filter((one) => one?.amps !== undefined);
    expect(marks).toHaveLength(known.length);
    expect(marks).toEqual(expect.arrayContaining(['2.6A', '40mA', '-200uA']));
    expect(legend).toContain('gives to a low line, or to a rail');
  });

  test('readings: the last one', () => {
    const { marks, legend } = written(AS_FOUND, 'readings');
    expect(new Set(marks)).toEqual(new Set(['0.2', 'open', 'D0.46', '0.1']));
    expect(legend).toEqual(expect.arrayContaining(['the last reading at the contact', 'diode test, V']));
  });

  test('roles: each mark is in the legend', () => {
    const { marks, legend } = written(AS_FOUND, 'role');
    expect(marks).toEqual([]);
    expect(legend).toEqual(expect.arrayContaining(['takes power', 'with a resistor of its own', 'error']));
  });
});

describe.each(EXAMPLES)('the data of %s', (name) => {
  it('numbers are equal exactly where nets are', () => {
    for (const { lines } of PICTURES.get(name)!) {
      const crossings = lines.flatMap((line) => line.crossings.flatMap((one) => one ?? []));
      const pairs = new Set(crossings.map(({ net, origin }) => `${net} ${origin.net}`));
      expect(new Set(crossings.map(({ net }) => net)).size).toBe(pairs.size);
      expect(new Set(crossings.map(({ origin }) => origin.net)).size).toBe(pairs.size);
    }
  });

  it('lists findings with their cells, the worst first', () => {
    for (const { lines, findings } of PICTURES.get(name)!) {
      const ranks = findings.map(({ severity }) => severities.indexOf(severity));
      expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
      const listed = findings.flatMap(({ message, cells }) =>
        cells.map(({ row, column }) => `${row} ${column} ${message}`),
      );
      const there = lines.flatMap(({ crossings, ends, origin }, row) =>
        [
          { column: -1, origin },
          ...ends.map((end) => ({ column: 2 * end.gap, origin: end.origin })),
          ...crossings.flatMap((one, slot) => (one ? [{ column: 2 * slot + 1, origin: one.origin }] : [])),
        ].flatMap((cell) => cell.origin.findings.map(({ message }) => `${row} ${cell.column} ${message}`)),
      );
      expect(listed.sort()).toEqual([...new Set(there)].sort());
    }
    expect(name === 'tide-gauge/as-found').toBe(
      PICTURES.get(name)!.some(({ findings }) => findings.length > 9),
    );
  });
});
