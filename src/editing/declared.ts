import type {
  Backplane,
  Board,
  Bus,
  Card,
  Connector,
  Machine,
  Port,
  Ribbon,
  Supply,
} from '../machine/types.ts';

/** A thing of the machine, with the kind of block or line that describes it. */
export type Declared =
  | { readonly kind: 'supply'; readonly of: Supply }
  | { readonly kind: 'connector'; readonly of: Connector }
  | { readonly kind: 'bus'; readonly of: Bus }
  | { readonly kind: 'backplane'; readonly of: Backplane }
  | { readonly kind: 'card'; readonly of: Card }
  | { readonly kind: 'board'; readonly of: Board }
  | { readonly kind: 'ribbon'; readonly of: Ribbon }
  | { readonly kind: 'port' | 'edge'; readonly of: Port; readonly owner: Card | Backplane | Supply };

/** What is described in a file, by the offset at which its statement begins. */
export function placesOf(machine: Machine, file: string): ReadonlyMap<number, Declared> {
  const places = new Map<number, Declared>();
  for (const one of declaredIn(machine)) {
    const { source } = one.of;
    if (source.file === file && !places.has(source.from)) places.set(source.from, one);
  }
  return places;
}

function* declaredIn(machine: Machine): Iterable<Declared> {
  const { supplies, connectors, buses, backplanes, cards, boards, ribbons } = machine;
  for (const of of supplies) yield { kind: 'supply', of };
  for (const of of connectors) yield { kind: 'connector', of };
  for (const of of buses) yield { kind: 'bus', of };
  for (const of of backplanes) yield { kind: 'backplane', of };
  for (const of of cards) yield { kind: 'card', of };
  for (const of of boards) yield { kind: 'board', of };
  for (const of of ribbons) yield { kind: 'ribbon', of };
  for (const owner of [...supplies, ...backplanes, ...cards]) {
    for (const of of owner.ports) yield { kind: 'port', of, owner };
  }
  for (const owner of cards) for (const of of owner.edges) yield { kind: 'edge', of, owner };
}
