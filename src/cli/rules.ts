import { languageRules } from '../checks/language.ts';
import { rules } from '../checks/rules.ts';
import { nearest } from '../language/problems.ts';
import { Trouble } from './files.ts';

const all = [...rules, ...languageRules].map(({ id, severity, summary, page }) => ({
  id,
  severity,
  summary,
  page,
}));

export function rulesCommand(options: { readonly format: 'text' | 'json' }): number {
  if (options.format === 'json') {
    const list = all.map(({ id, severity, summary }) => ({ id, severity, summary }));
    process.stdout.write(`${JSON.stringify({ rules: list }, null, 2)}\n`);
    return 0;
  }
  const width = Math.max(...all.map(({ id }) => id.length));
  for (const { id, severity, summary } of all) {
    process.stdout.write(`${id.padEnd(width)}  ${severity.padEnd(8)}  ${summary}\n`);
  }
  return 0;
}

export function explainCommand(id: string): number {
  const rule = all.find((one) => one.id === id);
  if (rule === undefined) {
    const near = nearest(
      id,
      all.map((one) => one.id),
    );
    throw new Trouble(
      `there is no rule \`${id}\`; ${near ? `did you mean \`${near}\`?` : '`cardcage rules` lists them all'}`,
    );
  }
  process.stdout.write(rule.page);
  return 0;
}
