import type { Board, Claim, Instance, Machine, Source } from '../machine/types.ts';
import { isAlternating } from './meetings.ts';
import type { NetIndex } from './nets.ts';
import { areOpposite } from './opposites.ts';
import { nominalVolts, takenRails } from './rails.ts';
import { straysOf } from './strays.ts';

/** What two contacts mean to each other at the ends of one conductor, worst last. */
export type Meeting = 'nothing' | 'agree' | 'differ' | 'stray' | 'ground' | 'crossed' | 'power';

/** One conductor between two connectors, with the contacts that it joins. */
export interface Conductor {
  readonly a: number;
  readonly b: number;
  readonly meeting: Meeting;
  /** Of a stray: a name that lands on a spare contact, where the other end has it. */
  readonly home?: number;
  readonly source: Source;
}

/** How a whole ribbon is wrong: as if one connector were turned, or everything lay one conductor over. */
export type Pattern = 'turned' | 'over' | 'rows';

/** Two contacts that one conductor joins. */
export interface Pair {
  readonly a: number;
  readonly b: number;
  /** Whether a twist lies between the two. */
  readonly twisted: boolean;
  readonly source: Source;
}

export const isBad = ({ meeting }: Conductor): boolean =>
  meeting === 'power' || meeting === 'crossed' || meeting === 'ground' || meeting === 'stray';

/** Judges what conductors join. Lives as long as crossingsOf. */
export class Judge {
  private readonly machine: Machine;
  private readonly nets: NetIndex;
  private readonly taken: ReadonlySet<string>;
  private readonly carried = new Map<Instance, ReadonlySet<string>>();
  private readonly roles = new Map<Instance, ReadonlyMap<string, string>>();

  constructor(machine: Machine, nets: NetIndex) {
    this.machine = machine;
    this.nets = nets;
    this.taken = takenRails(machine);
  }

  all(a: Instance, b: Instance, pairs: readonly Pair[]): { conductors: Conductor[]; pattern?: Pattern } {
    const met = pairs.map((pair) => ({ ...pair, meeting: this.meeting(a, b, pair.a, pair.b) }));
    const strays = straysOf(
      this.machine,
      this.nets,
      met.map((one) => ({ ...one, agrees: one.meeting === 'agree' })),
    );
    const conductors = met.map((one, k): Conductor => {
      const home = strays.get(k);
      // Where both ends drive the name it is kept apart on purpose.
      if (home === undefined || this.bothDrive(a, b, home)) return one;
      return { ...one, meeting: 'stray', home };
    });
    const pattern = conductors.some(isBad) ? this.pattern(a, b, pairs) : undefined;
    return { conductors, ...(pattern ? { pattern } : {}) };
  }

  /** The one mistake that explains all that is wrong, where there is one. */
  private pattern(a: Instance, b: Instance, pairs: readonly Pair[]): Pattern | undefined {
    const n = pairs.length;
    const maps: [Pattern, (k: number) => number][] = [
      ['turned', (k) => n - 1 - k],
      ['over', (k) => k + 1],
      ['over', (k) => k - 1],
      ['rows', (k) => k ^ 1],
    ];
    let best: Pattern | undefined;
    // It must explain more than the ribbon as it is, on which only strays may be wrong.
    let most = Math.max(
      1,
      this.agreeing(a, b, pairs, (k) => k),
    );
    for (const [pattern, map] of maps) {
      const agreeing = this.agreeing(a, b, pairs, map);
      if (agreeing > most) [best, most] = [pattern, agreeing];
    }
    return best;
  }

  /** How many conductors would be right if each met what another meets now; none where one would still be wrong. */
  private agreeing(a: Instance, b: Instance, pairs: readonly Pair[], map: (k: number) => number): number {
    let count = 0;
    for (let k = 0; k < pairs.length; k++) {
      const other = pairs[map(k)];
      if (other === undefined) continue;
      const meeting = this.meeting(a, b, pairs[k]!.a, other.b);
      if (meeting === 'agree') count += 1;
      else if (meeting !== 'nothing' && meeting !== 'differ') return 0;
    }
    return count;
  }

  private claim(node: number): Claim | undefined {
    const instance = this.nets.instanceOf(node);
    const claim = instance.pins.claims[node - instance.base];
    return claim !== undefined && ['rail', 'ground', 'signal'].includes(claim.kind) ? claim : undefined;
  }

