import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { published } from '../../../src/knowledge/published.ts';
import { parseDocument } from '../../../src/language/blocks.ts';
import { damages, lostIn, statementsOf } from '../../support/damage.ts';

const EXAMPLES = 'examples';

/** Places at which a text is damaged: all of them with `DAMAGE=all`, else enough to notice, spread over the text. */
const PLACES = process.env.DAMAGE === 'all' ? Number.POSITIVE_INFINITY : 2500;

const files: [string, string][] = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.pinout'))
  .map((name): [string, string] => [name, readFileSync(join(EXAMPLES, name), 'utf8')])
  .concat([...published].map(([name, text]): [string, string] => [`published ${name}`, text]));

describe('damage: a character deleted or inserted, a line dropped or joined', () => {
  const sum = { texts: 0, worse: 0 };
  afterAll(() => {
    const share = (100 * (1 - sum.worse / sum.texts)).toFixed(2);
    console.log(`damage: ${sum.texts} damaged texts, ${share} % lose at most one statement`);
  });

  test.each(files)('%s', { timeout: 900_000 }, (_, text) => {
    const before = parseDocument(text);
    const whole = statementsOf(text, before);
    let texts = 0;
    const worse: string[] = [];
    for (const damage of damages(text, Math.max(1, Math.ceil(text.length / PLACES)))) {
      texts++;
      if (lostIn(damage.text, whole, before).length > 1) worse.push(damage.what);
    }
    sum.texts += texts;
    sum.worse += worse.length;
    expect(1 - worse.length / texts, worse.slice(0, 40).join('\n')).toBeGreaterThanOrEqual(0.99);
  });
});
