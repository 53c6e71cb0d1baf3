import { attribute, has, subjects } from '../language/tree.ts';
import { measure } from '../language/units.ts';
import { optional } from './connectors.ts';
import { voltsOfName } from './names.ts';
import { amount, evidenceOf, inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Rail, RailNames } from './types.ts';

/** A `rail` line. The voltage comes from the line, else from the name; a rail without either is 0 V and reported. */
export function readRail(said: Said, owner: string, problems: Problems): Rail {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const voltage = attribute(statement, 'voltage')?.values[0];
  const spelled = voltsOfName(name);
  const range =
    voltage?.kind === 'quantity' ? measure(voltage, 'voltage') : { low: spelled ?? 0, high: spelled ?? 0 };
  if (voltage === undefined && spelled === undefined) {
    problems.add(
      'attribute-missing',
      sourceOf(said),
      `the rail ${name} does not say its voltage; for example \`rail ${name} 5 V\``,
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

/** What the whole machine calls a rail or a ground. Grounds named on one line are one ground. */
export function readRailNames(blocks: readonly Said[], problems: Problems): RailNames {
  const grounds = new Map<string, number>();
  const rails = new Map<string, Rail[]>();
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
      }
    }
  }
  return { grounds, rails };
}
