import { languageRules } from '../checks/language.ts';
import { rules } from '../checks/rules.ts';

/** The page that explains a rule, as Markdown: its heading, how bad its findings are and when it fires, then the page. */
export function explanationOf(id: string): string | undefined {
  const rule = [...rules, ...languageRules].find((one) => one.id === id);
  if (rule === undefined) return undefined;
  const { severity, summary, page } = rule;
  const [heading, ...rest] = page.split('\n');
  return [heading, '', `*${severity}*: ${summary}`, ...rest].join('\n');
}
