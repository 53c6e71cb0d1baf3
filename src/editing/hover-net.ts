import { type ChainRun, chainRunsOf, type Doing } from '../analysis/chains.ts';
import { linesOf } from '../analysis/line.ts';
import { powerOf } from '../analysis/power.ts';
import { spokenClaim, spokenEvidence } from '../checks/explain.ts';
import { runsOf, spokenNames } from '../checks/lists.ts';
import type { View } from '../checks/types.ts';
import type { Claim, Instance } from '../machine/types.ts';
import { lineItems, type Member, sameLoad } from './hover-line.ts';
import { railParts } from './hover-rail.ts';
import { code, codes, counted, list, paragraphs, plain } from './markdown.ts';

/** What a name means: its largest net in full, the others counted; a daisy chain slot by slot. */
export function netHover(
  view: View,
  name: string,
  nets: readonly number[],
  vector: readonly Member[],
): string {
  const [net, ...others] = nets as readonly [number, ...number[]];
  const chain = chainRunsOf(view.machine, view.nets).find(
    (run) => isOf(run, name) && run.stops.some(({ instance }) => isOn(view, net, instance, run)),
  );
  if (chain) return chainHover(name, chain);
  const { claims } = view.nets.of(net);
  const line = linesOf(view.machine, view.nets).find((one) => one.view.net === net);
  const [first] = membersOf(view, net);
  const network = powerOf(view.machine).at(first);
  const ground = claims.some(({ claim }) => claim.kind === 'ground');
  const kind = network ? 'rail' : ground ? 'ground' : 'line';
  const groups = contactGroups(view, net);
  const contacts = groups.reduce((sum, group) => sum + group.count, 0);
  const rail = network && railParts(view, name, network);
  const does = rail?.items ?? (line ? lineItems(line) : []);
  const about = [
    line === undefined && kind === 'line' ? 'no fitted board is said to drive or hear it' : undefined,
    contacts > 0 ? `**contacts** ${spokenGroups(groups)}` : 'no contact carries it',
    ...spokenClaims(claims.map(({ claim }) => claim)),
    spokenOthers(view, name, others),
    line && vector.length > 1 ? sameLoad(view, line, vector) : undefined,
  ];
  return paragraphs([
    [`**${code(name)}** ${kind}`, rail?.volts, counted(contacts, 'contact')].filter(Boolean).join(' · '),
    ...(rail?.table ? [list(does), rail.table, list(about)] : [list([...does, ...about])]),
  ]);
}

const isOf = ({ chain: { name: input, outName, claim } }: ChainRun, name: string): boolean =>
  name === input || name === outName || claim.aliases.includes(name);

function isOn({ machine }: View, net: number, { base }: Instance, { chain }: ChainRun): boolean {
  const { of } = machine.nets;
  return of[base + chain.input] === net || of[base + chain.output] === net;
}

/** The contacts of a net, as nodes: they come before what lies between them. */
function* membersOf({ machine: { nets } }: View, net: number): Iterable<number> {
  for (let i = nets.start[net]!; i < nets.start[net + 1]!; i++) yield nets.members[i]!;
}

// ---- chains ----

const DOES: Readonly<Record<Doing, string>> = {
  starts: 'starts it',
  passes: 'passes it on',
  ends: 'hears it, hands nothing on',
  stops: 'hands nothing on',
  unsaid: 'does not say',
};

const MOST_STOPS = 24;

function chainHover(name: string, { backplane, chain, stops }: ChainRun): string {
  const steps = stops.map(({ slot, doing, bridged, linked }, i) => {
    const who = slot.board ? code(slot.board.name) : slot.state === 'empty' ? 'empty' : 'nothing said';
    const does = bridged && (doing === 'stops' || doing === 'unsaid') ? 'bridged' : DOES[doing];
    return `${plain(slot.label)}: ${who}, ${does}${linked || i === 0 ? '' : ', cut off from the slot before'}`;
  });
  const rest = steps.length - MOST_STOPS;
  const { labels } = stops[0]!.instance.pins.connector;
  const wires = `in on ${code(labels[chain.input]!)}, out on ${code(labels[chain.output]!)}`;
  return paragraphs([
    `**${code(name)}** daisy chain · ${counted(stops.length, 'slot')} of ${code(backplane.name)}, ${wires}`,
    list([...steps.slice(0, MOST_STOPS), rest > 0 ? `and ${counted(rest, 'more slot')}` : undefined]),
    list([...spokenClaims([chain.claim])]),
  ]);
}

// ---- claims ----

const MOST_CLAIMS = 6;

