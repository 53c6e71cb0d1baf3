import { Sets } from '../../machine/nets.ts';
import type { Machine } from '../../machine/types.ts';
import { type Assembly, assemble, bitsOf, matesOf } from './assembly.ts';
import { Groups } from './groups.ts';
import { type Live, type Pieces, piecesOf } from './pieces.ts';
import { type CableNodes, type Mate, type Place, type Plug, socketNodes } from './plugs.ts';
import { atStake, lackingIn, type Stakes, stakesOf } from './stakes.ts';
import type { Way } from './ways.ts';

/** A mate, and the contacts that meet: pairs of the plug's contact and the socket's. */
export interface Meeting extends Mate {
  readonly pairs: Int32Array;
}

/** A plug put somewhere in some way. */
export interface Placement {
  readonly plug: Plug;
  /** A second plug that is wrong at the same time, whose meetings are among these. */
  readonly also?: Plug;
  readonly place: Place;
  readonly way: Way;
  readonly meetings: readonly Meeting[];
}

/** What a plug leaves behind, with what sits where it is put: the machine without them, and what that lacks. */
export interface Rest {
  readonly assembly: Assembly;
  readonly lacking: Stakes;
}

/** What is known of one live rail or ground, by piece: on its own, and where it is shorted to ground as well. */
interface Suffering {
  readonly alone: Uint8Array;
  readonly shorted: Uint8Array;
}

/** One machine, ready to have its plugs put wrong. Keeps what placements share. */
export interface Bench {
  readonly machine: Machine;
  readonly plugs: readonly Plug[];
  readonly pieces: Pieces;
  readonly bits: Uint8Array;
  /** Pieces that each plug joins where it belongs. */
  readonly mates: readonly Int32Array[];
  readonly stakes: Stakes;
  readonly whole: Assembly;
  /** Assemblies by the plug that is out, and the place whose own plug, or the other plug that, is out too … */
  readonly assemblies: Map<Plug, Map<Place | Plug, Rest>>;
  /** … and by all plugs that are out: two that change places leave the same machine behind. */
  readonly assembliesBy: Map<string, Assembly>;
  /** What each live rail or ground does to each piece at worst: rank, and 16 more where a pin there is unknown; 0: not asked yet. */
  readonly asked: Map<Live, Suffering>;
  readonly groups: Groups;
}

export function benchOf(
  machine: Machine,
  { cables, plugs }: Pick<Bench, 'plugs'> & { readonly cables: CableNodes },
): Bench {
  const pieces = piecesOf(machine, cables);
  const bits = bitsOf(machine, pieces);
  const mates = plugs.map((plug) => matesOf(plug, pieces.of));
  return {
    machine,
    plugs,
    pieces,
    bits,
    mates,
    stakes: stakesOf(machine, pieces),
    whole: assemble(pieces, bits, mates, (i) => !plugs[i]!.out),
    assemblies: new Map(),
    assembliesBy: new Map(),
    asked: new Map(),
    groups: new Groups(pieces.count),
  };
}

/** Pieces of all assemblies kept at once, at nine bytes each. */
const MOST_KEPT = 4e6;

/** The machine without the plug, and without what sits where it is put. */
export function restFor(bench: Bench, { plug, also, place }: Placement): Rest {
  const { plugs, pieces, bits, mates, stakes, whole, assemblies, assembliesBy } = bench;
  let its = assemblies.get(plug);
  if (its === undefined) {
    its = new Map();
    assemblies.set(plug, its);
  }
  const known = its.get(also ?? place);
  if (known) return known;
  const out = plugs.map(
    (one) =>
      one === plug ||
      one === also ||
      one.out ||
      one.parts.some(({ home }) => home !== undefined && place.sockets.includes(home)),
  );
  const key = out.map(Number).join('');
  const assembly = assembliesBy.get(key) ?? assemble(pieces, bits, mates, (i) => !out[i]!);
  // Cases come place by place: what a large machine has no room to keep is not asked for again soon.
  if (assembliesBy.size * pieces.count > MOST_KEPT) {
    assemblies.clear();
    assembliesBy.clear();
    assemblies.set(plug, its);
  }
  assembliesBy.set(key, assembly);
  const lacking = atStake(lackingIn(assembly, stakes), lackingIn(whole, stakes), plug.board);
  const rest = { assembly, lacking };
  its.set(also ?? place, rest);
  return rest;
}

/** Which net each node is on in a placement, as a number: the same where contacts that meet join them. */
export function joinedIn(bench: Bench, placement: Placement): (node: number) => number {
  const { net } = restFor(bench, placement).assembly;
  const { of } = bench.pieces;
  const sets = new Sets(bench.pieces.count);
  for (const { part, socket, pairs } of placement.meetings) {
    const nodes = socketNodes(socket);
    for (let k = 0; k < pairs.length; k += 2) {
      const [a, b] = [part.copper[pairs[k]!]!, nodes[pairs[k + 1]!]!];
      if (a >= 0 && b >= 0) sets.unite(net[of[a]!]!, net[of[b]!]!);
    }
  }
  return (node) => sets.find(net[of[node]!]!);
}
