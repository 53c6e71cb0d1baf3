import { items, said as saidText } from '../language/tree.ts';
import { type Blocks, ofForm } from './blocks.ts';
import { names, type Problems, sourceOf, statementOf } from './scope.ts';
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

/** What the text allows. A line without its reason allows nothing, and is reported where it is read. */
export const readAllowances = (blocks: Blocks): Allowance[] =>
  ofForm(blocks, 'allow').flatMap((said) => {
    const statement = statementOf(said);
    const [rule] = statement.subject;
    if ((saidText(statement, 'text') ?? '').trim() === '') return [];
    return {
      rule: rule?.kind === 'word' ? rule.text : '',
      places: items(statement, 'at').map((item) => item.first),
      source: sourceOf(said),
    };
  });
