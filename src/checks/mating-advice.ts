import type { Case } from '../analysis/wrong-mating/cases.ts';
import type { Guard } from '../analysis/wrong-mating/guards.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import type { KeyedGroup, KeyPlan } from '../analysis/wrong-mating/keys.ts';
import type { ConnectorPlan } from '../analysis/wrong-mating/plans.ts';
import type { Connector } from '../machine/types.ts';
import { placeOf, spokenAmount } from './explain.ts';
import { agree, spokenList } from './lists.ts';
import { spokenPlug } from './spoken-mating.ts';
import type { View } from './types.ts';

/** What to look at where a guard is only half said, and how the file is told what is seen. */
export function whatToLookAt(one: Case): string {
  return one.verdict.by.map((guard) => LOOKS[guard]?.(one) ?? '').join('; and ');
}

const LOOKS: Readonly<Partial<Record<Guard, (one: Case) => string>>> = {
  walls: ({ meetings }) =>
    `look whether the ends of ${meetings[0]!.socket.path} have walls, and write \`ends closed\` or \`ends open\` for it`,
  notch: (one) => {
    const { socket } = one.meetings[0]!;
    return socket.pins.shroud === 'notch'
      ? `look whether the plug of ${spokenPlug(one)} has a bump, and if so write \`bump\` at that end; if not, label it, for nothing keeps it out`
      : `look whether the wall round ${socket.path} has a notch, and write \`shroud notch\` for it, or \`shroud\` where the wall has none`;
  },
  key: (one) => {
    const { part, socket } = one.meetings[0]!;
    return socket.pins.keys.length === 0
      ? `look for the key in ${socket.path} that the slot in the tongue of ${spokenPlug(one)} is made for, and write \`key between\` where it stands`
      : `look for the slot in the tongue of ${part.edge?.path ?? spokenPlug(one)} that lets the key of ${socket.path} pass, and write \`key between\` for the board too`;
  },
  'plugged contact': (one) => {
    const { part } = one.meetings[0]!;
    return part.pins.plugged.size > 0
      ? `look which pins of ${part.home?.path ?? part.pins.connector.name} are pulled, and write \`pulled\` for them`
      : `look which holes of the plug of ${spokenPlug(one)} are blocked, and write \`plugged\` for them`;
  },
  stripe: ({ plug }) =>
    `look which contact the striped edge of ${plug.name} meets at ${plug.ribbon!.ends[plug.end!]!.place}, and write it as \`stripe 1\` at that end`,
};

/** What whoever plugs it in does so that it does not happen, where nothing prevents it. */
export function whatToDo({ plug, place, fault, meetings }: Case): string {
  const { part, socket } = meetings[0]!;
  if (plug.kind === 'board') {
    if (fault !== 'wrong place')
      return 'mark the component side on board and cage, and see that contact 1 comes to contact 1 before it goes in';
    return 'write the slot on the board and the board at its slot, and read both before it goes in';
  }
  if (fault === 'exchanged')
    return `label both ends of ${plug.name} with the port that each belongs to, and read the labels before you push`;
  if (fault === 'wrong place')
    return `label this plug and ${place.path}, and read both labels before you push`;
  const label = part.pins.connector.labels[0];
  return `mark contact ${label} on the plug and at ${socket.path}, lay mark to mark, and look along both rows from the side`;
}

/**
 * What a meter shows before power if it has happened after all; undefined for what no meter shows. Two things that are joined in no
 * sound machine must not ring.
 */
export function whatToMeter(view: View, harm: Harm): string | undefined {
  const { kind, power, other, wish, uses = [], board, contacts, volts } = harm;
  const source = power && `${power.name} of ${power.owner}`;
  switch (kind) {
    case 'foreign-rail':
    case 'rail-on-output': {
      const met = wish ? placeOf(view, wish.contact) : nameOf(view, contacts, uses[0]!.node);
      return `${met} must not ring to ${source}`;
    }
    case 'ground-on-rail':
      return `${wish!.name} at ${placeOf(view, wish!.contact)} must not ring to ${source}`;
    case 'rails-joined':
    case 'rail-to-ground':
      return `${source} must not ring to ${other!.name} of ${other!.owner}`;
    case 'bias-lost':
      return `the ${spokenAmount(volts!, 'V')} pin of ${harm.chips![0]} on ${board!.name} must ring to its rail`;
    case 'ground-lost':
      return `the ground of ${board!.name} must ring to that of the supply`;
    default:
      return undefined;
  }
}

