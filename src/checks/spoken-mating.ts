import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { Guard, Verdict } from '../analysis/wrong-mating/guards.ts';
import type { Harm, HarmKind } from '../analysis/wrong-mating/harms.ts';
import type { Live } from '../analysis/wrong-mating/pieces.ts';
import { landing } from '../analysis/wrong-mating/ways.ts';
import type { Use } from '../machine/types.ts';
import { placeOf, spokenAmount } from './explain.ts';
import { spokenList } from './lists.ts';
import { spokenVolts } from './power.ts';
import type { View } from './types.ts';

/** What is held in the hand: `CPU`, `W1 at GAUGE.J1`. */
export function spokenPlug({ plug }: Pick<Case, 'plug'>): string {
  if (plug.kind === 'board') return plug.name;
  return `${plug.name} at ${endOf(plug)}`;
}

/** The port that an end of a ribbon or cable belongs to. */
const endOf = ({ ribbon, end }: Case['plug']): string => ribbon!.ends[end!]!.place;

const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six'];
const counted = (count: number): string => COUNTS[count] ?? String(count);

/** Things of which one holds: `one, two or three`. */
function anyOf(items: readonly string[]): string {
  return items.length > 1 ? `${items.slice(0, -1).join(', ')} or ${items.at(-1)}` : (items[0] ?? '');
}

/** How it is wrong: `turned`, `shifted by two contacts`, `turned and one row over`; empty where it sits straight. */
export const spokenWay = (one: Case): string => spokenWays([one]);

/**
 * How one plug is wrong in several cases of one fault: `turned, straight or shifted by one or two contacts`. Where plug and
 * socket differ in length, a shift is told by what the first contact lands on: `contact 1 on 5 or 7`.
 */
function spokenWays(cases: readonly Case[]): string {
  const [first] = cases;
  if (first === undefined) return '';
  if (first.fault === 'exchanged') return 'end for end';
  if (first.fault === 'crimped over') return 'crimped on one conductor over';
  if (first.fault === 'crimped turned')
    return first.also ? 'crimped on turned at two ends' : 'crimped on turned';
  const kinds = new Map<string, Case[]>();
  for (const one of cases) {
    const kind = `${one.way.turned} ${one.way.over !== 0}`;
    const its = kinds.get(kind);
    if (its) its.push(one);
    else kinds.set(kind, [one]);
  }
  return [...kinds.values()].map((its) => movedWays(its) || (kinds.size > 1 ? 'straight' : '')).join('; ');
}

/** The same of cases that differ only in where along the socket the plug lies. */
function movedWays(cases: readonly Case[]): string {
  const { turned, over } = cases[0]!.way;
  const kind = [turned ? 'turned' : '', over === 0 ? '' : 'one row over'].filter(Boolean);
  const lies = lyingWays(cases);
  if (kind.length === 0 || lies === '') return kind.length === 0 ? lies : spokenList(kind);
  return lies.startsWith('shifted') && !lies.includes(' or ')
    ? spokenList([...kind, lies])
    : `${spokenList(kind)}, ${lies}`;
}

/** Where along the socket a plug lies in some cases that are alike but for that. */
function lyingWays(cases: readonly Case[]): string {
  const { part, socket } = cases[0]!.meetings[0]!;
  const [plug, other] = [part.pins.connector, socket.pins.connector];
  if (plug.positions !== other.positions) {
    if (cases.length > MOST_LANDINGS) return `in ${cases.length} places along it`;
    const lands = new Map<number, string[]>();
    // A skewed finger lands between two contacts.
    const skewed = cases.some(({ way }) => !Number.isInteger(way.shift)) ? [SKEWED] : [];
    for (const { way } of cases) {
      if (!Number.isInteger(way.shift)) continue;
      const contact = plug.labels.findIndex((_, i) => landing(plug, other, way, i) >= 0);
      const met = other.labels[landing(plug, other, way, contact)]!;
      lands.set(contact, [...new Set([...(lands.get(contact) ?? []), met])]);
    }
    return anyOf([
      ...skewed,
      ...[...lands].map(([contact, met]) => `contact ${plug.labels[contact]} on ${anyOf(met)}`),
    ]);
  }
  const shifts = [...new Set(cases.map(({ way }) => Math.abs(way.shift)))].sort((a, b) => a - b);
  const [unit, units] = plug.shape === 'header' && plug.rows > 1 ? PAIRS : CONTACTS;
  const whole = shifts.filter((one) => one >= 1);
  const lies = [
    shifts.includes(0) ? 'straight' : '',
    shifts.includes(0.5) ? SKEWED : '',
    whole.length > 0 ? `shifted by ${anyOf(whole.map(counted))} ${whole.at(-1) === 1 ? unit : units}` : '',
  ].filter(Boolean);
  return lies.length === 1 && lies[0] === 'straight' ? '' : anyOf(lies);
}

const SKEWED = 'skewed by half a contact';

/** Places along a longer socket that are told one by one. */
const MOST_LANDINGS = 8;

/** A header's plug moves by two contacts at a time, one of each row. */
const PAIRS = ['pair of pins', 'pairs of pins'] as const;
const CONTACTS = ['contact', 'contacts'] as const;

/** The whole case: `CPU turned in CAGE.3`, `W1 turned at GAUGE.J1`, `W1 plugged into CAGE.PANEL by its end for GAUGE.J1`. */
export const spokenCase = (one: Case): string => spokenCases([one], one.plug.name, one.place.path);

