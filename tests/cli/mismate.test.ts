import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const asFound = 'examples/tide-gauge/as-found.pinout';

function run(...args: string[]): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [resolve('dist/cli.js'), 'mismate', ...args],
    {
      encoding: 'utf8',
      maxBuffer: 64 * 1024 * 1024,
    },
  );
  return { code: status, out: stdout, err: stderr };
}

const flat = (text: string): string => text.replace(/\s+/g, ' ');

describe('the machine as found', () => {
  const { code, out, err } = run(asFound);

  test('exit 0, nothing on standard error, no colours, lines of at most 110 columns', () => {
    expect([code, err]).toEqual([0, '']);
    expect(out).not.toContain('\u001b');
    expect(Math.max(...out.split('\n').map(({ length }) => length))).toBeLessThanOrEqual(110);
  });

  test('which board, which way, what dies, what to do', () => {
    expect(flat(out)).toMatch(
      /1 dies at once RAM-A and RAM-B put into CAGE\.1, a slot that is not theirs .* dies: RAM-A \(74LS38, 74LS\) do: write the slot on the board/,
    );
  });

  test('worst first within each heading', () => {
    for (const part of out.split(/^[A-Z ]{9,}.*$/m)) {
      const ranks = [...part.matchAll(/^(\d) [a-z ]+ {2}/gm)].map(([, rank]) => Number(rank));
      expect(ranks).toEqual([...ranks].sort());
    }
  });

  test('the last line sums up what json tells', () => {
    const { cases, summary } = JSON.parse(run(asFound, '--format', 'json').out);
    expect(out).toMatch(
      new RegExp(
        `\\ncases ${summary.cases}, harmful ${summary.harmful}, prevented ${summary.prevented}, open ${summary.open}\\n$`,
      ),
    );
    expect(summary.unjudged).toBe(0);
    expect(out).not.toContain('annot be judged');
    expect(cases).toHaveLength(summary.cases);
    for (const { harmful, rank, harms } of cases) expect(harms[0]?.rank).toBe(harmful ? rank : undefined);
  });

  test('of a card, its boards; of a ribbon, its ends; each in every way', () => {
    const ram = JSON.parse(run(asFound, '--of', 'RAM', '--format', 'json').out).cases;
    expect(new Set(ram.map((one: { plug: string }) => one.plug))).toEqual(new Set(['RAM-A', 'RAM-B']));
    const ribbon = JSON.parse(run(asFound, '--of', 'W2', '--format', 'json').out).cases;
    expect(new Set(ribbon.map((one: { end: string }) => one.end))).toEqual(
      new Set(['CAGE.PANEL', 'LAMPS.J1']),
    );
    const end = JSON.parse(run(asFound, '--of', 'W2 at LAMPS.J1', '--format', 'json').out).cases;
    expect(end).toEqual(ribbon.filter((one: { end: string }) => one.end === 'LAMPS.J1'));
    expect(end.length).toBeGreaterThan(0);
    expect(flat(run(asFound, '--of', 'W2').out)).toContain(
      'W2 turned at CAGE.PANEL: 1 dies at once; prevented by bump and notch: ',
    );
  });
});

describe('bad input: one clear line, exit code 2', () => {
  test('a name that is no board, card, ribbon or cable: what there is', () => {
    const { code, out, err } = run(asFound, '--of', 'lamp-9');
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(
      /^cardcage: .*has no board, card, ribbon or cable `lamp-9`; it has CPU, RAM-A, .* C3\n$/,
    );
  });

  test('a name that is nearly right: which is meant', () => {
    expect(run(asFound, '--of', 'cpu').err).toContain('`cpu`; did you mean `CPU`? It has CPU, RAM-A');
    expect(run(asFound, '--of', 'W2 at lamps.j1').err).toContain('did you mean `W2 at LAMPS.J1`?');
  });

  test('an empty file, and one without a statement', () => {
    const folder = mkdtempSync(join(tmpdir(), 'cardcage-mismate-'));
    try {
      for (const text of ['', 'hello\n', '# nothing yet\n']) {
        const path = join(folder, 'none.pinout');
        writeFileSync(path, text);
        const { code, out, err } = run(path);
        expect([code, out]).toEqual([2, '']);
        expect(err).toMatch(/none\.pinout: holds no statement that says anything of a machine; /);
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test('a missing file, a folder of several machines, another format', () => {
    expect(run('no-such.pinout')).toMatchObject({ code: 2, out: '' });
    expect(run('examples/tide-gauge').err).toMatch(/holds more than one machine; name the file of one/);
    expect(run(asFound, '--format', 'sarif')).toMatchObject({ code: 2, out: '' });
  });
});
