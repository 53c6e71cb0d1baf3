import type { Item } from '../../language/tree.ts';
import { expandVector } from '../../machine/names.ts';
import type { Backplane, Bus, Card, Claim, PinMap } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';

/** All names that items mean, vectors expanded. */
export function saidNames(items: readonly Item[]): string[] {
  return items.flatMap(({ first, last }) => {
    const vector = last === undefined ? [first] : expandVector(first, last);
    return 'problem' in vector ? [first] : vector;
  });
}

/** The kind under which a claim's name is offered. */
export const kindOf = ({ kind }: Claim): 'rail' | 'ground' | 'signal' =>
  kind === 'rail' || kind === 'ground' ? kind : 'signal';

/** Lines (not rails) on some connectors, each once, in the order of their contacts. */
export function lines(maps: readonly PinMap[], rank: number): Candidate[] {
  return claimed(maps, rank).filter(({ kind }) => kind === 'signal');
}

/** Everything named on some connectors, each once, in the order of their contacts. */
export function claimed(maps: readonly PinMap[], rank: number): Candidate[] {
  const found = new Map<string, Candidate>();
  for (const { claims, connector } of maps) {
    claims.forEach((claim, index) => {
      if (claim === undefined) return;
      for (const name of [claim.name, ...claim.aliases]) {
        if (name === '' || found.has(name)) continue;
        const kind = kindOf(claim);
        const how = claim.evidence.kind === undefined ? '' : `, by ${claim.evidence.kind}`;
        const detail = `${kind}, contact ${connector.labels[index]}${how}`;
        found.set(name, { label: name, kind, rank, detail });
      }
    });
  }
  return [...found.values()];
}

export const busesOfCard = ({ edges }: Card): Bus[] => edges.flatMap(({ bus }) => (bus ? [bus] : []));

export const busesOf = (backplane: Backplane | undefined): Bus[] => [
  ...new Set((backplane?.buses ?? []).map(({ bus }) => bus)),
];

export const connectorsOf = ({ edges, ports }: Card): PinMap[] =>
  [...edges, ...ports].map(({ pins }) => pins);

/** `D0, trace`; `spare`. */
export const claimText = ({ name, kind, evidence }: Claim): string =>
  [name === '' ? kind : name, evidence.kind].filter(Boolean).join(', ');
