import { isGroundName, isRailName } from '../machine/names.ts';
import type { Machine } from '../machine/types.ts';
import type { SymbolKind } from './roles.ts';
import type { Found } from './symbols.ts';

/** The key of a name: equal keys mean one thing over the whole machine. */
export type KeyOf = (kind: SymbolKind, owner: string, name: string) => string;

/**
 * Which equal names are one. Rails and grounds are one over the whole machine. A line of a bus is one with the equal
 * name of every card made for that bus and every backplane that carries it; names of two cards are not.
 */
export function scopesOf(machine: Machine, found: readonly Found[]): KeyOf {
  const namesOf = new Map<string, Set<string>>();
  for (const { kind, owner, names } of found) {
    if (kind !== 'name' || owner === '') continue;
    const set = namesOf.get(owner) ?? new Set();
    for (const name of names) set.add(name);
    namesOf.set(owner, set);
  }
  const busesOf = new Map<string, readonly string[]>();
  for (const { name, edges } of machine.cards)
    busesOf.set(
      `card:${name}`,
      edges.flatMap(({ bus }) => (bus ? [`bus:${bus.name}`] : [])),
    );
  for (const { name, buses } of machine.backplanes)
    busesOf.set(`backplane:${name}`, [...new Set(buses.map(({ bus }) => `bus:${bus.name}`))]);
  const having = (owner: string, name: string): string[] =>
    (busesOf.get(owner) ?? []).filter((bus) => namesOf.get(bus)?.has(name));

  // A card or backplane on two buses that both have a name makes them one line.
  const merged = new Map<string, string>();
  const find = (owner: string, name: string): string => {
    let at = owner;
    for (;;) {
      const next = merged.get(`${at}\n${name}`);
      if (next === undefined) return at;
      at = next;
    }
  };
  for (const [owner, buses] of busesOf) {
    if (buses.length < 2) continue;
    for (const name of namesOf.get(owner) ?? []) {
      const [first, ...others] = having(owner, name).map((bus) => find(bus, name));
      for (const other of others) if (other !== first) merged.set(`${other}\n${name}`, first!);
    }
  }

  const anyOwner = (name: string): string => {
    const owners = [...namesOf.keys()].filter((owner) => namesOf.get(owner)!.has(name));
    return owners.find((owner) => owner.startsWith('bus:')) ?? owners[0] ?? '';
  };
  return (kind, owner, name) => {
    if (kind !== 'name') return owner === '' ? `${kind}:${name}` : `${kind}:${owner}:${name}`;
    if (isPower(name, machine.railNames)) return `name:*:${name}`;
    const [bus] = having(owner, name);
    return `name:${find(bus ?? (owner === '' ? anyOwner(name) : owner), name)}:${name}`;
  };
}

/** Whether a name is a rail or a ground over the whole machine. */
export const isPower = (name: string, { rails, grounds, senses }: Machine['railNames']): boolean =>
  rails.has(name) || grounds.has(name) || senses.has(name) || isRailName(name) || isGroundName(name);
