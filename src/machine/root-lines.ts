import { items, said as saidText } from '../language/tree.ts';
import { type Blocks, ofForm } from './blocks.ts';
import { names, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Allowance } from './types.ts';

/** The text of the first `title` line; empty where there is none. */
export function readTitle(blocks: Blocks): string {
  const [said] = ofForm(blocks, 'title');
  const value = said && statementOf(said).subject[0];
  return value?.kind === 'text' ? value.value : '';
}

/** Names that are active low though nothing in them says so. */
export function readActiveLow(blocks: Blocks, problems: Problems): Set<string> {
  const all = ofForm(blocks, 'activelow').flatMap((said) => names(said, statementOf(said).subject, problems));
  return new Set(all.map(({ name }) => name));
}

export const readAllowances = (blocks: Blocks): Allowance[] => ofForm(blocks, 'allow').map(readAllowance);

function readAllowance(said: Said): Allowance {
  const statement = statementOf(said);
  const [rule] = statement.subject;
  return {
    rule: rule?.kind === 'word' ? rule.text : '',
    places: items(statement, 'at').map((item) => item.first),
    reason: saidText(statement, 'text') ?? '',
    source: sourceOf(said),
  };
}
