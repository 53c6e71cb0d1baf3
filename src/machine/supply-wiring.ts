import type { Item } from '../language/tree.ts';
import { subjects } from '../language/tree.ts';
import { lineOfContact } from './bus-lines.ts';
import { unknown } from './cards.ts';
import { evidenceOf, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Backplane, Supply } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Makes a node of each rail and ground of a supply, and joins the contacts that carry its name. */
export function wireSupply(wiring: Wiring, supply: Supply): void {
  const nodes = new Map<string, number>();
  const cause = wiring.joins.because('supply', supply.source);
  for (const rail of supply.rails) nodes.set(rail.name, wiring.node(`${supply.name}.${rail.name}`));
  for (const ground of supply.grounds) nodes.set(ground, wiring.node(`${supply.name}.${ground}`));
  wiring.supplyNodes.set(supply, nodes);
  for (const instance of wiring.instances) {
    if (instance.supply !== supply) continue;
    instance.pins.claims.forEach((claim, contact) => {
      const node = claim && nodes.get(claim.name);
      if (node !== undefined) wiring.joins.join(node, instance.base + contact, cause);
    });
  }
}

export function supplyNode(wiring: Wiring, supply: Supply, rail: string): number | undefined {
  return wiring.supplyNodes.get(supply)?.get(rail);
}

/** Joins what the lines of a supply's block strap together; grounds named on one line are one ground. */
export function strapSupply(
  wiring: Wiring,
  supply: Supply,
  lines: readonly Said[],
  problems: Problems,
): void {
  for (const line of lines) {
    const statement = statementOf(line);
    const { form } = statement;
    if (form !== 'strap' && form !== 'ground') continue;
    const cause = wiring.joins.because(form, sourceOf(line), evidenceOf(statement));
    const [first, ...others] = subjects(statement).map((item) =>
      namedNode(wiring, supply, item, line, problems),
    );
    for (const node of others) {
      if (first !== undefined && node !== undefined) wiring.joins.join(first, node, cause);
    }
  }
}

function namedNode(
  wiring: Wiring,
  supply: Supply,
  item: Item,
  line: Said,
  problems: Problems,
): number | undefined {
  const node = supplyNode(wiring, supply, item.first);
  if (node === undefined) {
    const known = [...supply.rails.map((rail) => rail.name), ...supply.grounds];
    problems.add('name-unknown', sourceOf(line, item), unknown('rail', item.first, known));
  }
  return node;
}

/** Joins the rails of supplies to the lines of a backplane that they feed. */
export function wireFeeds(wiring: Wiring, backplane: Backplane): void {
  for (const { supply, rail, contacts, source, evidence } of backplane.feeds) {
    const from = supplyNode(wiring, supply, rail);
    if (from === undefined) continue;
    const cause = wiring.joins.because('feed', source, evidence);
    for (const { instanceBus, contact } of contacts) {
      const to = lineOfContact(wiring, backplane, instanceBus, contact, 0);
      if (to !== undefined) wiring.joins.join(from, to, cause);
    }
  }
}
