/**
 * Ratios against references measured in the same run, printed as a table. Each has a bound; a bound that is broken is
 * said so, and makes the exit code 1.
 */
import { spawnSync } from 'node:child_process';
import { Ajv } from 'ajv';
import { parse as parseYaml, stringify } from 'yaml';
import { check } from '../../src/checks/run.ts';
import { parseDocument } from '../../src/language/blocks.ts';
import type { Document } from '../../src/language/tree.ts';
import { buildMachine } from '../../src/machine/build.ts';
import type { Machine } from '../../src/machine/types.ts';
import type { Library } from '../../src/machine/uses.ts';
import { generatedData, generatedSchema, generatedText } from '../support/generate.ts';

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

interface Row {
  readonly what: string;
  readonly ours: string;
  readonly reference: string;
  readonly ratio: number;
  readonly bound: number;
}

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
  return {
    what: '20 × 100: parse, machine, all checks / YAML parse and validate',
    ours: `${a.toFixed(1)} ms`,
    reference: `${b.toFixed(1)} ms`,
    ratio: a / b,
    bound: 0.6,
  };
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
  return {
    what: `${small.count} → ${large.count} contacts: time per contact (memory at the end ${megabytes.toFixed(0)} MB)`,
    ours: `${(large.each * 1000).toFixed(2)} µs`,
    reference: `${(small.each * 1000).toFixed(2)} µs`,
    ratio: large.each / small.each,
    bound: 1.5,
  };
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
  return {
    what: 'cardcage check of the demo, whole process / node -e 0',
    ours: `${a.toFixed(0)} ms`,
    reference: `${b.toFixed(0)} ms`,
    ratio: a / b,
    bound: 3,
  };
}

function fail(message: string): never {
  throw new Error(message);
}

const rows = [againstYaml(), growth(), process3()];
const width = Math.max(...rows.map(({ what }) => what.length));
console.log(
  `${'what'.padEnd(width)}  ${'ours'.padStart(9)}  ${'reference'.padStart(9)}  ${'ratio'.padStart(6)}  bound`,
);
for (const { what, ours, reference, ratio, bound } of rows) {
  const verdict = ratio <= bound ? '' : '  OVER';
  console.log(
    `${what.padEnd(width)}  ${ours.padStart(9)}  ${reference.padStart(9)}  ${ratio.toFixed(2).padStart(6)}  ≤ ${bound}${verdict}`,
  );
}
process.exitCode = rows.every(({ ratio, bound }) => ratio <= bound) ? 0 : 1;
