import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { published } from '../../../src/knowledge/published.ts';
import { parseDocument } from '../../../src/language/blocks.ts';
import { damages, lostIn, statementsOf } from '../../support/damage.ts';

const EXAMPLES = 'examples';

const files: [string, string][] = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.pinout'))
  .map((name): [string, string] => [name, readFileSync(join(EXAMPLES, name), 'utf8')])
  .concat([...published].map(([name, text]): [string, string] => [`published ${name}`, text]));

describe('damage: a character deleted or inserted at every place, a line dropped or joined', () => {
  // Every third character keeps the test short; the whole of it was measured and is no worse.
  test.each(files)('%s', (_, text) => {
    const before = parseDocument(text);
    const whole = statementsOf(text, before);
    let texts = 0;
    const worse: string[] = [];
    for (const damage of damages(text, 3)) {
      texts++;
      if (lostIn(damage.text, whole, before).length > 1) worse.push(damage.what);
    }
    const share = 1 - worse.length / texts;
    expect(share, worse.slice(0, 40).join('\n')).toBeGreaterThanOrEqual(0.99);
  });
});
