import type { Biasing, Claim, Instance, Machine, RailSource, Use } from '../machine/types.ts';

/** A claim on a net, with one of the contacts that it is made of. */
interface ClaimAt {
  readonly claim: Claim;
  readonly contact: number;
}

/** What meets on one net. */
export interface NetView {
  readonly net: number;
  /** Each claim once, however many contacts share it. */
  readonly claims: readonly ClaimAt[];
  readonly uses: readonly Use[];
  readonly biasings: readonly Biasing[];
  readonly sources: readonly RailSource[];
}

export interface NetIndex {
  /** Nets with at least one claim, use, terminator or source, in order of their first contact. */
  readonly views: readonly NetView[];
  of(net: number): NetView;
  at(node: number): NetView;
  /** The instance that a contact belongs to. */
  instanceOf(contact: number): Instance;
}

interface Building {
  net: number;
  claims: ClaimAt[];
  seen?: Set<Claim>;
  uses: Use[];
  biasings: Biasing[];
  sources: RailSource[];
}

/** Gathers by net all that is claimed of it and happens on it. Linear in the contacts. */
export function indexNets(machine: Machine): NetIndex {
  const { nets, instances } = machine;
  const byNet: (Building | undefined)[] = new Array(nets.count);
  const views: Building[] = [];
  const building = (node: number): Building => {
    const net = nets.of[node]!;
    let view = byNet[net];
    if (view === undefined) {
      view = { net, claims: [], uses: [], biasings: [], sources: [] };
      byNet[net] = view;
      views.push(view);
    }
    return view;
  };
  const ownerOf = new Int32Array(machine.contactCount);
  instances.forEach((instance, index) => {
    const { claims } = instance.pins;
    for (let i = 0; i < claims.length; i++) {
      ownerOf[instance.base + i] = index;
      const claim = claims[i];
      if (claim !== undefined) addClaim(building(instance.base + i), claim, instance.base + i);
    }
  });
  for (const use of machine.uses) building(use.node).uses.push(use);
  for (const biasing of machine.biasings) building(biasing.node).biasings.push(biasing);
  for (const source of machine.railSources) building(source.node).sources.push(source);
  const of = (net: number): NetView => byNet[net] ?? { net, claims: [], uses: [], biasings: [], sources: [] };
  return {
    views,
    of,
    at: (node) => of(nets.of[node]!),
    instanceOf: (contact) => instances[ownerOf[contact]!]!,
  };
}

const FEW = 8;

function addClaim(view: Building, claim: Claim, contact: number): void {
  // Most lines have one claim, that of their bus.
  if (view.claims[0]?.claim === claim) return;
  if (view.seen) {
    if (view.seen.has(claim)) return;
    view.seen.add(claim);
  } else if (view.claims.some((one) => one.claim === claim)) return;
  view.claims.push({ claim, contact });
  if (view.claims.length === FEW) view.seen = new Set(view.claims.map((one) => one.claim));
}
