// Completion held to every place of the examples: it never throws, it knows the name that stands there, and what it
// writes can stand there.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Completion, completionsAt, MOST_COMPLETIONS } from '../../../src/editing/completion.ts';
import { type Analysis, Project } from '../../../src/editing/project.ts';
import type { Occurrence } from '../../../src/editing/symbols.ts';
import { published } from '../../../src/knowledge/published.ts';
import { parseDocument } from '../../../src/language/blocks.ts';
import { buildMachine } from '../../../src/machine/build.ts';
import { taken } from '../../support/completion.ts';
import { generatedText } from '../../support/generate.ts';

const EXAMPLES = [
  'tide-gauge/tide-gauge',
  'tide-gauge/as-found',
  'tide-gauge/bus',
  'vme/vme',
  's100/s100',
  'isa/isa',
];
const OPTIONS = { today: '2026-06-01' };

const textOf = (name: string): string => readFileSync(`examples/${name}.pinout`, 'utf8');

/** The machine of an example with one of its texts replaced, without its findings: they take most of the time. */
function analysed(name: string, text: string): { analysis: Analysis; file: string } {
  const file = `/examples/${name}.pinout`;
  const root = name === 'tide-gauge/bus' ? '/examples/tide-gauge/tide-gauge.pinout' : file;
  const documents = new Map([[file, parseDocument(text)]]);
  const documentOf = (path: string) => {
    if (!documents.has(path)) documents.set(path, parseDocument(textOf(path.slice(10, -7))));
    return documents.get(path)!;
  };
  const tableOf = (id: string) => {
    const key = `published:${id}`;
    if (!documents.has(key) && published.has(id)) documents.set(key, parseDocument(published.get(id)!));
    return documents.get(key);
  };
  const publishedNames = [...published.keys()];
  const library = { file: documentOf, published: tableOf, publishedNames, workspace: '/examples' };
  const machine = buildMachine({ file: root, document: documentOf(root) }, library);
  return { analysis: { root, machine, documents, library, findings: [] } as unknown as Analysis, file };
}

/** Every nth of a list, beginning somewhere else for each list. */
const sample = <T>(list: readonly T[], step: number, start: number): T[] =>
  list.filter((_, i) => i % step === start % step);

describe('it never throws', () => {
  test.each(EXAMPLES)('at any offset of %s', (name) => {
    const text = textOf(name);
    const { analysis, file } = analysed(name, text);
    expect(() => {
      for (let offset = 0; offset <= text.length; offset += 7) completionsAt(analysis, file, offset, OPTIONS);
    }).not.toThrow();
    expect(completionsAt(analysis, file, text.length + 1000, OPTIONS).length).toBeGreaterThan(0);
  });

  test.each(EXAMPLES)('behind any prefix of %s', (name) => {
    const text = textOf(name);
    expect(() => {
      for (let length = 0; length < text.length; length += 211) {
        const prefix = text.slice(0, length);
        const { analysis, file } = analysed(name, prefix);
        for (let back = 0; back < 3; back++) completionsAt(analysis, file, prefix.length - back, OPTIONS);
      }
    }).not.toThrow();
  });

  test('where braces are missing or too many', () => {
    const text = textOf('tide-gauge/tide-gauge');
    const braces = [...text.matchAll(/[{}]/g)].map(({ index }) => index);
    expect(braces.length).toBeGreaterThan(50);
    for (const [i, at] of sample(braces, 5, 2).entries()) {
      const damaged =
        i % 2 === 0 ? text.slice(0, at) + text.slice(at + 1) : `${text.slice(0, at)}}\n${text.slice(at)}`;
      const { analysis, file } = analysed('tide-gauge/tide-gauge', damaged);
      expect(() => {
        for (let offset = at; offset < Math.min(at + 1500, damaged.length); offset += 61)
          completionsAt(analysis, file, offset, OPTIONS);
      }).not.toThrow();
    }
  });

  test.each([
    '',
    '\ufeff',
    '\u0000',
    '}',
    '{',
    '{{{{',
    '"',
    '""" "',
    '#',
    '=',
    ' = ',
    '..',
    '...',
    '1..',
    'card',
    'card ..',
    'bus "',
    '\ud800',
    'a b c',
    '1..2..3 = .. >',
    'wire .',
    'wire a. to .b',
  ])('on %j', (text) => {
    const project = new Project(published, () => '/w');
    for (const before of ['', 'card C {\n  ', 'bus B on E {\n  ', 'ribbon W 4 way {\n  ', 'readings {\n  ']) {
      project.set('/w/a.pinout', before + text);
      const analysis = project.of('/w/a.pinout')!;
      for (let offset = -1; offset <= before.length + text.length + 1; offset++)
        expect(Array.isArray(completionsAt(analysis, '/w/a.pinout', offset))).toBe(true);
    }
  });
});

