import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { manifest } from './manifest.ts';

interface Shown {
  readonly severity: string;
  readonly rule: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

const [matcher] = manifest.contributes.problemMatchers;

function printed(path: string, format: string): string {
  const { stdout } = spawnSync(
    process.execPath,
    ['dist/cli.js', 'check', path, '--fail-on', 'never', '--format', format],
    { encoding: 'utf8', maxBuffer: 16_000_000 },
  );
  return stdout;
}

/** What the editor makes of an output: wherever lines fit the patterns one after the other, a problem. */
function matched(output: string): Shown[] {
  const lines = output.split('\n');
  return lines.flatMap((_, i) => {
    const found: Record<string, string> = {};
    for (const [offset, { regexp, ...groups }] of matcher!.pattern.entries()) {
      const fits = new RegExp(regexp).exec(lines[i + offset] ?? '');
      if (fits === null) return [];
      for (const [property, group] of Object.entries(groups)) found[property] = fits[group] as string;
    }
    const { severity, code, file, line, column, message } = found as Record<string, string>;
    return [
      {
        severity: severity!,
        rule: code!,
        file: file!,
        line: Number(line),
        column: Number(column),
        message: message!,
      },
    ];
  });
}

describe.each(['examples/tide-gauge/as-found.pinout', 'examples'])(
  'the output of `cardcage check %s`',
  (path) => {
    const found = matched(printed(path, 'text'));
    const { findings } = JSON.parse(printed(path, 'json')) as { findings: Shown[] };

    test('is read finding by finding', () => {
      const key = ({ severity, rule, file, line, column }: Shown): string =>
        `${severity} ${rule} ${file}:${line}:${column}`;
      expect(findings.length).toBeGreaterThan(10);
      expect(found.map(key).sort()).toEqual(findings.map(key).sort());
    });

    test('gives each finding its message, as far as the first line holds it', () => {
      for (const { rule, file, line, column, message } of found) {
        const whole = findings.filter(
          (one) => one.rule === rule && one.file === file && one.line === line && one.column === column,
        );
        expect(
          whole.some((one) => one.message.startsWith(message)),
          message,
        ).toBe(true);
      }
    });
  },
);

test('a severity that editors do not have counts as what the matcher says', () => {
  expect(matcher!.severity).toBe('info');
});
