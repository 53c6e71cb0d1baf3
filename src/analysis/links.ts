import { copperAt } from '../machine/copper.ts';
import type { Backplane, Board, Feed, Instance, Machine, Ribbon, Supply } from '../machine/types.ts';

/** A thing that copper belongs to. Conductors of a ribbon that end at the same ends are one bundle. */
export type Owner =
  | { readonly kind: 'supply'; readonly name: string; readonly supply: Supply }
  | { readonly kind: 'backplane'; readonly name: string; readonly backplane: Backplane }
  | { readonly kind: 'board'; readonly name: string; readonly board: Board }
  | { readonly kind: 'bundle'; readonly name: string; readonly ribbon: Ribbon; readonly conductors: number };

/** Contacts of one connector that carry a current side by side, as nodes. */
export interface Side {
  readonly instance: Instance;
  readonly contacts: readonly number[];
}

/**
 * A way that one network's current has from one thing to another. `sides` are the rows of contacts it passes one after
 * the other: one in a slot or at a ribbon's end, two along a cable; a feed or a reading has none.
 */
export interface Link {
  readonly kind: 'slot' | 'ribbon' | 'cable' | 'feed' | 'reading';
  readonly network: number;
  readonly a: Owner;
  readonly b: Owner;
  readonly sides: readonly Side[];
  readonly feed?: Feed;
  /** The ribbon or cable, and at a ribbon which of its ends. */
  readonly ribbon?: Ribbon;
  readonly end?: number;
}

/** How many equal ways a link offers; no limit where it is bolted on, or where nobody says how it is made. */
export function waysOf({ sides, feed, kind }: Link): number {
  if (feed) return feed.hardware === undefined ? feed.contacts.length : Number.POSITIVE_INFINITY;
  if (kind === 'reading') return Number.POSITIVE_INFINITY;
  return Math.min(...sides.map(({ contacts }) => contacts.length));
}

/** All links of the networks, `networkOf` telling which network a net is part of (−1: none). Linear in the joins. */
export function linksOf(machine: Machine, networkOf: Int32Array): Link[] {
  const gathering = new Gathering(machine, networkOf);
  gathering.ribbons();
  gathering.joins();
  return gathering.done();
}

interface Open {
  readonly link: Omit<Link, 'sides'>;
  readonly sides: { readonly instance: Instance; readonly contacts: number[] }[];
}

const eachOnce = ({ instance, contacts }: Side): Side => ({ instance, contacts: [...new Set(contacts)] });

const CONTACT_KINDS = ['finger', 'cable', 'reading'] as const;

/** Lives as long as linksOf. */
class Gathering {
  private readonly open = new Map<string | number, Open>();
  /** The fingers of a board follow each other: where the last one went, the next one most likely goes. */
  private last:
    | { readonly from: Instance; readonly to: Instance; readonly network: number; readonly open: Open }
    | undefined;
  private readonly owners = new Map<object, Owner>();
  private readonly ownerOf: Int32Array;
  private readonly machine: Machine;
  private readonly networkOf: Int32Array;

  constructor(machine: Machine, networkOf: Int32Array) {
    this.machine = machine;
    this.networkOf = networkOf;
    this.ownerOf = new Int32Array(machine.contactCount);
    machine.instances.forEach(({ base, pins }, index) => {
      this.ownerOf.fill(index, base, base + pins.connector.labels.length);
    });
  }

  done(): Link[] {
    return [...this.open.values()].map(({ link, sides }) => ({
      ...link,
      // A wire that is said twice is one wire.
      sides: link.kind === 'cable' ? sides.map(eachOnce) : sides,
    }));
  }

  private network(node: number): number {
    return this.networkOf[this.machine.nets.of[node]!]!;
  }

  private instance(contact: number): Instance {
    return this.machine.instances[this.ownerOf[contact]!]!;
  }

  /**
   * Whether a contact is said to carry something: copper that nobody connects to a contact brings no current, and a
   * sense lead none that counts.
   */
  private isNamed(instance: Instance, contact: number): boolean {
    const index = contact - instance.base;
    const name = instance.pins.claims[index]?.name ?? '';
    return name !== '' && !this.machine.railNames.senses.has(name) && copperAt(instance, index) !== 'no';
  }

  private owner({ supply, backplane, board }: Partial<Instance>): Owner {
    const thing = (supply ?? backplane ?? board) as Supply | Backplane | Board;
    let owner = this.owners.get(thing);
    if (owner === undefined) {
      const { name } = thing;
      if (supply) owner = { kind: 'supply', name, supply };
      else if (backplane) owner = { kind: 'backplane', name, backplane };
      else owner = { kind: 'board', name, board: board as Board };
      this.owners.set(thing, owner);
    }
    return owner;
  }

