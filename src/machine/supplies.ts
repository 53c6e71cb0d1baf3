import { subjects } from '../language/tree.ts';
import { buildPort, type Lookup, unique, unknown } from './cards.ts';
import { optional } from './connectors.ts';
import { evidenceOf, inside, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Declared, Port, Supply } from './types.ts';

export function buildSupply(said: Said, lookup: Lookup, problems: Problems): Supply {
  const name = subjects(statementOf(said))[0]?.first ?? '';
  const ports: Port[] = [];
  const grounds: string[] = [];
  const groundLines = new Map<string, Declared>();
  let order: string[] | undefined;
  for (const line of inside(said)) {
    const statement = statementOf(line);
    if (statement.form === 'port') {
      const port = buildPort(line, name, lookup, problems);
      if (port) ports.push(port);
    } else if (statement.form === 'ground') {
      const said = { evidence: evidenceOf(statement), source: sourceOf(line) };
      for (const { first } of subjects(statement)) {
        grounds.push(first);
        groundLines.set(first, said);
      }
    } else if (statement.form === 'order') order = subjects(statement).map((item) => item.first);
  }
  unique(ports, name, problems);
  // The rails were read with the whole machine's rail names; they are the same objects.
  const rails = [...new Set([...lookup.rails.rails.values()].flat())].filter(
    (rail) => rail.owner === name && within(said, rail.source),
  );
  if (order !== undefined)
    checkOrder(
      said,
      rails.map((rail) => rail.name),
      problems,
    );
  return { name, rails, grounds, groundLines, ...optional('order', order), ports, source: sourceOf(said) };
}

const within = (said: Said, source: { file: string; from: number }): boolean =>
  source.file === said.file && inside(said).some((line) => sourceOf(line).from === source.from);

function checkOrder(said: Said, rails: readonly string[], problems: Problems): void {
  const line = inside(said).find((one) => statementOf(one).form === 'order') as Said;
  for (const item of subjects(statementOf(line))) {
    if (!rails.includes(item.first)) {
      problems.add('name-unknown', sourceOf(line, item), unknown('rail', item.first, rails));
    }
  }
}
