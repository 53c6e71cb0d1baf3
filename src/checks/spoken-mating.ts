import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { Guard, Verdict } from '../analysis/wrong-mating/guards.ts';
import type { Harm, HarmKind } from '../analysis/wrong-mating/harms.ts';
import type { Live } from '../analysis/wrong-mating/pieces.ts';
import { isStraight } from '../analysis/wrong-mating/ways.ts';
import type { Use } from '../machine/types.ts';
import { placeOf, spokenAmount } from './explain.ts';
import { spokenVolts } from './power.ts';
import type { View } from './types.ts';

/** What is held in the hand: `CPU`, `W1 at GAUGE.J1`. */
export function spokenPlug({ plug }: Pick<Case, 'plug'>): string {
  if (plug.kind === 'board') return plug.name;
  return `${plug.name} at ${plug.ribbon!.ends[plug.end!]!.place}`;
}

const COUNTS = ['no', 'one', 'two', 'three', 'four'];
const counted = (count: number, what: string): string =>
  `${COUNTS[count] ?? count} ${what}${count === 1 ? '' : 's'}`;

/** How it is wrong: `turned`, `shifted by two contacts`, `turned and one row over`; empty where it sits straight. */
export function spokenWay({ fault, way, also }: Case): string {
  if (fault === 'crimped turned') return also ? 'crimped on turned at two ends' : 'crimped on turned';
  if (fault === 'crimped over') return 'crimped on one conductor over';
  if (Math.abs(way.shift) === 0.5) return 'skewed by half a contact';
  const parts = [
    way.turned ? 'turned' : '',
    way.over === 0 ? '' : 'one row over',
    way.shift === 0 ? '' : `shifted by ${counted(Math.abs(way.shift), 'contact')}`,
  ].filter((part) => part !== '');
  return parts.length > 2 ? `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}` : parts.join(' and ');
}

/** The whole case: `CPU turned in CAGE.3`, `W1 at GAUGE.J1 plugged into CAGE.PANEL, shifted by two contacts`. */
export function spokenCase(one: Case): string {
  const { plug, place, way, fault } = one;
  const who = spokenPlug(one);
  if (fault === 'wrong place') {
    const into = plug.kind === 'board' ? `${who} in ${place.path}` : `${who} plugged into ${place.path}`;
    return isStraight(way) ? into : `${into}, ${spokenWay(one)}`;
  }
  return plug.kind === 'board' ? `${who} ${spokenWay(one)} in ${place.path}` : `${who} ${spokenWay(one)}`;
}

/** `+24V of PSU, up to 3 A`. */
export function spokenLive({ kind, name, volts, owner, amps }: Live): string {
  if (kind === 'ground') return `${name} of ${owner}`;
  const told =
    name.includes(String(Math.abs(volts.high))) && volts.low === volts.high
      ? name
      : `${name} (${spokenVolts(volts)})`;
  return `${told} of ${owner}${amps === undefined ? '' : `, up to ${spokenAmount(amps, 'A')}`}`;
}

const spokenUse = ({ board, card }: Use): string =>
  `${card.name} of ${board.name}${card.part === undefined ? '' : ` (${card.part})`}`;

/** What it does, in short, for tables: `+24V into logic`. */
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
  const met = power?.amps === undefined ? `${live} meets` : `${live}, meets`;
  const [use, second] = uses;
  switch (kind) {
    case 'foreign-rail':
      if (wish) return `${met} what ${wish.board.name} takes as ${wish.name}`;
      return limit === undefined
        ? `${met} ${spokenUse(use!)}`
        : `${met} ${spokenUse(use!)}, which stands ${spokenAmount(limit, 'V')}`;
    case 'rails-joined':
      return `${live} is joined to ${spokenLive(other!)}`;
    case 'ground-on-rail':
      return `${wish!.name} of ${board!.name} stands on ${live}: all else that it has is driven below its ground`;
    case 'bias-lost':
      return `${harm.chips![0]}${harm.chips!.length > 1 ? ' …' : ''} (${harm.part}) on ${board!.name} ${harm.chips!.length > 1 ? 'are' : 'is'} left without ${spokenAmount(harm.volts!, 'V')} while another rail is there`;
    case 'ground-lost':
      return `${board!.name} gets a rail but no ground`;
    case 'rail-to-ground':
      return `${live} is shorted to ${other!.name}`;
    case 'rail-on-output':
      return `${met} ${spokenUse(use!)}, whose output pulls against it`;
    case 'outputs-fight':
      return `${spokenUse(use!)} drives against ${spokenUse(second!)}`;
    case 'ground-on-output':
      return `${spokenUse(use!)}, an output, is held to ${power!.name}`;
    case 'ground-on-line':
      return `${spokenUse(use!)} is held to ${power!.name}`;
    case 'rails-paralleled':
      return `${live} is joined to ${spokenLive(other!)}`;
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

/** `prevented by the key`, `prevented only if …`, `nothing prevents it`. */
export function spokenVerdict({ state, by }: Verdict): string {
  if (state === 'open') return 'nothing prevents it';
  if (state === 'prevented') return `prevented by ${by.map((guard) => GUARDS[guard]).join(' and ')}`;
  return `prevented only if ${by.map((guard) => HALVES[guard]).join(' and ')}, which nobody says`;
}
