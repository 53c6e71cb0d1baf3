import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { format } from '../../../src/language/format.ts';
import { findingsOf } from '../../support/machine.ts';

interface Template {
  readonly isFileTemplate: boolean;
  readonly description: string;
  readonly body: readonly string[];
}

const templates = JSON.parse(readFileSync('syntaxes/file-templates.json', 'utf8')) as Record<
  string,
  Template
>;
const STOP = /\$\{(\d+):([^}]*)\}|\$\{(\d+)\|([^,|]*)[^}]*\|\}|\$(\d+)/g;

/** The text that is left when every tab stop keeps its default; a choice takes its first. */
function withDefaults(body: readonly string[]): string {
  const defaults = new Map([['0', '']]);
  return body.join('\n').replace(STOP, (_, name, text, choice, first, again) => {
    if (again === undefined) defaults.set(name ?? choice, text ?? first);
    const value = defaults.get(again ?? name ?? choice);
    if (value === undefined) throw new Error(`tab stop ${again} is used before it has a default`);
    return value;
  });
}

/** Every way to take one choice instead of the first. */
function choices(body: readonly string[]): (readonly string[])[] {
  const text = body.join('\n');
  return [...text.matchAll(/\$\{\d+\|([^|]*)\|\}/g)].flatMap((found) =>
    found[1]!
      .split(',')
      .map((one) => text.slice(0, found.index) + one + text.slice(found.index + found[0].length))
      .map((changed) =>
        changed.replaceAll(new RegExp(`\\$${found[0].match(/\d+/)![0]}\\b`, 'g'), 'guess').split('\n'),
      ),
  );
}

describe.each(Object.entries(templates))('%s', (_, { isFileTemplate, description, body }) => {
  const text = withDefaults(body);

  test('is offered for whole files only, and says what it holds', () => {
    expect(isFileTemplate).toBe(true);
    expect(description).not.toBe('');
  });

  test('gives neither error nor warning as it stands', () => {
    const found = findingsOf(text).filter(({ severity }) => severity === 'error' || severity === 'warning');
    expect(found.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
  });

  test('is written as the formatter writes', () => {
    expect(format(text)).toBe(text);
  });

  test('gives no error with any choice', () => {
    for (const chosen of choices(body)) {
      const found = findingsOf(withDefaults(chosen)).filter(({ severity }) => severity === 'error');
      expect(found.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
    }
  });

  test('its last tab stop is where one goes on', () => {
    expect(body.at(-1)).toBe('$0');
  });
});
