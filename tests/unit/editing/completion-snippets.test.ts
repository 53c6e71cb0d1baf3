import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseDocument } from '../../../src/language/blocks.ts';
import { format } from '../../../src/language/format.ts';
import { type BlockKind, forms } from '../../../src/language/forms.ts';
import { BASE, behind, offered, taken, withoutStops } from '../../support/completion.ts';

const blocks = forms.filter((form) => form.word !== '=' && (form.opens ?? form.mayOpen) !== undefined);

/** A text with the cursor in a block of the kind, behind what is there. */
function inBlock(kind: BlockKind, text: string): string {
  const open: Partial<Record<BlockKind, string>> = {
    file: '',
    supply: 'supply SP {\n',
    backplane: 'backplane BP {\n',
    card: 'card CD {\n',
  };
  const heading = open[kind]!;
  return heading === '' ? `${text}|\n` : `${text}${heading}  |\n}\n`;
}

const machines: Record<string, string> = {
  'an empty file': 'pinout 1\n\n',
  'a small machine': `${BASE}\n`,
  'a machine of an example': readFileSync('examples/vme/vme.pinout', 'utf8'),
};

describe.each(Object.entries(machines))('blocks offered in %s', (_, text) => {
  const cases = blocks.flatMap((form) => form.blocks.map((kind) => [form.word, kind, form] as const));
  test.each(cases)(
    '%s in a %s block: parses as it stands, and the formatter leaves it alone',
    (word, kind, form) => {
      // What is fitted is offered where a backplane has nothing said of it.
      const cursor = inBlock(kind, word === 'fitted' ? `${text}backplane BP {\n}\n` : text);
      const label = form.opens ? word : `${word} {…}`;
      const one = offered(cursor, { today: '2026-06-01' }).find((found) => found.label === label)!;
      expect(one.snippet).toBe(true);
      const before = cursor.replace('|', '');
      const indented = { ...one, insert: one.insert.replaceAll('\n', kind === 'file' ? '\n' : '\n  ') };
      const after = taken(before, indented);
      expect(parseDocument(after).problems.map(({ message }) => message)).toEqual([]);
      const [from, to] = [one.from, after.length - (before.length - one.to)];
      const own = after.slice(after.lastIndexOf('\n', from - 1) + 1, to);
      expect(format(after)).toContain(own);
    },
  );
});

describe('tab stops', () => {
  /** The snippet without the `$` before each stop. */
  const snippet = (label: string, text = behind('|')): string =>
    offered(text)
      .find((one) => one.label === label)!
      .insert.replaceAll('$', '');

  const plain = (label: string): string =>
    withoutStops(offered(behind('|')).find((one) => one.label === label)!.insert);

  test('a closed list of the language is a choice', () => {
    expect(snippet('readings')).toContain('cards {2|out,in|}');
    expect(snippet('readings')).toContain('power {3|off,on|}');
    expect(snippet('family')).toContain('{7|totem-pole,three-state,open-collector|}');
    expect(snippet('bus')).toContain('by {5|silkscreen,trace,meter,manual,guess|}');
  });

  test('names of the machine are a choice, a lone one stands there', () => {
    expect(snippet('card')).toContain('edge         on {3:MAIN}');
    expect(snippet('card')).toContain('{4|+5V,-12V|}');
    expect(snippet('fitted', behind('card RAM {\n}\nbackplane BP {\n}\n|'))).toContain(
      '{3|RAM,CPU,GAUGE,empty|}',
    );
    expect(snippet('ribbon')).toContain('end  {4|GAUGE.J1,unknown|}');
  });

  test('a comma within a choice is told apart from the next', () => {
    expect(snippet('connector')).toContain('{5|1..22\\, A..Z,zigzag,1..44|}');
    expect(plain('connector')).toContain('numbers   1..22, A..Z');
  });

  test('a new block is not called as one that is there', () => {
    expect(snippet('supply')).toContain('supply {1:PSU2} {');
    expect(snippet('bus')).toContain('bus {1:MAIN2} on');
    expect(snippet('ribbon', behind('ribbon W1 10 way {\n}\n|'))).toContain('ribbon {1:W2} ');
  });

  test('the day of readings is today, and left out where nobody knows it', () => {
    const text = behind('|');
    const [known] = offered(text, { today: '2026-06-01' }).filter(({ label }) => label === 'readings');
    expect(known?.insert).toMatch(/^readings \$\{1:2026-06-01\} cards/);
    expect(snippet('readings')).toMatch(/^readings cards/);
  });

  test('the cursor ends where the next line goes', () => {
    for (const { word, opens } of blocks) if (opens) expect(withStop(word)).toMatch(/0\n\}$/);
    function withStop(word: string): string {
      const text =
        word === 'port' || word === 'edge'
          ? 'card X {\n  |\n}'
          : word === 'fitted'
            ? 'backplane BP {\n}\n|'
            : '|';
      return snippet(word, behind(text));
    }
  });
});
