import { expect, it } from 'vitest';
import { languageRules } from '../../../src/checks/language.ts';
import { pages } from '../../../src/checks/pages.ts';
import { rules } from '../../../src/checks/rules.ts';
import { explanation } from '../../../src/editing/explain.ts';

it.each([...rules, ...languageRules])(
  'explains $id with how bad it is, when it fires and an example',
  ({ id, severity, summary }) => {
    const shown = explanation(id, pages.get(id)!);
    expect(shown.split('\n').slice(0, 3)).toEqual([`# ${id}`, '', `*${severity}*: ${summary}`]);
    expect(shown).toContain('```pinout');
  },
);

it('leaves a page that is of no rule as it is', () => {
  expect(explanation('__proto__', '# The language\n')).toBe('# The language\n');
});
