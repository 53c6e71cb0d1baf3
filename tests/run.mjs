// The whole test command. Runs every suite below in order, prints each with its duration, and closes with
// `N passed, N failed, N skipped`, summed over all. A step that is not a test suite (lint, typecheck, build)
// counts as one passed or one failed. Exit code 1 if anything failed or no test ran.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

process.chdir(resolve(dirname(fileURLToPath(import.meta.url)), '..'));

/** VS Code itself: with the extension in a browser and on the desktop, and packaged in its server. */
const EDITOR = 'tests/editor/vitest.config.mts';
const NODE_HOST = 'node-host.test.ts';

/** A suite that hangs is ended, and counts as failed: minutes. */
const PATIENCE = 40;

/** Each: a name, and a function that returns the counts. `tests` says whether the counts are of tests. */
const suites = [
  { name: 'lint', run: () => step('lint') },
  { name: 'typecheck', run: () => step('typecheck') },
  { name: 'build', run: () => step('build') },
  { name: 'vitest', tests: true, run: () => vitest() },
  { name: 'editor', tests: true, run: () => vitest('-c', EDITOR, '--exclude', `**/${NODE_HOST}`) },
  { name: 'node host', tests: true, run: () => vitest('-c', EDITOR, NODE_HOST) },
];

/** Runs a command with its output on screen; true if it ended well. */
function succeeds(command, args) {
  const { status, error } = spawnSync(command, args, {
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
    timeout: PATIENCE * 60_000,
    killSignal: 'SIGKILL',
  });
  if (error) console.error(String(error));
  return status === 0;
}

/** A script of package.json as one check. */
function step(script) {
  return succeeds('npm', ['run', '--silent', script]) ? counts(1, 0, 0) : counts(0, 1, 0);
}

/** A run of vitest with these arguments. */
function vitest(...args) {
  const folder = mkdtempSync(join(tmpdir(), 'cardcage-test-'));
  const file = join(folder, 'vitest.json');
  try {
    const ended = succeeds(process.execPath, [
      'node_modules/vitest/vitest.mjs',
      'run',
      ...args,
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${file}`,
    ]);
    return vitestCounts(JSON.parse(readFileSync(file, 'utf8')), ended);
  } catch (error) {
    console.error(`no result of vitest: ${error.message}`);
    return counts(0, 1, 0);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A file that fails before its first test, or an error outside any test, is one failure too. */
function vitestCounts(result, ended) {
  const broken = result.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed'),
  ).length;
  const failed = result.numFailedTests + broken;
  return counts(
    result.numPassedTests,
    failed === 0 && !ended ? 1 : failed,
    result.numPendingTests + (result.numTodoTests ?? 0),
  );
}

function counts(passed, failed, skipped) {
  return { passed, failed, skipped };
}

function line({ passed, failed, skipped }) {
  return `${passed} passed, ${failed} failed, ${skipped} skipped`;
}

// Pictures of an earlier run would tell of failures that are no more.
rmSync('tests/output/editor', { recursive: true, force: true });

const sum = counts(0, 0, 0);
const summary = [];
let testsRun = 0;
for (const suite of suites) {
  console.log(`\n── ${suite.name}`);
  const start = performance.now();
  const result = await suite.run();
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  for (const key of Object.keys(sum)) sum[key] += result[key];
  if (suite.tests) testsRun += result.passed + result.failed;
  const note = suite.tests ? '' : ' (a step, counted as one)';
  summary.push(`${suite.name.padEnd(12)} ${seconds.padStart(6)} s   ${line(result)}${note}`);
  console.log(summary.at(-1));
}

console.log(`\n── all suites\n${summary.join('\n')}\n`);
if (testsRun === 0) console.error('no test ran');
process.exitCode = sum.failed > 0 || testsRun === 0 ? 1 : 0;
console.log(line(sum));
