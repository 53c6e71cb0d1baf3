import { expect, it } from 'vitest';
import { languageRules } from '../../../src/checks/language.ts';
import { rules } from '../../../src/checks/rules.ts';
import { explanationOf } from '../../../src/editing/explain.ts';

it.each([...rules, ...languageRules])(
  'explains $id with how bad it is, when it fires and an example',
  (rule) => {
    const page = explanationOf(rule.id)!;
    expect(page.split('\n').slice(0, 3)).toEqual([`# ${rule.id}`, '', `*${rule.severity}*: ${rule.summary}`]);
    expect(page).toContain('```pinout');
    expect(page).toContain(rule.page.split('\n').slice(1).join('\n'));
  },
);

it('knows no other rule', () => {
  expect(explanationOf('rail-unfound')).toBeUndefined();
  expect(explanationOf('__proto__')).toBeUndefined();
});