/** Whether taking a completion can lead to what the file has at this name. */
function leadsTo({ label, from }: Completion, text: string, { from: start, to, range }: Occurrence): boolean {
  const first = text.slice(from, range === undefined ? to : start + range.first.length);
  return (
    label === first ||
    label === text.slice(from, to) ||
    label.startsWith(`${first}.`) ||
    label === `"${first}"`
  );
}

interface Answer {
  /** How many are offered before the name that stands there; none of them is it where undefined. */
  readonly place: number | undefined;
  readonly line: string;
}

/** Names of an example as they are offered where they stand, with the rest of their line cut off. */
function answers(name: string, step: number, start: number): Answer[] {
  const text = textOf(name);
  const project = new Project(published, () => '/examples');
  for (const one of EXAMPLES) project.set(`/examples/${one}.pinout`, textOf(one));
  const file = `/examples/${name}.pinout`;
  return sample(project.of(file)!.symbols.in(file), step, start).map((one) => {
    const end = text.indexOf('\n', one.from);
    const { analysis } = analysed(name, text.slice(0, one.from) + text.slice(end));
    const list = completionsAt(analysis, file, one.from, OPTIONS);
    const place = list.findIndex((completion) => leadsTo(completion, text, one));
    const line = `${one.kind} ${one.names[0]}: ${text.slice(text.lastIndexOf('\n', one.from) + 1, end)}`;
    return { place: place < 0 ? undefined : place, line };
  });
}

describe('the name that stands there is offered', () => {
  test('for nearly all names of the examples, mostly among the first ten', () => {
    const all = EXAMPLES.flatMap((name, i) => answers(name, 13, i * 5));
    const share = (list: readonly Answer[]): number => list.length / all.length;
    const missed = all.filter(({ place }) => place === undefined);
    expect(all.length).toBeGreaterThan(150);
    expect(share(missed), missed.map(({ line }) => line).join('\n')).toBeLessThanOrEqual(0.03);
    expect(share(all.filter(({ place = 999 }) => place < 10))).toBeGreaterThanOrEqual(0.8);
    expect(share(all.filter(({ place }) => place === 0))).toBeGreaterThanOrEqual(0.5);
  }, 60_000);
});

/** Lines that read wrong only where something is still to come: each must get by with what may follow. */
const ENDINGS = [
  '',
  'x',
  '1',
  ' x',
  ' 1',
  ' x 1 A',
  ' = x',
  ' to x = open',
  ' = open',
  ', x',
  '1 = x',
  'x = x',
  ' "t"',
  '1 to x = open',
  ' {',
  ' mm',
  ' 1 V',
  ' A',
  ' V',
  ' 1 A',
  ' 1 ohm',
  ' off',
  ' in',
  ' open',
  ' unplugged',
  ' between 1, 2',
  ' 1 V 1 A',
  ' 1 mm',
  '1 mm',
  ' low 1 A',
  ' three-state',
  ' 4 way',
  ' to x',
  ' = 1 ohm',
  '1 = 1 ohm',
];

