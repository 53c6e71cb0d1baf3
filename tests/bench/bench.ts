/**
 * Ratios against references measured in the same run, printed as a table. Each has a bound; a bound that is broken is
 * said so, and makes the exit code 1.
 */
import { spawnSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { Ajv } from 'ajv';
import { parse as parseYaml, stringify } from 'yaml';
import { check, viewOf } from '../../src/checks/run.ts';
import { busNames, busPicture } from '../../src/drawing/bus-picture.ts';
import { busSvg } from '../../src/drawing/bus-svg.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Document } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import type { Machine } from '../../src/machine/types.ts';
import type { Library } from '../../src/machine/uses.ts';
import { generatedData, generatedSchema, generatedText } from '../support/generate.ts';
import { answerTimes, keystrokeTimes } from './keystrokes.ts';
import { matingTimes } from './mating.ts';

const NOTHING: Library = {
  file: () => undefined,
  published: () => undefined,
  publishedNames: [],
  workspace: '/',
};

/** Text → findings: all that a check does after reading the file. */
function whole(text: string): { machine: Machine; findings: number } {
  const document: Document = parseDocument(text);
  const machine = buildMachine({ file: '/m.pinout', document }, NOTHING);
  return { machine, findings: check(machine, new Map([['/m.pinout', document]])).length };
}

/** Time of one piece of work. What others left behind is collected before, so that each pays for its own rubbish only. */
const milliseconds = (work: () => unknown): number => {
  globalThis.gc?.({ type: 'minor' });
  const start = performance.now();
  work();
  return performance.now() - start;
};

const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1]!;

const percentile95 = (list: readonly number[]): number =>
  [...list].sort((a, b) => a - b)[Math.floor(list.length * 0.95)]!;

/** One line of the table: what is measured must not exceed its bound. */
interface Row {
  readonly what: string;
  readonly measured: string;
  /** What it is measured against, where it is a ratio. */
  readonly reference?: string;
  readonly value: number;
  readonly bound: number;
}

const ratio = (what: string, ours: number, theirs: number, bound: number, written = ms): Row => ({
  what,
  measured: written(ours),
  reference: written(theirs),
  value: ours / theirs,
  bound,
});

const atMost = (what: string, value: number, bound: number, written = ms): Row => ({
  what,
  measured: written(value),
  value,
  bound,
});

const ms = (value: number): string => `${value.toFixed(value < 100 ? 1 : 0)} ms`;

/** Runs that only let the just-in-time compiler settle, for both alike, and runs that count. */
const WARM_UP = 100;
const MEASURED = 100;

/** Parse + machine + checks of 20 × 100 contacts against YAML parsing + schema validation of the same facts. */
function againstYaml(): Row {
  const validate = new Ajv().compile(generatedSchema);
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let i = 0; i < WARM_UP + MEASURED; i++) {
    const size = { slots: 20, contacts: 100, tag: `x${i}` };
    const text = generatedText(size);
    const yaml = stringify(generatedData(size));
    const runs: (() => void)[] = [
      () => ours.push(milliseconds(() => whole(text))),
      () =>
        theirs.push(
          milliseconds(() => validate(parseYaml(yaml)) || fail('the YAML does not fit its schema')),
        ),
    ];
    for (const run of i % 2 === 0 ? runs : runs.reverse()) run();
  }
  const [a, b] = [median(ours.slice(WARM_UP)), median(theirs.slice(WARM_UP))];
  return ratio('20 × 100: parse, machine, all checks / YAML parse and validate', a, b, 0.6);
}

/** Time per contact from 1,000 to 100,000 contacts. Slot contacts and fingers both count. */
function growth(): Row {
  const time = (backplanes: number, contacts: number, runs: number): { each: number; count: number } => {
    let count = 0;
    const times: number[] = [];
    for (let i = 0; i < runs; i++) {
      const text = generatedText({ slots: 10, contacts, backplanes, tag: `g${backplanes}r${i}` });
      times.push(
        milliseconds(() => {
          count = whole(text).machine.contactCount;
        }),
      );
    }
    return { each: median(times.slice(Math.floor(runs / 3))) / count, count };
  };
  const small = time(1, 50, 40);
  const large = time(50, 100, 5);
  const megabytes = process.memoryUsage().rss / 1e6;
  const what = `${small.count} → ${large.count} contacts: time per contact (memory at the end ${megabytes.toFixed(0)} MB)`;
  return ratio(what, large.each, small.each, 1.5, (value) => `${(value * 1000).toFixed(2)} µs`);
}

/** From a keystroke to the findings, against a language service that validates the same facts as JSON. */
async function keystrokes(): Promise<Row[]> {
  const { ours, theirs } = await keystrokeTimes();
  return [
    atMost('20 × 100: keystroke to findings, median', median(ours), 10),
    atMost('20 × 100: keystroke to findings, 95 %', percentile95(ours), 16),
    ratio('20 × 100: keystroke to findings / JSON parse and validate', median(ours), median(theirs), 1),
  ];
}

function answers(): Row[] {
  const { completion, hover } = answerTimes();
  return [
    atMost('20 × 100: completion, median', median(completion), 5),
    atMost('20 × 100: hover, median', median(hover), 5),
  ];
}