/** The contact of the plug where it meets, or the place of the use where a wire has no contact of its own. */
const nameOf = (view: View, [plug]: Harm['contacts'], use: number): string =>
  placeOf(view, plug >= 0 && plug < view.machine.contactCount ? plug : use);

/** Whether a meter before power is worth while: what it would show dies at once. */
export const isForMeter = ({ kind }: Harm): boolean => RANKS[kind] <= RANKS['rail-to-ground'];

/** What a connector lacks against its plugs: keys, or a wall; empty where nothing would help. */
export const spokenLack = (lack: ConnectorPlan | undefined): string[] => {
  if (lack?.plan) return [spokenPlan(lack.plan)];
  return lack?.wall ? [spokenWall(lack.connector)] : [];
};

/** What keeps plugs straight on a connector without a wall. */
const spokenWall = ({ name }: Connector): string =>
  `a wall with a notch round the pins of each ${name}, and a bump on each plug, keep plugs straight on it and cost no contact`;

/** The keys that are lacking, in plain words: `a key between 9 and 10 of EDGE44 prevents all 34`. */
function spokenPlan({ connector, groups, prevents, leaves, costs }: KeyPlan): string {
  const count = groups.reduce((sum, { places }) => sum + places.length, 0);
  const isKey = groups[0]!.places[0]!.length === 2;
  const sets = groups.map((group) => (isKey ? spokenKeys : spokenPins)(connector, group));
  const all =
    leaves > 0
      ? `${prevents} of ${prevents + leaves}, the rest no key can prevent`
      : (FEW[prevents] ?? `all ${prevents}`);
  const cost = isKey ? '' : costs === 0 ? '; no contact in use is lost' : '; contacts in use are lost';
  return `${sets.join(', and ')} ${isKey ? agree(count, 'prevents', 'prevent') : 'prevent'} ${all}${cost}`;
}

const FEW: Readonly<Record<number, string>> = { 1: 'it', 2: 'both' };

/** `keys between 9 and 10 and between 12 and 13 of EDGE44 on MAIN`. */
function spokenKeys({ labels, name }: Connector, { names, places }: KeyedGroup): string {
  const each = places.map(([a, b]) => `between ${labels[a]} and ${labels[b!]}`);
  const on = names.length === 0 ? '' : ` on ${spokenList(names)}`;
  return `${agree(places.length, 'a key', 'keys')} ${spokenList(each, each.length)} of ${name}${on}`;
}

/** `pin 20 pulled out of each IDC26 and hole 20 of each plug on it blocked`. */
function spokenPins({ labels, name, shape }: Connector, { names, places }: KeyedGroup): string {
  const list = spokenList(
    places.map(([contact]) => labels[contact]!),
    places.length,
  );
  const [pins, holes] = [agree(places.length, 'pin', 'pins'), agree(places.length, 'hole', 'holes')];
  // The pins of a DIP are on its plug.
  if (shape === 'dip') {
    const [each, plugs] =
      names.length === 0 ? [`each ${name}`, 'each plug on it'] : [spokenList(names), 'what goes into it'];
    return `${pins} ${list} cut from ${plugs} and ${holes} ${list} of ${each} blocked`;
  }
  if (names.length === 0)
    return `${pins} ${list} pulled out of each ${name} and ${holes} ${list} of each plug on it blocked`;
  const plugs = agree(names.length, 'its plug', 'their plugs');
  return `${pins} ${list} pulled out of ${spokenList(names)} and ${holes} ${list} of ${plugs} blocked`;
}
