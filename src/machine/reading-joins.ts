import { isRailName } from './names.ts';
import type { Sets } from './nets.ts';
import { continuity } from './readings.ts';
import type { Reading } from './types.ts';
import type { Wiring } from './wiring.ts';

/** What a set of joined nodes is called, and whether it carries power. */
interface Called {
  readonly names: Set<string>;
  power: boolean;
}

/** Joins what a continuity reading proves joined, unless the map says that these are different lines. */
export function joinReadings(wiring: Wiring, readings: readonly Reading[]): void {
  if (readings.length === 0) return;
  const { joins } = wiring;
  const sets = joins.sets(wiring.nodeCount);
  const called = namesOfSets(wiring, sets);
  for (const reading of readings) {
    const [a, b] = [sets.find(reading.from), sets.find(reading.to)];
    const [left, right] = [called.get(a), called.get(b)];
    const bothPower = left?.power === true && right?.power === true;
    if (a === b || !continuity(reading, bothPower)) continue;
    if (left && right && ![...left.names].some((name) => right.names.has(name))) continue;
    joins.join(reading.from, reading.to, joins.because('reading', reading.source, reading.evidence));
    sets.unite(a, b);
    const both = {
      names: new Set([...(left?.names ?? []), ...(right?.names ?? [])]),
      power: left?.power === true || right?.power === true,
    };
    if (both.names.size > 0) called.set(sets.find(a), both);
  }
}

function namesOfSets(wiring: Wiring, sets: Sets): Map<number, Called> {
  const called = new Map<number, Called>();
  const entryOf = (node: number): Called => {
    const root = sets.find(node);
    const entry = called.get(root) ?? { names: new Set<string>(), power: false };
    called.set(root, entry);
    return entry;
  };
  for (const { base, pins } of wiring.instances) {
    pins.claims.forEach((claim, contact) => {
      if (claim === undefined || claim.name === '') return;
      const entry = entryOf(base + contact);
      entry.names.add(claim.name);
      for (const alias of claim.aliases) entry.names.add(alias);
      if (claim.kind === 'rail' || claim.kind === 'ground') entry.power = true;
    });
  }
  const nameRail = (name: string, node: number): void => {
    const entry = entryOf(node);
    entry.names.add(name);
    entry.power = true;
  };
  // A supply's own rails and what boards make are lines of their own too, though no table lists them.
  for (const nodes of wiring.supplyNodes.values()) for (const [name, node] of nodes) nameRail(name, node);
  for (const nodes of wiring.boardNames.values()) {
    for (const [name, node] of nodes) if (isRailName(name)) nameRail(name, node);
  }
  return called;
}
