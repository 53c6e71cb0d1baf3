import type { KeyedGroup, KeyPlan } from '../analysis/wrong-mating/keys.ts';
import type { Connector } from '../machine/types.ts';
import { agree, spokenList } from './lists.ts';

/** `a key between 9 and 10 of EDGE44 prevents all that does harm`, `pulling pin 20 of IDC26 and plugging its hole prevents …`. */
export function spokenKeys({ connector, groups, leaves }: KeyPlan): string {
  const [first] = groups as readonly [KeyedGroup, ...KeyedGroup[]];
  const all = leaves === 0 ? 'all that does harm' : 'all that a key can prevent';
  if (groups.length > 1) {
    const each = groups.map(
      (group) =>
        `${spokenKey(connector, group, '')} at ${spokenList(
          group.owners.map(({ name }) => name),
          4,
        )}`,
    );
    return `different keys on ${connector.name} prevent ${all}: ${each.join('; ')}`;
  }
  const between = first.places.some((place) => place.length === 2);
  const prevents = agree(between ? first.places.length : 1, 'prevents', 'prevent');
  return `${spokenKey(connector, first, ` of ${connector.name}`)} ${prevents} ${all}`;
}

function spokenKey({ labels }: Connector, { places }: KeyedGroup, of: string): string {
  const between = places.flatMap((place) =>
    place.length === 2 ? [`between ${labels[place[0]]} and ${labels[place[1]]}`] : [],
  );
  if (between.length > 0) return `${agree(between.length, 'a key', 'keys')} ${spokenList(between, 6)}${of}`;
  const pins = places.flatMap((place) => (place.length === 1 ? [labels[place[0]]!] : []));
  return `pulling ${agree(pins.length, 'pin', 'pins')} ${spokenList(pins, 6)}${of} and plugging ${agree(pins.length, 'its hole', 'their holes')}`;
}
