import type { Backplane, Instance, PinMap } from '../../machine/types.ts';
import { groupBy } from '../group-by.ts';
import type { Place, Plug } from './plugs.ts';

/**
 * So many plugs times places are tried one by one: sixty of each. In a larger machine what is alike is tried once, or neither
 * memory nor patience would do.
 */
const MOST_PAIRS = 3600;

/**
 * The plugs that are tried, each with the places where it is. Where there are too many, of boards of one card that sit alike
 * one stands for all. It is tried in two slots of its own cage of each kind, so that it finds one that is not its own, and in one
 * slot of each kind that its cage has not; a ribbon's end, likewise, at ports.
 */
export function tried(
  plugs: readonly Plug[],
  places: readonly Place[],
): { readonly plug: Plug; readonly places: readonly Place[] }[] {
  const isBoard = ({ kind }: Plug): boolean => kind === 'board';
  const names = new Names();
  const pairUp = (
    some: readonly Plug[],
    at: readonly Place[],
  ): { plug: Plug; places: readonly Place[] }[] => {
    if (some.length * at.length <= MOST_PAIRS) return some.map((plug) => ({ plug, places: at }));
    const anywhere = firstOf(at, 1, (place) => names.ofPlace(place));
    const byCage = new Map<Backplane | undefined, readonly Place[]>();
    for (const [cage, its] of groupBy(at, ({ slot }) => slot?.backplane))
      byCage.set(
        cage,
        firstOf(its, 2, (place) => names.ofPlace(place)),
      );
    const byHome = new Map(at.flatMap((place) => place.sockets.map((socket) => [socket, place] as const)));
    return firstOf(some, 1, (plug) => (isBoard(plug) ? names.ofBoard(plug) : undefined)).map((plug) => {
      const homes = plug.parts.flatMap(({ home }) => (home && byHome.get(home)) ?? []);
      const near = byCage.get(plug.board?.slot?.backplane) ?? [];
      const known = new Set(near.map((place) => names.ofPlace(place)));
      const far = anywhere.filter((place) => !known.has(names.ofPlace(place)));
      return { plug, places: [...new Set([...homes, ...near, ...far])] };
    });
  };
  return [
    ...pairUp(
      plugs.filter(isBoard),
      places.filter(({ slot }) => slot !== undefined),
    ),
    ...pairUp(
      plugs.filter((plug) => !isBoard(plug)),
      places.filter(({ slot }) => slot === undefined),
    ),
  ];
}

/** The first `most` of each name; all that have none. */
function firstOf<T>(all: readonly T[], most: number, nameOf: (one: T) => string | undefined): T[] {
  const counts = new Map<string, number>();
  return all.filter((one) => {
    const name = nameOf(one);
    if (name === undefined) return true;
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    return count <= most;
  });
}

/** Names what is alike alike. */
class Names {
  private readonly numbers = new Map<object, number>();
  private readonly maps = new Map<PinMap, string>();
  private readonly places = new Map<Place, string>();

  private number(thing: object): number {
    const known = this.numbers.get(thing);
    if (known !== undefined) return known;
    this.numbers.set(thing, this.numbers.size);
    return this.numbers.size - 1;
  }

  /** Slots of which the bus says the same, and that have the same keys, share their claims, if not their map. */
  private ofMap(pins: PinMap): string {
    const known = this.maps.get(pins);
    if (known !== undefined) return known;
    const claims = pins.claims.map((claim) => (claim === undefined ? '' : this.number(claim)));
    const keys = [pins.keys.join(), [...pins.pulled].join(), [...pins.plugged].join()];
    const name = [this.number(pins.connector), ...claims, ...keys, pins.ends].join(' ');
    this.maps.set(pins, name);
    return name;
  }

  ofPlace(place: Place): string {
    const { slot, sockets } = place;
    const known = this.places.get(place);
    if (known !== undefined) return known;
    const maps = sockets.map(({ pins }: Instance) => this.ofMap(pins));
    const name = [slot?.guides, ...maps].join('\n');
    this.places.set(place, name);
    return name;
  }

  ofBoard({ board, parts }: Plug): string {
    const { card, without, rework, slot } = board!;
    const own = without.size + rework.length > 0 ? board!.name : '';
    const homes = parts.map(({ pins, home }) => `${this.ofMap(pins)} ${home ? this.ofMap(home.pins) : ''}`);
    return [card.name, own, slot?.backplane.name, ...homes].join('\n');
  }
}