/** All wrong matings of a machine in which nothing prevents any, against a reference that joins everything anew for each. */
function matings(): Row[] {
  const { cases, ours, theirs } = matingTimes();
  const what = `20 × 100, 10 ribbons: all ${cases} wrong matings judged`;
  return [
    atMost(`${what}, median`, median(ours), 100),
    ratio(`${what} / each by itself`, median(ours), theirs, 1 / 20),
  ];
}

/** What a suite of the real editor prints on its lines that begin so; nothing where the editor cannot run. */
function printed(suite: string, begin: string): string[] {
  const test = ['node_modules/vitest/vitest.mjs', 'run', '-c', 'tests/editor/vitest.config.mts'];
  const { stdout } = spawnSync(process.execPath, [...test, suite], { encoding: 'utf8' });
  const lines = stdout.split('\n').flatMap((line) => {
    const at = line.indexOf(begin);
    return at < 0 ? [] : [line.slice(at + begin.length)];
  });
  if (lines.length === 0) console.log(`${begin.trim()} not measured, the real editor cannot run here`);
  return lines;
}

/** The extension's waking in the real editor, as tests/editor/activation.test.ts prints it. */
const activation = (): Row[] =>
  printed('activation.test.ts', 'activation: ').map((line) =>
    atMost('activation in the real editor', Number.parseFloat(line), 50),
  );

/** Drawings in the real editor, as tests/editor/drawing-speed.test.ts prints them: medians of an open view. */
function drawings(): Row[] {
  const [small, large] = printed('drawing-speed.test.ts', 'drawing 20 x ').map((line) => {
    const time = (what: string): number => Number(new RegExp(`${what} ([\\d.]+) ms`).exec(line)![1]);
    return { picture: time('picture'), edit: time('edit'), light: time('light') };
  });
  if (small === undefined || large === undefined) return [];
  return [
    atMost('bus of 20 × 100 drawn, from sending to the frame', small.picture, 100),
    atMost('the same, an edit repainted', small.edit, 25),
    atMost('the same, a net lit under the pointer', small.light, 16),
    ratio('bus of 20 × 400 drawn / 20 × 100', large.picture, small.picture, 2.5),
    ratio('the same, an edit repainted', large.edit, small.edit, 2.5),
    ratio('the same, a net lit', large.light, small.light, 2.5),
  ];
}

/** Bytes of SVG for a contact, from 2,000 to 8,000 contacts. */
function drawnGrowth(): Row {
  const each = (contacts: number): number => {
    const { machine } = whole(generatedText({ slots: 20, contacts }));
    const view = viewOf(machine);
    const [name] = busNames(view);
    return busSvg(busPicture(view, [], name!)!, { marks: 'role' }).length / (20 * contacts);
  };
  return ratio(
    'SVG of a bus, bytes a contact: 20 × 400 / 20 × 100',
    each(400),
    each(100),
    1.1,
    (bytes) => `${bytes.toFixed(0)} B`,
  );
}

const BUNDLES = [
  // 500 before there were drawings; what makes their pictures and shows them takes 55, wrong matings and what is said of them 65.
  ['extension bundle, minified', 'dist/extension.js', 620],
  ["bundle of the drawings' page, minified", 'dist/page.js', 300],
] as const;

const bundles = (): Row[] =>
  BUNDLES.map(([what, file, most]) =>
    atMost(what, statSync(file).size / 1000, most, (value) => `${value.toFixed(0)} kB`),
  );

/** The command line on the demo as a whole process against a Node.js that does nothing. */
function process3(): Row {
  const spawn = (args: readonly string[]): number =>
    milliseconds(() => spawnSync(process.execPath, args, { stdio: 'ignore' }));
  const ours: number[] = [];
  const empty: number[] = [];
  for (let i = 0; i < 21; i++) {
    ours.push(spawn(['dist/cli.js', 'check', 'examples/tide-gauge/as-found.pinout']));
    empty.push(spawn(['-e', '0']));
  }
  const [a, b] = [median(ours), median(empty)];
  return ratio('cardcage check of the demo, whole process / node -e 0', a, b, 3);
}

function fail(message: string): never {
  throw new Error(message);
}

async function main(): Promise<void> {
  const rows = [
    againstYaml(),
    ...(await keystrokes()),
    ...answers(),
    ...matings(),
    growth(),
    process3(),
    drawnGrowth(),
    ...activation(),
    ...drawings(),
    ...bundles(),
  ];
  const width = Math.max(...rows.map(({ what }) => what.length));
  console.log(
    `${'what'.padEnd(width)}  ${'measured'.padStart(9)}  ${'reference'.padStart(9)}  ${'ratio'.padStart(6)}  bound`,
  );
  const isOver = ({ value, bound }: Row): boolean => value > bound;
  for (const row of rows) {
    const { what, measured, reference, value, bound } = row;
    const against = reference === undefined ? '' : value.toFixed(value < 0.1 ? 4 : 2);
    const limit = reference === undefined ? measured.replace(/[\d.]+/, String(bound)) : String(bound);
    console.log(
      `${what.padEnd(width)}  ${measured.padStart(9)}  ${(reference ?? '').padStart(9)}  ${against.padStart(6)}  ≤ ${limit}${isOver(row) ? '  OVER' : ''}`,
    );
  }
  process.exitCode = rows.some(isOver) ? 1 : 0;
}

void main();
