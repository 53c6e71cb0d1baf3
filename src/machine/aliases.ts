import { items, subjects } from '../language/tree.ts';
import { type Blocks, ofForm } from './blocks.ts';
import { inside, type Said, statementOf } from './scope.ts';

/** Pairs of names that are one, in either order: `a\nb`. What the straps of one block join, also over several lines. */
export function readAliases(blocks: Blocks): Set<string> {
  const pairs = new Set<string>();
  for (const form of ['supply', 'backplane', 'card']) {
    for (const said of ofForm(blocks, form)) {
      for (const [a, group] of strapped(said)) for (const b of group) if (a !== b) pairs.add(`${a}\n${b}`);
    }
  }
  return pairs;
}

/** Each strapped name of a block with all that it is strapped to, itself included. */
function strapped(said: Said): Map<string, ReadonlySet<string>> {
  const groups = new Map<string, ReadonlySet<string>>();
  for (const line of inside(said)) {
    const statement = statementOf(line);
    // A sense wire is at the rail it watches.
    if (statement.form !== 'strap' && statement.form !== 'sense') continue;
    const named = [...subjects(statement), ...items(statement, 'for')].map((item) => item.first);
    const group = new Set(named.flatMap((name) => [...(groups.get(name) ?? [name])]));
    for (const name of group) groups.set(name, group);
  }
  return groups;
}
