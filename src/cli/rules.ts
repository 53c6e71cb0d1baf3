import { languageRules } from '../checks/language.ts';
import { pages } from '../checks/pages.ts';
import { rules } from '../checks/rules.ts';
import { nearest } from '../language/problems.ts';
import { Trouble } from './files.ts';

const all = [...rules, ...languageRules].map(({ id, severity, summary }) => ({ id, severity, summary }));

export function rulesCommand(options: { readonly format: 'text' | 'json' }): number {
  if (options.format === 'json') {
    process.stdout.write(`${JSON.stringify({ rules: all }, null, 2)}\n`);
    return 0;
  }
  const width = Math.max(...all.map(({ id }) => id.length));
  for (const { id, severity, summary } of all) {
    process.stdout.write(`${id.padEnd(width)}  ${severity.padEnd(8)}  ${summary}\n`);
  }
  return 0;
}

export function explainCommand(id: string): number {
  const page = pages.get(id);
  if (page === undefined) {
    const near = nearest(
      id,
      all.map((one) => one.id),
    );
    throw new Trouble(
      `there is no rule \`${id}\`; ${near ? `did you mean \`${near}\`?` : '`cardcage rules` lists them all'}`,
    );
  }
  process.stdout.write(page);
  return 0;
}
