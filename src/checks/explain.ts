import { pathBetween } from '../analysis/paths.ts';
import type { Claim, Declared, Evidence, Machine, Source } from '../machine/types.ts';
import type { Step, View } from './types.ts';

/** `CAGE.3.14`, or the name of a node that is no contact. */
export function placeOf({ machine, nets }: View, node: number): string {
  if (node >= machine.contactCount) return machine.nodeNames[node - machine.contactCount]!;
  const instance = nets.instanceOf(node);
  return `${instance.path}.${instance.pins.connector.labels[node - instance.base]}`;
}

export function claimOf({ machine, nets }: View, node: number): Claim | undefined {
  if (node >= machine.contactCount) return undefined;
  const instance = nets.instanceOf(node);
  return instance.pins.claims[node - instance.base];
}

/** `meter 2026-05-02 "note"`; `not said` where nothing is. */
export function spokenEvidence({ kind, date, note }: Evidence): string {
  const parts = [
    kind ?? (note === undefined ? 'not said' : ''),
    date,
    note === undefined ? undefined : `"${note}"`,
  ];
  return parts.filter((part) => part !== undefined && part !== '').join(' ');
}

/** What a claim says: `+5V`, `spare`, `unknown`. */
export const spokenClaim = (claim: Claim): string => (claim.name === '' ? claim.kind : claim.name);

type Outlet = Declared & { readonly name: string };

const outlets = new WeakMap<Machine, ReadonlyMap<number, Outlet>>();

/** A rail or ground of a supply, by the line that declares it. */
function outletAt({ machine }: View, node: number): Outlet | undefined {
  let map = outlets.get(machine);
  if (map === undefined) {
    const rails = machine.railSources.flatMap(({ node, rail, declared }) =>
      declared ? [[node, { name: rail, evidence: declared.evidence, source: declared.source }] as const] : [],
    );
    const grounds = machine.supplyGrounds.flatMap(({ node, name, supply }) => {
      const line = supply.groundLines.get(name);
      return line ? [[node, { name, ...line }] as const] : [];
    });
    map = new Map([...rails, ...grounds]);
    outlets.set(machine, map);
  }
  return map.get(node);
}

/** One stop: the place, what it is said to be, and how that is known. */
export function stepAt(view: View, node: number, otherwise: Source): Step {
  const claim = claimOf(view, node);
  const said = claim ?? outletAt(view, node);
  return {
    contact: placeOf(view, node),
    signal: claim ? spokenClaim(claim) : (said?.name ?? ''),
    evidence: said ? spokenEvidence(said.evidence) : 'not said',
    source: said?.source ?? otherwise,
  };
}

/**
 * The way from one node to another as the person at the bench would follow it: contacts, ribbon conductors and rework,
 * without the lines and board names between them. Each stop's source is the statement that leads to it.
 */
export function stepsBetween(view: View, from: number, to: number, otherwise: Source): Step[] {
  const { machine } = view;
  const path = pathBetween(machine, from, to) ?? [{ node: from, join: -1 }];
  const steps: Step[] = [];
  for (const { node, join } of path) {
    const cause = join < 0 ? undefined : machine.joins.causes[machine.joins.cause[join]!]!;
    const end = node === from || node === to;
    if (node >= machine.contactCount && !end && cause?.kind !== 'ribbon') continue;
    const step = stepAt(view, node, cause?.source ?? otherwise);
    const led =
      cause && ['wire', 'strap', 'reading', 'bridge', 'ribbon', 'cable', 'feed'].includes(cause.kind);
    steps.push(
      led && (claimOf(view, node) ?? outletAt(view, node)) === undefined
        ? { ...step, source: cause.source, evidence: spokenEvidence(cause.evidence) }
        : step,
    );
  }
  return steps;
}

/** Three significant digits, without zeros behind them. (Intl would take 10 % of a whole run to load.) */
const written = (value: number): string => String(Number(value.toPrecision(3)));

const PREFIXES: readonly (readonly [string, number])[] = [
  ['k', 1e3],
  ['', 1],
  ['m', 1e-3],
  ['u', 1e-6],
];

/** The least value that is written in the plain unit: logic levels in V, tenths of an ohm in ohm. */
const PLAIN: Readonly<Record<string, readonly [number, number]>> = {
  A: [0.9995, Number.POSITIVE_INFINITY],
  V: [0.25, Number.POSITIVE_INFINITY],
  W: [0.9995, Number.POSITIVE_INFINITY],
  ohm: [0.05, 1000],
};

/** A value with its unit: `1.5 A`, `850 mA`, `20 uA`, `4.7 kohm`. Three significant digits. */
export function spokenAmount(value: number, unit: 'A' | 'V' | 'ohm' | 'W'): string {
  const size = Math.abs(value);
  const [least, most] = PLAIN[unit]!;
  const wanted =
    size === 0 || (size >= least && size < most) ? '' : size >= most ? 'k' : size >= 0.9995e-3 ? 'm' : 'u';
  const [prefix, factor] = PREFIXES.find(([one]) => one === wanted)!;
  return `${written(value / factor)} ${prefix}${unit}`;
}