  private add(
    key: string | number,
    make: () => Omit<Link, 'sides'>,
    sides: readonly (readonly [Instance, number])[],
  ): Open {
    let open = this.open.get(key);
    if (open === undefined) {
      open = { link: make(), sides: sides.map(([instance]) => ({ instance, contacts: [] })) };
      this.open.set(key, open);
    }
    sides.forEach(([, contact], i) => {
      open.sides[i]?.contacts.push(contact);
    });
    return open;
  }

  /** Conductors that meet the same ends on one network become one bundle, linked to each of these ends. */
  ribbons(): void {
    for (const ribbon of this.machine.ribbons) {
      const bundles = new Map<string, number[]>();
      for (let k = 0; k < ribbon.conductors; k++) {
        const network = this.network(ribbon.base + k);
        if (network < 0) continue;
        const ends = ribbon.ends.flatMap((end, i) => {
          const contact = end.instance && !end.unplugged ? end.contacts[k]! : -1;
          return contact >= 0 && this.isNamed(end.instance!, contact) ? [i] : [];
        });
        if (ends.length < 2) continue;
        const key = `${network} ${ends.join(' ')}`;
        const bundle = bundles.get(key);
        if (bundle) bundle.push(k);
        else bundles.set(key, [k]);
      }
      for (const [key, conductors] of bundles) this.bundle(ribbon, key, conductors);
    }
  }

  private bundle(ribbon: Ribbon, key: string, conductors: readonly number[]): void {
    const [network, ...ends] = key.split(' ').map(Number) as [number, ...number[]];
    const a: Owner = { kind: 'bundle', name: ribbon.name, ribbon, conductors: conductors.length };
    for (const end of ends) {
      const { instance, contacts } = ribbon.ends[end]!;
      for (const k of conductors) {
        this.add(
          `ribbon ${ribbon.name} ${key} at ${end}`,
          () => ({ kind: 'ribbon', network, a, b: this.owner(instance!), ribbon, end }),
          [[instance!, contacts[k]!]],
        );
      }
    }
  }

  joins(): void {
    const { joins, backplanes } = this.machine;
    const feeds = new Map<object, { feed: Feed; backplane: Backplane }>();
    for (const backplane of backplanes) {
      for (const feed of backplane.feeds) feeds.set(feed.source, { feed, backplane });
    }
    for (let i = 0; i < joins.from.length; i++) {
      const from = joins.from[i]!;
      const network = this.network(from);
      if (network < 0) continue;
      const to = joins.to[i]!;
      const { kind, source } = joins.causes[joins.cause[i]!]!;
      if (kind === 'feed') {
        const { feed, backplane } = feeds.get(source)!;
        const [a, b] = [this.owner({ supply: feed.supply }), this.owner({ backplane })];
        this.add(`feed ${source.file} ${source.from}`, () => ({ kind, network, a, b, feed }), []);
      } else if (kind === 'finger' || kind === 'cable' || kind === 'reading') {
        if (from < this.machine.contactCount && to < this.machine.contactCount)
          this.contacts(kind, network, from, to);
      }
    }
  }

  private contacts(kind: (typeof CONTACT_KINDS)[number], network: number, from: number, to: number): void {
    const [one, other] = [this.instance(from), this.instance(to)];
    if (kind !== 'reading' && !(this.isNamed(one, from) && this.isNamed(other, to))) return;
    const { last } = this;
    if (kind === 'finger' && last?.from === one && last.to === other && last.network === network) {
      last.open.sides[0]!.contacts.push(to);
      return;
    }
    const [a, b] = [this.owner(one), this.owner(other)];
    if (a === b) return;
    // A number, not a text: there is one of these for each rail contact of each board.
    const pair = this.ownerOf[from]! * this.machine.instances.length + this.ownerOf[to]!;
    const key =
      (pair * this.machine.nets.count + network) * CONTACT_KINDS.length + CONTACT_KINDS.indexOf(kind);
    if (kind === 'reading') this.add(key, () => ({ kind, network, a, b }), []);
    // Finger and socket are one pair of contacts; a cable has a pair at each end.
    else if (kind === 'finger') {
      const open = this.add(key, () => ({ kind: 'slot', network, a, b }), [[other, to]]);
      this.last = { from: one, to: other, network, open };
    } else {
      const cable = (): Omit<Link, 'sides'> => ({ kind: 'cable', network, a, b, ...this.cable(one, other) });
      this.add(key, cable, [
        [one, from],
        [other, to],
      ]);
    }
  }

  private cable(...both: readonly Instance[]): { ribbon?: Ribbon } {
    const ribbon = this.machine.ribbons.find(
      ({ kind, ends }) =>
        kind === 'cable' && both.every((one) => ends.some(({ instance }) => instance === one)),
    );
    return ribbon ? { ribbon } : {};
  }
}
