import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { format } from '../../src/language/format.ts';
import { findingsOf } from '../support/machine.ts';

const readme = readFileSync('README.md', 'utf8');
const block = (name: string): string =>
  new RegExp(`<!-- ${name} -->\\n\`\`\`\\w+\\n([\\s\\S]*?)\`\`\``).exec(readme)?.[1] ?? '';

test('the output that README shows is what the command prints; UPDATE=1 writes it anew', () => {
  const folder = mkdtempSync(join(tmpdir(), 'cardcage-readme-'));
  try {
    const example = block('example');
    expect(format(example)).toBe(example);
    writeFileSync(join(folder, 'relays.pinout'), example);
    const { stdout } = spawnSync(process.execPath, [resolve('dist/cli.js'), 'check', 'relays.pinout'], {
      cwd: folder,
      encoding: 'utf8',
    });
    const shown = `$ cardcage check relays.pinout\n${stdout}`;
    if (process.env.UPDATE)
      writeFileSync(
        'README.md',
        readme.replace(block('output'), () => shown),
      );
    else expect(block('output')).toBe(shown);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('the excerpt of the wrong matings in README is what the command prints; UPDATE=1 writes it anew', () => {
  const path = 'examples/tide-gauge/as-found.pinout';
  const { stdout } = spawnSync(process.execPath, ['dist/cli.js', 'mismate', path], { encoding: 'utf8' });
  const from = stdout.indexOf('NOTHING THAT THE FILE SAYS PREVENTS THESE');
  const first = stdout.slice(from, stdout.indexOf('\n\n', stdout.indexOf('meets:', from)) + 1);
  const last = stdout.trimEnd().split('\n').at(-1);
  const shown = `$ cardcage mismate ${path}\n…\n${first}…\n${last}\n`;
  const now = readFileSync('README.md', 'utf8');
  if (process.env.UPDATE)
    writeFileSync(
      'README.md',
      now.replace(block('mismate'), () => shown),
    );
  else expect(block('mismate')).toBe(shown);
});

test('mended as README says, the example is silent but for its neighbours', () => {
  const mended = block('example')
    .replace(
      '3             = +5V           by silkscreen  # printed beside the finger',
      '3             = +12V          by meter',
    )
    .replace('2    = empty', '2    = empty     bridge GRANT')
    .replace(/^ *feed +\+12V.*$/m, (feed) => `${feed}\n  pull-up /IRQ 1 kohm to +5V after 4`);
  const left = findingsOf(mended).filter(({ rule }) => rule !== 'neighbour-hazard');
  expect(left.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
});

test('every command, option and rule that README names exists', () => {
  const help = ['', 'check', 'nets', 'mismate', 'draw', 'format', 'rules', 'explain'].map(
    (command) =>
      spawnSync(process.execPath, ['dist/cli.js', ...(command ? [command] : []), '--help'], {
        encoding: 'utf8',
      }).stdout,
  );
  for (const [, option] of readme.matchAll(/`(--[a-z-]+)/g)) expect(help.join('\n')).toContain(option);
  for (const [, command] of readme.matchAll(/`cardcage ([a-z]+)/g)) expect(help[0]).toContain(command);
});
