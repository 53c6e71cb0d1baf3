import type { Item } from '../../language/tree.ts';
import { expandVector } from '../../machine/names.ts';
import type { Backplane, Bus, Card, Claim, Machine, PinMap } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';

/** All names that items mean, vectors expanded. */
export function saidNames(items: readonly Item[]): string[] {
  return items.flatMap(({ first, last }) => {
    const vector = last === undefined ? [first] : expandVector(first, last);
    return 'problem' in vector ? [first] : vector;
  });
}

/** The kind under which a claim's name is offered. */
const kindOf = ({ kind }: Claim): 'rail' | 'ground' | 'signal' =>
  kind === 'rail' || kind === 'ground' ? kind : 'signal';

/** Lines (not rails) on some connectors, each once, in the order of their contacts. */
export function lines(maps: readonly PinMap[], rank: number): Candidate[] {
  return claimed(maps, rank).filter(({ kind }) => kind === 'signal');
}

/** Everything named on some connectors, each once, in the order of their contacts; other names of a line at the end. */
export function claimed(maps: readonly PinMap[], rank: number): Candidate[] {
  const found = new Map<string, Candidate>();
  const others = new Map<string, Candidate>();
  for (const { claims, connector } of maps) {
    claims.forEach((claim, index) => {
      if (claim === undefined) return;
      const { name, aliases } = claim;
      const kind = kindOf(claim);
      if (name !== '' && !found.has(name)) {
        const how = claim.evidence.kind === undefined ? '' : `, by ${claim.evidence.kind}`;
        found.set(name, {
          label: name,
          kind,
          rank,
          detail: `${kind}, contact ${connector.labels[index]}${how}`,
        });
      }
      for (const label of aliases)
        others.set(label, { label, kind, rank, detail: `another name of ${name}` });
    });
  }
  return [...found.values(), ...[...others.values()].filter(({ label }) => !found.has(label))];
}

export const busesOfCard = ({ edges }: Card): Bus[] => edges.flatMap(({ bus }) => (bus ? [bus] : []));

export const busesOf = (backplane: Backplane | undefined): Bus[] => [
  ...new Set((backplane?.buses ?? []).map(({ bus }) => bus)),
];

/** Connectors of a card, as they are wherever it sits. */
export const connectorsOf = ({ edges, ports }: Card): PinMap[] =>
  [...edges, ...ports].map(({ pins }) => pins);

/** Buses of a backplane, and what its slots make of them: a line may hold in some slots only. */
export const mapsOfCage = (backplane: Backplane): PinMap[] => [
  ...new Set([
    ...busesOf(backplane).map(({ pins }) => pins),
    ...backplane.slots.flatMap(({ instances }) => instances.map(({ pins }) => pins)),
  ]),
];

/** Connectors of a card, then those of the slots that carry its buses. */
export function mapsOfCard({ backplanes }: Machine, card: Card): PinMap[] {
  const buses = new Set(busesOfCard(card));
  const inSlots = backplanes.flatMap(({ slots }) =>
    slots.flatMap(({ instances }) =>
      instances.filter(({ port }) => port.bus && buses.has(port.bus)).map(({ pins }) => pins),
    ),
  );
  return [...new Set([...connectorsOf(card), ...inSlots])];
}

/** `D0, trace`; `spare`. */
export const claimText = ({ name, kind, evidence }: Claim): string =>
  [name === '' ? kind : name, evidence.kind].filter(Boolean).join(', ');