/** Whether the line at an offset is a statement, or the beginning of one. */
function isBegun(text: string, offset: number): boolean {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const line = text.slice(start, offset);
  const rest = text.slice(offset).replace(/^[^\n]*/, '');
  // A letter behind a letter would make another word of it.
  const endings = /[\p{L}\p{N}]$/u.test(line) ? ENDINGS.filter((ending) => !/^\w/.test(ending)) : ENDINGS;
  return endings.some((ending) => {
    const document = parseDocument(text.slice(0, start) + line + ending + rest);
    const until = offset + ending.length;
    return !document.problems.some(
      ({ from, to, rule }) =>
        to >= start && from <= until && rule !== 'attribute-missing' && rule !== 'brace-misplaced',
    );
  });
}

describe('what is offered can stand there', () => {
  test('what cannot is told from what can', () => {
    const begun = (line: string): boolean => isBegun(`pinout 1\ncard C {\n  ${line}\n}\n`, 20 + line.length);
    expect(['drives', 'drives D0 with', 'takes +5V 1', 'wire J1.'].map(begun)).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect(['drives by', 'drives D0 with by', 'takes +5V V', 'wire to'].map(begun)).toEqual([
      false,
      false,
      false,
      false,
    ]);
  });

  test.each(['tide-gauge/tide-gauge', 'vme/vme'])(
    'on lines of %s cut off at a word',
    (name) => {
      const text = textOf(name);
      const words = [...text.matchAll(/^(?!#)[ ]*\S.*$/gm)].flatMap(({ 0: line, index }) =>
        [...line.replace(/\s#.*/, '').matchAll(/(?<=\s)\S+/g)].map((word) => index + word.index),
      );
      const wrong: string[] = [];
      let tried = 0;
      for (const offset of sample(words, 37, 11)) {
        const end = text.indexOf('\n', offset);
        const start = text.lastIndexOf('\n', offset) + 1;
        const cut = text.slice(0, offset) + text.slice(end);
        const quotes = text.slice(start, offset).split('"').length;
        if (quotes % 2 === 0) continue;
        const { analysis, file } = analysed(name, cut);
        const list = completionsAt(analysis, file, offset, OPTIONS);
        for (const one of sample(list, Math.max(1, Math.floor(list.length / 12)), 0)) {
          const whole = { ...one, also: [] };
          const after = taken(cut, whole);
          const at = after.length - (cut.length - one.to);
          tried++;
          if (!isBegun(after, at)) wrong.push(`${text.slice(start, offset)}|${one.label}`);
        }
      }
      expect(tried).toBeGreaterThan(200);
      expect(wrong).toEqual([]);
    },
    60_000,
  );
});

describe('on twenty slots of a hundred contacts', () => {
  const text = generatedText({ slots: 20, contacts: 100 });
  const project = new Project(published, () => '/w');
  project.set('/w/a.pinout', text);
  const analysis = project.of('/w/a.pinout')!;
  const places = [...text.matchAll(/(?<=\s)\S+/g)].map(({ index }) => index);

  test('half of all answers take 5 ms at most', () => {
    const times = sample(places, 13, 5).map((offset) => {
      const before = performance.now();
      completionsAt(analysis, '/w/a.pinout', offset, OPTIONS);
      return performance.now() - before;
    });
    times.sort((a, b) => a - b);
    expect(times[times.length >> 1]).toBeLessThan(5);
  });

  test('no list is longer than anybody reads', () => {
    const lengths = sample(places, 29, 3).map(
      (offset) => completionsAt(analysis, '/w/a.pinout', offset).length,
    );
    expect(Math.max(...lengths)).toBeLessThanOrEqual(MOST_COMPLETIONS);
    expect(Math.max(...lengths)).toBeGreaterThan(50);
  });
});