/** What is said of the contacts of a net, those that say the same in the same way together, and how it is known. */
export function spokenClaims(claims: readonly Claim[]): string[] {
  const owners = new Map<string, Set<string>>();
  for (const claim of claims) {
    const said = spokenClaimOf(claim);
    const list = owners.get(said);
    if (list) list.add(claim.owner);
    else owners.set(said, new Set([claim.owner]));
  }
  const all = [...owners].map(([said, its]) => {
    return `${codes([...its])} ${its.size > 1 ? 'say' : 'says'} ${said}`;
  });
  const rest = all.length - MOST_CLAIMS;
  return rest > 0 ? [...all.slice(0, MOST_CLAIMS), `and ${rest} more say something of it`] : all;
}

function spokenClaimOf(claim: Claim): string {
  const { aliases, evidence, slots } = claim;
  const marks = [
    ...(aliases.length > 0 ? [`also ${codes(aliases)}`] : []),
    ...(claim.wiredOr ? ['wired-or'] : []),
    ...(claim.clock ? ['clock'] : []),
    ...(claim.strobe ? ['strobe'] : []),
    ...(claim.private && claim.kind !== 'private' ? ['private'] : []),
    ...(slots ? [`in slots ${plain(spokenNames([...slots]))}`] : []),
  ].map((mark) => `, ${mark}`);
  const photo = evidence.photo === undefined ? '' : `, photo ${code(evidence.photo)}`;
  return `${code(spokenClaim(claim))}${marks.join('')}: ${plain(spokenEvidence(evidence))}${photo}`;
}

// ---- contacts ----

interface Group {
  /** `slots 1..10 of CAGE`, `edge of CPU and RAM`, as Markdown. */
  readonly where: string;
  readonly count: number;
}

/** Contacts by connector: slots that have them alike together, and fingers that do. */
function contactGroups({ machine, nets }: View, net: number): Group[] {
  const byInstance = new Map<Instance, string[]>();
  const conductors: string[] = [];
  for (let i = machine.nets.start[net]!; i < machine.nets.start[net + 1]!; i++) {
    const node = machine.nets.members[i]!;
    if (node >= machine.contactCount) {
      const name = machine.nodeNames[node - machine.contactCount]!;
      if (/ conductor \d+$/.test(name)) conductors.push(name);
      continue;
    }
    const instance = nets.instanceOf(node);
    const label = instance.pins.connector.labels[node - instance.base]!;
    const labels = byInstance.get(instance);
    if (labels) labels.push(label);
    else byInstance.set(instance, [label]);
  }
  const alike = new Map<string, { instances: Instance[]; labels: string[] }>();
  for (const [instance, labels] of byInstance) {
    const { kind, path, port, slot } = instance;
    const place =
      kind === 'slot' ? `${slot!.backplane.name}\n${port.name}` : kind === 'edge' ? port.name : path;
    const key = `${kind}\n${place}\n${labels.join(' ')}`;
    const group = alike.get(key);
    if (group) group.instances.push(instance);
    else alike.set(key, { instances: [instance], labels });
  }
  const groups = [...alike.values()].map(({ instances, labels }) => ({
    where: `${placeOf(instances)} on ${codes(runsOf(labels), 6)}`,
    count: instances.length * labels.length,
  }));
  return conductors.length === 0 ? groups : [...groups, { where: `by ${codes(conductors, 6)}`, count: 0 }];
}

function placeOf(instances: readonly Instance[]): string {
  const [{ kind, path, slot, port }] = instances as readonly [Instance, ...Instance[]];
  if (kind === 'slot') {
    const labels = plain(spokenNames(instances.map((one) => one.slot!.label)));
    return `slot${instances.length > 1 ? 's' : ''} ${labels} of ${code(slot!.backplane.name)}`;
  }
  if (kind !== 'edge') return code(path);
  return `${code(port.name)} of ${codes(instances.map(({ board }) => board!.name))}`;
}

const MOST_GROUPS = 10;

function spokenGroups(groups: readonly Group[]): string {
  const rest = groups.slice(MOST_GROUPS).reduce((sum, { count }) => sum + count, 0);
  const shown = groups.slice(0, MOST_GROUPS).map(({ where }) => where);
  return [...shown, ...(rest > 0 ? [`and ${rest} more`] : [])].join('; ');
}

const MOST_OTHERS = 4;

/** Nets of the same name that do not meet this one. */
function spokenOthers(view: View, name: string, others: readonly number[]): string | undefined {
  if (others.length === 0) return undefined;
  const { machine, nets } = view;
  const places = others.flatMap((net) => {
    const [node] = membersOf(view, net);
    if (node === undefined || node >= machine.contactCount) return [];
    const { path, pins, base } = nets.instanceOf(node);
    return [`${path}.${pins.connector.labels[node - base]}`];
  });
  const at = places.length > 0 ? `: at ${codes(places, MOST_OTHERS)}` : '';
  return `${counted(others.length, 'more net')} called ${code(name)}, joined to this one by nothing${at}`;
}