/** Some cases of one fault that are told together, by the names of their plugs and places: `RAM-A and RAM-B turned in CAGE.1..10`. */
export function spokenCases(cases: readonly Case[], who: string, where: string): string {
  const [{ plug, fault, also }] = cases as readonly [Case, ...Case[]];
  if (also && fault === 'exchanged')
    return `${who} plugged in end for end between ${where} and ${endOf(also)}`;
  if (also) return `${who} crimped on turned at ${where} and at ${endOf(also)}`;
  const way = spokenWays(cases);
  if (fault !== 'wrong place') {
    const at = `${plug.kind === 'board' ? 'in' : 'at'} ${where}`;
    return /[,;]/.test(way) ? `${who} ${at}, ${way}` : `${who} ${way} ${at}`;
  }
  const into =
    plug.kind === 'board' ? `put into ${where}` : `plugged into ${where} by its end for ${endOf(plug)}`;
  return `${who} ${into}${way === '' ? '' : `, ${way}`}`;
}

/** `+24V of PSU, up to 3 A`. */
function spokenLive({ kind, name, volts, owner, amps }: Live): string {
  if (kind === 'ground') return `${name} of ${owner}`;
  const told =
    name.includes(String(Math.abs(volts.high))) && volts.low === volts.high
      ? name
      : `${name} (${spokenVolts(volts)})`;
  return `${told} of ${owner}${amps === undefined ? '' : `, up to ${spokenAmount(amps, 'A')}`}`;
}

const spokenUse = ({ board, card }: Use): string =>
  `${card.name} of ${board.name}${card.part === undefined ? '' : ` (${card.part})`}`;

/** What it does, in short, for tables. */
export const HARM_WORDS: Readonly<Record<HarmKind, string>> = {
  'foreign-rail': 'foreign rail',
  'rails-joined': 'two rails joined',
  'ground-on-rail': 'ground of a board on a rail',
  'bias-lost': 'bias lost',
  'ground-lost': 'ground lost',
  'rail-to-ground': 'rail shorted to ground',
  'rail-on-output': 'rail on an output',
  'outputs-fight': 'outputs fight',
  'ground-on-output': 'ground on an output',
  'ground-on-line': 'ground on a line, harmless',
  'rails-paralleled': 'supplies paralleled',
};

/** What happens, as a clause: `+24V of PSU, up to 3 A, meets D0 of CPU (74LS245), which stands 7 V`. */
export function spokenHarm(harm: Harm): string {
  const { kind, power, other, wish, uses = [], limit, board } = harm;
  const live = power === undefined ? '' : spokenLive(power);
  // What a source is rated for stands between two commas.
  const then = power?.amps === undefined ? live : `${live},`;
  const met = `${then} meets`;
  const [use, second] = uses;
  switch (kind) {
    case 'foreign-rail':
      if (wish) return `${met} what ${wish.board.name} takes as ${wish.name}`;
      return limit === undefined
        ? `${met} ${spokenUse(use!)}`
        : `${met} ${spokenUse(use!)}, which stands ${spokenAmount(limit, 'V')}`;
    case 'rails-joined':
      return `${then} is joined to ${spokenLive(other!)}`;
    case 'ground-on-rail':
      return `${wish!.name} of ${board!.name} stands on ${live}: all its other contacts then lie below its ground`;
    case 'bias-lost':
      return `${harm.chips![0]}${harm.chips!.length > 1 ? ' …' : ''} (${harm.part}) on ${board!.name} ${harm.chips!.length > 1 ? 'are' : 'is'} left without ${spokenAmount(harm.volts!, 'V')} while another rail is there`;
    case 'ground-lost':
      return `${board!.name} gets a rail but no ground`;
    case 'rail-to-ground':
      return `${then} is shorted to ${other!.name}`;
    case 'rail-on-output':
      return `${met} ${spokenUse(use!)}, whose output pulls against it`;
    case 'outputs-fight':
      return `${spokenUse(use!)} drives against ${spokenUse(second!)}`;
    case 'ground-on-output':
      return `${spokenUse(use!)}, an output, is held to ${power!.name}`;
    case 'ground-on-line':
      return `${spokenUse(use!)} is held to ${power!.name}`;
    case 'rails-paralleled':
      return `${then} is joined to ${spokenLive(other!)}`;
  }
}

/** Through which two contacts: `W1 conductor 5 on GAUGE.J2.5`; empty where it is for want of a contact. */
export function spokenContacts(view: View, { contacts: [plug, socket] }: Harm): string {
  if (plug < 0) return '';
  // Wires of a cable have no name of their own.
  if (plug >= view.machine.nodeCount) return placeOf(view, socket);
  return `${placeOf(view, plug)} on ${placeOf(view, socket)}`;
}

const GUARDS: Readonly<Record<Guard, string>> = {
  guides: 'the card guides',
  walls: 'the closed ends of the socket',
  shroud: 'the shroud',
  notch: 'bump and notch',
  key: 'the key',
  'plugged contact': 'the plugged hole',
  stripe: 'the stripe, which was looked at',
};

/** What has to be found out before a half-said guard counts. */
const HALVES: Readonly<Record<Guard, string>> = {
  guides: '',
  walls: 'the ends of the socket are closed',
  shroud: '',
  notch: 'the plug has a bump and the wall a notch for it',
  key: 'socket and board are keyed alike',
  'plugged contact': 'the pin is pulled and the hole for it is plugged',
  stripe: 'the stripe meets the first contact',
};

/** `prevented by the key`, `prevented only if …`; where the file is silent, the metal may still prevent it. */
export function spokenVerdict({ state, by }: Verdict): string {
  if (state === 'open') return 'nothing that the file says prevents it';
  if (state === 'prevented') return `prevented by ${spokenList(by.map((guard) => GUARDS[guard]))}`;
  return `prevented only if ${by.map((guard) => HALVES[guard]).join(' and ')}, which nobody says`;
}
