import { powerOf } from '../analysis/power.ts';
import { voltagesOf } from '../analysis/readings.ts';
import { continuity } from '../machine/readings.ts';
import type { Claim, Instance, PinMap } from '../machine/types.ts';
import { edit, saying } from './edits.ts';
import { claimOf, stepAt } from './explain.ts';
import type { Finding, Rule, View } from './types.ts';

/** A rail contact that is a guess, where something would be fed from it. One finding per name in a table. */
export const guessCarriesPower: Rule = {
  id: 'guess-carries-power',
  severity: 'warning',
  summary: 'a rail contact is known by guess, or nobody says how, and a board or cable is on it',
  *check(view) {
    const vouched = vouchedContacts(view);
    const doubtful = new Map<Claim, Doubt>();
    for (const instance of view.machine.instances) {
      const meets = whatMeets(instance);
      if (meets.length > 0) gather(instance, meets, vouched, doubtful);
    }
    for (const [claim, doubt] of doubtful) yield finding(view, claim, doubt);
  },
};

/** Where a claim stands in the machine, and what is fed from it. */
interface Doubt {
  readonly instance: Instance;
  readonly contacts: number[];
  readonly meets: Set<string>;
}

/** Boards or cables that power would reach here. */
function whatMeets({ kind, slot, board, plugs }: Instance): string[] {
  if (kind === 'slot') return slot?.board ? [slot.board.name] : [];
  if (kind === 'edge') return board?.slot ? [board.name] : [];
  return plugs.filter(({ unplugged }) => !unplugged).map(({ name }) => name);
}

function gather(
  instance: Instance,
  meets: readonly string[],
  vouched: ReadonlyMap<Claim, ReadonlySet<number>>,
  doubtful: Map<Claim, Doubt>,
): void {
  // What a board takes over from its bus is told at the bus.
  const claims = instance.kind === 'edge' ? instance.pins.own : instance.pins.claims;
  claims.forEach((claim, contact) => {
    if (claim === undefined || !isDoubtful(claim) || vouched.get(claim)?.has(contact)) return;
    if (instance.kind === 'edge' && repeatsBus(instance, claim, contact)) return;
    const doubt = doubtful.get(claim);
    if (doubt === undefined) doubtful.set(claim, { instance, contacts: [contact], meets: new Set(meets) });
    else {
      for (const name of meets) doubt.meets.add(name);
      if (doubt.instance === instance) doubt.contacts.push(contact);
    }
  });
}

/** A rail of which nobody says how it is known, or that is a guess; of ground, the guess only. */
function isDoubtful({ kind, evidence }: Claim): boolean {
  if (kind !== 'rail' && kind !== 'ground') return false;
  return evidence.kind === 'guess' || (kind === 'rail' && isUnsaid(evidence));
}

/** Whether nothing at all is said of how it is known: a note or a photo says something. */
const isUnsaid = ({ kind, note, photo }: Claim['evidence']): boolean => (kind ?? note ?? photo) === undefined;

/** A card that says again what its bus says adds no doubt. */
const repeatsBus = ({ port }: Instance, { name }: Claim, contact: number): boolean =>
  port.bus?.pins.claims[contact]?.name === name;

/** Contacts, by index, that something besides their table speaks for: a feed known by more than a guess, the meter. */
function vouchedContacts(view: View): Map<Claim, Set<number>> {
  const { machine, nets } = view;
  const vouched = new Map<Claim, Set<number>>();
  const vouch = (pins: PinMap, contact: number): void => {
    const claim = pins.claims[contact];
    if (claim === undefined) return;
    const contacts = vouched.get(claim);
    if (contacts) contacts.add(contact);
    else vouched.set(claim, new Set([contact]));
  };
  for (const { feeds } of machine.backplanes) {
    for (const { evidence, contacts, rail } of feeds) {
      if (evidence.kind === undefined || evidence.kind === 'guess') continue;
      for (const { instanceBus, contact } of contacts)
        if (instanceBus.pins.claims[contact]?.name === rail) vouch(instanceBus.pins, contact);
    }
  }
  const vouchAt = (node: number): void => {
    if (node >= machine.contactCount) return;
    const { pins, base } = nets.instanceOf(node);
    vouch(pins, node - base);
  };
  for (const { node, agrees } of voltagesOf(machine, nets)) if (agrees) vouchAt(node);
  for (const reading of machine.readings) {
    if (!continuity(reading, true)) continue;
    const { from, to } = reading;
    if (isSure(view, from, to)) vouchAt(to);
    if (isSure(view, to, from)) vouchAt(from);
  }
  return vouched;
}

/** Whether it is known that a place is the rail which another place is said to be: a rail of a supply, or a contact. */
function isSure(view: View, node: number, other: number): boolean {
  const { machine } = view;
  const said = claimOf(view, other)?.name;
  if (machine.railSources.some((source) => source.node === node && source.rail === said)) return true;
  const claim = claimOf(view, node);
  return claim !== undefined && claim.name === said && !isDoubtful(claim);
}

/** `A and 1 more would be fed by it at`, `W1 would bring it to PANEL at`; where nothing tells which way, neither. */
function whatFor(
  { machine }: View,
  { kind, board }: Instance,
  node: number,
  meets: readonly string[],
): string {
  const [first, ...others] = meets;
  const who = `${first}${others.length > 0 ? ` and ${others.length} more` : ''}`;
  const fed = `${who} would be fed by it at`;
  if (kind !== 'port' || board === undefined) return fed;
  const network = powerOf(machine).at(node);
  const hub = network?.hubOf(board);
  if (network === undefined || network.sources.length === 0 || hub === undefined)
    return `${who} ${others.length > 0 ? 'are' : 'is'} plugged in at`;
  const by = hub.by?.ribbon?.name;
  return by !== undefined && meets.includes(by) ? `${by} would bring it to ${board.name} at` : fed;
}

/** How it may be known, and what must have been done at the bench before that is written. */
const KNOWN = [
  ['by meter', 'the meter shows it'],
  ['by trace', 'it is traced'],
  ['by silkscreen', 'it is read there'],
] as const;

function finding(view: View, claim: Claim, { instance, contacts, meets }: Doubt): Finding {
  const { labels } = instance.pins.connector;
  const table = instance.kind === 'slot' ? claim.owner : `${claim.owner}.${instance.port.name}`;
  const guess = claim.evidence.kind === 'guess';
  const list = contacts.map((contact) => labels[contact]).join(', ');
  const known = guess ? 'is known by guess only' : 'does not say how it is known';
  const steps = contacts.slice(0, 3).map((contact) => stepAt(view, instance.base + contact, claim.source));
  return {
    rule: 'guess-carries-power',
    severity: guess ? 'warning' : 'question',
    message: `${claim.name} on contact${contacts.length > 1 ? 's' : ''} ${list} of ${table} ${known}, and ${whatFor(view, instance, instance.base + contacts[0]!, [...meets])} ${steps[0]!.contact}`,
    source: claim.source,
    path: steps,
    fix: 'trace it to the supply, or meter it with the boards out, and write `by trace` or `by meter` on the line',
    edits: KNOWN.map(([by, once]) =>
      edit(`write \`${by}\` on the line, once ${once}`, saying(claim.source, { by })),
    ),
    about: [claim.name, claim.owner, ...meets],
  };
}