  private meeting(a: Instance, b: Instance, nodeA: number, nodeB: number): Meeting {
    const [one, other] = [this.claim(nodeA), this.claim(nodeB)];
    if (one === undefined || other === undefined) return 'nothing';
    if (this.same(one, other)) return 'agree';
    const kinds = [this.kind(one), this.kind(other)];
    const crossed = this.carries(b, one) || this.carries(a, other);
    if (kinds.every((kind) => kind === 'rail') && !crossed && this.isUnsaid(one, other)) return 'agree';
    if (kinds.includes('rail')) return 'power';
    if (kinds.includes('ground')) {
      const signalCrosses = one.kind === 'signal' ? this.carries(b, one) : this.carries(a, other);
      return signalCrosses ? 'crossed' : 'ground';
    }
    return crossed && !this.isMeant(a, b, one, other) ? 'crossed' : 'differ';
  }

  /** What a card takes is a rail, also where nobody declares it. */
  private kind({ kind, name }: Claim): Claim['kind'] {
    return kind === 'signal' && this.taken.has(name) ? 'rail' : kind;
  }

  /** Whether nobody says the volts of one of them: VCC may be any. */
  private isUnsaid(...both: readonly Claim[]): boolean {
    return both.some(({ name }) => nominalVolts(this.machine, name) === undefined);
  }

  private same(one: Claim, other: Claim): boolean {
    if (namesOf(one).some((name) => namesOf(other).includes(name))) return true;
    if (this.machine.aliases.has(`${one.name}\n${other.name}`)) return true;
    // Differing grounds, and rails of one voltage, are for rail-conflict to ask about.
    if (one.kind === 'ground' && other.kind === 'ground') return true;
    if (one.kind !== 'rail' || other.kind !== 'rail') return false;
    if (isAlternating(this.machine, one.name) !== isAlternating(this.machine, other.name)) return false;
    const [u, v] = [nominalVolts(this.machine, one.name), nominalVolts(this.machine, other.name)];
    return u !== undefined && u === v;
  }

  /** Whether a connector carries the name of a claim. */
  private carries(instance: Instance, claim: Claim): boolean {
    let names = this.carried.get(instance);
    if (names === undefined) {
      names = new Set(
        instance.pins.claims.flatMap((one) => (one === undefined || one.name === '' ? [] : namesOf(one))),
      );
      this.carried.set(instance, names);
    }
    return namesOf(claim).some((name) => names.has(name));
  }

  /**
   * Whether a signal is meant to meet another of its kind: straight through, two outputs would meet on one conductor and
   * two inputs on the other, or the two names are each other's opposite, as between two terminals.
   */
  private isMeant(a: Instance, b: Instance, one: Claim, other: Claim): boolean {
    if (areOpposite(one.name, other.name)) return true;
    const roles = (claim: Claim): Roles => [this.role(a, claim.name), this.role(b, claim.name)];
    const [[x, y], [u, v]] = [roles(one), roles(other)];
    // Two inputs on both is no such pair: two boards that hear what a third one drives want it straight.
    return x !== undefined && u !== undefined && x === y && u === v && x !== u;
  }

  private bothDrive(a: Instance, b: Instance, home: number): boolean {
    const name = this.claim(home)?.name ?? '';
    return this.role(a, name) === 'drives' && this.role(b, name) === 'drives';
  }

  /** What a board does with a name at a connector, where it does one thing only. */
  private role(instance: Instance, name: string): string | undefined {
    let table = this.roles.get(instance);
    if (table === undefined) {
      table = rolesOf(instance);
      this.roles.set(instance, table);
    }
    return table.get(name);
  }
}

type Roles = readonly [string | undefined, string | undefined];

function rolesOf({ board, port }: Instance): Map<string, string> {
  const table = new Map<string, string>();
  for (const { kind, name, at } of (board as Board | undefined)?.card.uses ?? []) {
    if (at !== undefined && at !== port.name) continue;
    if (kind !== 'drives' && kind !== 'receives') table.set(name, '');
    else table.set(name, table.has(name) && table.get(name) !== kind ? '' : kind);
  }
  for (const [name, role] of table) if (role === '') table.delete(name);
  return table;
}

const namesOf = ({ name, aliases }: Claim): readonly string[] => [name, ...aliases];
