import { languageRules } from '../../checks/language.ts';
import { rules } from '../../checks/rules.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';

/** Rules: those that find something now first. */
export function ruleNames({ analysis: { findings }, elsewhere }: Cursor): Candidate[] {
  const counts = new Map<string, number>();
  for (const { rule, source } of findings)
    if (elsewhere(source)) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  const one = (id: string, summary: string, rank: number): Candidate => {
    const count = counts.get(id) ?? 0;
    const detail = count === 0 ? 'finds nothing now' : `${count} ${count === 1 ? 'finding' : 'findings'} now`;
    return { label: id, kind: 'rule', rank: count > 0 ? 0 : rank, detail, documentation: summary };
  };
  return [
    ...rules.map(({ id, summary }) => one(id, summary, 1)),
    ...languageRules.filter(({ id }) => counts.has(id)).map(({ id, summary }) => one(id, summary, 2)),
  ];
}

/** Places that the rule's present findings are about. */
export function allowedPlaces({ analysis: { findings } }: Cursor, slot: Slot): Candidate[] {
  const [rule] = slot.statement.subject;
  const id = rule?.kind === 'word' ? rule.text : '';
  const said = new Set(otherItems(slot).map(({ first }) => first));
  const found = new Map<string, Candidate>();
  for (const finding of findings) {
    if (finding.rule !== id) continue;
    const contacts = finding.path
      .map(({ contact }) => contact)
      .filter((contact) => /^[^\s]+\.[^\s]+$/.test(contact));
    for (const [rank, names] of [finding.about, contacts].entries()) {
      for (const label of names) {
        if (said.has(label) || found.has(label) || /[\s,"]/.test(label)) continue;
        found.set(label, { label, kind: 'place', rank, detail: finding.message, whole: true });
      }
    }
  }
  return [...found.values()];
}
