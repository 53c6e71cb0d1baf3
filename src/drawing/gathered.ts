import type { Chain, Claim } from '../machine/types.ts';
import type { DrawnBus } from './drawn-bus.ts';

/** A line of a bus while its picture is made: by slot, indices into the bus's connector. */
export interface Gathered {
  readonly name: string;
  readonly claim: Claim | undefined;
  readonly chain: Chain | undefined;
  readonly first: number;
  readonly bySlot: number[][];
}

/** All names by which a text may mean the line; none where nobody has given it one. */
export const namesOf = ({ claim, chain }: Gathered): readonly string[] =>
  claim === undefined || claim.name === ''
    ? []
    : [...(chain ? [chain.name, chain.outName] : [claim.name]), ...claim.aliases];

/** A line for each name, and for each contact of which no name is said; what holds in some slots only is apart. */
export function gather({ bus, sockets }: Pick<DrawnBus, 'bus' | 'sockets'>): Gathered[] {
  const lines = new Map<string, Gathered>();
  const chains = new Map(
    bus.chains.flatMap((chain) => [[chain.input, chain] as const, [chain.output, chain] as const]),
  );
  sockets.forEach((socket, slot) => {
    socket?.pins.claims.forEach((claim, contact) => {
      const chain = claim?.kind === 'signal' ? chains.get(contact) : undefined;
      const name = chain?.name ?? nameOf(claim);
      const isLine = claim !== undefined && claim.name !== '' && !claim.private;
      const key = chain
        ? `chain ${chain.name}`
        : isLine
          ? `${claim.kind} ${name}`
          : `contact ${contact} ${name}`;
      let line = lines.get(key);
      if (line === undefined) {
        line = { name, claim, chain, first: contact, bySlot: sockets.map(() => []) };
        lines.set(key, line);
      }
      line.bySlot[slot]!.push(contact);
    });
  });
  return [...lines.values()];
}

const nameOf = (claim: Claim | undefined): string =>
  claim === undefined ? 'not said' : claim.name === '' ? claim.kind : claim.name;
