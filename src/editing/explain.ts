import { languageRules } from '../checks/language.ts';
import { rules } from '../checks/rules.ts';

/** A rule's page as it is shown, Markdown: its heading, how bad its findings are and when it fires, then the page. */
export function explanation(id: string, page: string): string {
  const rule = [...rules, ...languageRules].find((one) => one.id === id);
  if (rule === undefined) return page;
  const [heading, ...rest] = page.split('\n');
  return [heading, '', `*${rule.severity}*: ${rule.summary}`, ...rest].join('\n');
}
