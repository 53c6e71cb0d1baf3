// The machines that ship with the product. The clean ones must draw no error, warning or question; the one kept as it
// was found must draw each finding of as-found.json where that says.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/run.ts';
import { format } from '../../src/language/format.ts';
import { lineAt, machineFromDisk } from '../support/machine.ts';

const EXAMPLES = new URL('../../examples/', import.meta.url);
const pathOf = (name: string): string => new URL(name, EXAMPLES).pathname;

const CLEAN = ['tide-gauge/tide-gauge.pinout', 's100/s100.pinout', 'vme/vme.pinout', 'isa/isa.pinout'];
const AS_FOUND = 'tide-gauge/as-found.pinout';

/** A finding on disk: its rule, its severity, and the line it points at. */
interface Found {
  readonly rule: string;
  readonly severity: string;
  readonly message: string;
  readonly line: string;
  readonly at: string;
}

function findingsIn(name: string): Found[] {
  const { machine, documents } = machineFromDisk(pathOf(name));
  return check(machine, documents).map(({ rule, severity, message, source }) => {
    const text = documents.get(source.file)?.text ?? '';
    const number = lineAt(text, source.from);
    const at = `${basename(source.file)}:${number}`;
    return { rule, severity, message, line: text.split('\n')[number - 1] ?? '', at };
  });
}

describe.each(CLEAN)('%s', (name) => {
  it('draws no error, warning or question', () => {
    const loud = findingsIn(name).filter(({ severity }) => severity !== 'note');
    expect(loud.map(({ at, severity, rule, message }) => `${at} ${severity} ${rule}: ${message}`)).toEqual(
      [],
    );
  });

  it('stands in the canonical format', () => {
    const text = readFileSync(pathOf(name), 'utf8');
    expect(format(text)).toBe(text);
  });
});

describe(AS_FOUND, () => {
  it('stands in the canonical format', () => {
    const text = readFileSync(pathOf(AS_FOUND), 'utf8');
    expect(format(text)).toBe(text);
  });

  /** Which rule must stand on a line that holds which text. */
  const rows: { readonly rule: string; readonly 'line text': string }[] = JSON.parse(
    readFileSync(new URL('as-found.json', import.meta.url), 'utf8'),
  );
  const all = findingsIn(AS_FOUND);
  const expected = rows.map(({ rule, 'line text': line }) => ({ rule, line }));
  it.each(expected)('draws $rule at `$line`', ({ rule, line }) => {
    const found = all.filter((finding) => finding.rule === rule);
    const places = found.map((finding) => `${finding.at} ${finding.line.trim()}`).join('\n');
    expect(
      found.some((finding) => finding.line.includes(line)),
      `${rule} stands at:\n${places}`,
    ).toBe(true);
  });
});
