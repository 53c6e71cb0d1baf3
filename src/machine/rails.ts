import { attribute, has, items, subjects } from '../language/tree.ts';
import { measure } from '../language/units.ts';
import { optional } from './connectors.ts';
import { voltsOfName } from './names.ts';
import { amount, evidenceOf, inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Rail, RailNames } from './types.ts';

/** A `rail` line. The voltage comes from the line, else from the name; a rail without either is 0 V and reported. */
function readRail(said: Said, owner: string, problems: Problems): Rail {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const voltage = attribute(statement, 'voltage')?.values[0];
  const spelled = voltsOfName(name);
  const named = { low: spelled ?? 0, high: spelled ?? 0 };
  const range = (voltage?.kind === 'quantity' ? measure(voltage, 'voltage') : undefined) ?? named;
  if (voltage === undefined && spelled === undefined) {
    problems.add(
      'attribute-missing',
      sourceOf(said),
      `the rail ${name} does not say its voltage; for example \`rail ${name} 5 V\``,
    );
  }
  if (spelled !== undefined && spelled * range.low < 0 && spelled * range.high < 0) {
    problems.add(
      'range-mismatch',
      sourceOf(said),
      `the rail ${name} is said to be ${spelled < 0 ? 'positive' : 'negative'}, and its name says the opposite; correct the one that is wrong`,
    );
  }
  if (range.low > range.high) {
    problems.add(
      'range-mismatch',
      sourceOf(said),
      `the range of rail ${name} runs from high to low; write the lower voltage first`,
    );
  }
  return {
    name,
    low: Math.min(range.low, range.high),
    high: Math.max(range.low, range.high),
    ...optional('tolerance', amount(statement, 'percent', 'percent')),
    ...optional('peak', amount(statement, 'peak', 'voltage')),
    ...optional('max', amount(statement, 'max', 'current')),
    ...optional('min', amount(statement, 'min', 'current')),
    ac: has(statement, 'ac'),
    owner,
    evidence: evidenceOf(statement),
    source: sourceOf(said),
  };
}

/**
 * What the whole machine calls a rail or a ground. Grounds named on one line are one ground; a sense lead is at what it
 * watches.
 */
export function readRailNames(blocks: readonly Said[], problems: Problems): RailNames {
  const grounds = new Map<string, number>();
  const rails = new Map<string, Rail[]>();
  const watched: { sense: string; name: string; owner: string }[] = [];
  for (const block of blocks) {
    const owner = subjects(statementOf(block))[0]?.first ?? '';
    for (const line of inside(block)) {
      const statement = statementOf(line);
      if (statement.form === 'rail') {
        const rail = readRail(line, owner, problems);
        rails.set(rail.name, [...(rails.get(rail.name) ?? []), rail]);
      } else if (statement.form === 'ground') {
        const named = subjects(statement).map((item) => item.first);
        const known = named.map((name) => grounds.get(name)).find((group) => group !== undefined);
        const group = known ?? grounds.size;
        for (const name of named) grounds.set(name, group);
      } else if (statement.form === 'sense') {
        const [sense, name] = [subjects(statement)[0]?.first, items(statement, 'for')[0]?.first];
        if (sense !== undefined && name !== undefined) watched.push({ sense, name, owner });
      }
    }
  }
  for (const { sense, name, owner } of watched) {
    const ground = grounds.get(name);
    const its = (rails.get(name) ?? []).filter((rail) => rail.owner === owner);
    if (ground !== undefined) grounds.set(sense, ground);
    else if (its.length > 0) rails.set(sense, [...(rails.get(sense) ?? []), ...its]);
  }
  return { grounds, rails, senses: new Set(watched.map(({ sense }) => sense)) };
}
