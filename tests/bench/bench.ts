/**
 * Ratios against references measured in the same run, printed as a table. Each has a bound; a bound that is broken is
 * said so, and makes the exit code 1.
 */
import { spawnSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { Ajv } from 'ajv';
import { parse as parseYaml, stringify } from 'yaml';
import { check } from '../../src/checks/run.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Document } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import type { Machine } from '../../src/machine/types.ts';
import type { Library } from '../../src/machine/uses.ts';
import { generatedData, generatedSchema, generatedText } from '../support/generate.ts';
import { answerTimes, keystrokeTimes } from './keystrokes.ts';

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

function bundle(): Row {
  const size = statSync('dist/extension.js').size / 1000;
  return atMost('extension bundle, minified', size, 500, (value) => `${value.toFixed(0)} kB`);
}

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
  const rows = [againstYaml(), ...(await keystrokes()), ...answers(), growth(), process3(), bundle()];
  const width = Math.max(...rows.map(({ what }) => what.length));
  console.log(
    `${'what'.padEnd(width)}  ${'measured'.padStart(9)}  ${'reference'.padStart(9)}  ${'ratio'.padStart(6)}  bound`,
  );
  const isOver = ({ value, bound }: Row): boolean => value > bound;
  for (const row of rows) {
    const { what, measured, reference, value, bound } = row;
    const against = reference === undefined ? '' : value.toFixed(2);
    const limit = reference === undefined ? measured.replace(/[\d.]+/, String(bound)) : String(bound);
    console.log(
      `${what.padEnd(width)}  ${measured.padStart(9)}  ${(reference ?? '').padStart(9)}  ${against.padStart(6)}  ≤ ${limit}${isOver(row) ? '  OVER' : ''}`,
    );
  }
  process.exitCode = rows.some(isOver) ? 1 : 0;
}

void main();
