import { expect } from 'vitest';
import type { Finding } from '../../src/checks/types.ts';
import type { Source } from '../../src/machine/types.ts';
import { findingsOf, lineAt } from './machine.ts';

const MARK = /#!\s*(.*)$/;

/**
 * A text in which expected findings are marked: `#! rule` or `#! severity rule, rule` at the end of a line says that
 * these rules fire on that line. Asserts that the given rules fire there and nowhere else.
 */
export function expectMarked(rules: string | readonly string[], text: string): void {
  const wanted = new Set(typeof rules === 'string' ? [rules] : rules);
  const expected: string[] = [];
  const severities = new Map<string, string>();
  text.split('\n').forEach((line, i) => {
    for (const one of MARK.exec(line)?.[1]?.split(',') ?? []) {
      const words = one.trim().split(/\s+/);
      const rule = words.at(-1) as string;
      expected.push(`${i + 1} ${rule}`);
      if (words.length > 1) severities.set(`${i + 1} ${rule}`, words[0] as string);
    }
  });
  const found = findingsOf(text).filter((finding) => wanted.has(finding.rule));
  const places = found.map((finding) => `${lineAt(text, finding.source.from)} ${finding.rule}`);
  const messages = found.map((finding) => `${finding.severity} ${finding.message}`).join('\n');
  expect(places.sort(), messages).toEqual(expected.sort());
  for (const finding of found) {
    const severity = severities.get(`${lineAt(text, finding.source.from)} ${finding.rule}`);
    if (severity !== undefined) expect(finding.severity, finding.message).toBe(severity);
    expect(finding.message.length).toBeGreaterThan(10);
  }
}

/** Asserts that none of the rules fires. */
export function expectSilent(rules: string | readonly string[], text: string): void {
  const wanted = new Set(typeof rules === 'string' ? [rules] : rules);
  const found = findingsOf(text).filter((finding) => wanted.has(finding.rule));
  expect(found.map((finding) => `${finding.rule}: ${finding.message}`)).toEqual([]);
}

/** The place and the text of a finding's first edit, which replaces one text. */
export function replacement({ edits = [] }: Finding): { source: Source; text: string } {
  const [change] = edits[0]?.changes ?? [];
  if (change?.kind !== 'replace') throw new Error('the finding has no edit that replaces a text');
  return change;
}
