import { JoinList } from './nets.ts';
import type { Backplane, Board, Claim, Instance, InstanceKind, Port, Supply } from './types.ts';

/** A line of a bus through its slots: its contacts, and the node of each stretch between cuts. */
export interface BusLine {
  readonly name: string;
  readonly contacts: readonly number[];
  readonly claim: Claim;
  /** Slot index → node; −1 until the line is wired. */
  readonly nodes: number[];
}

/**
 * Hands out nodes, and keeps what the passes that wire the machine made, so that later ones find it by name. First all
 * instances, then supplies, buses, boards, ribbons; what only the text names comes last.
 */
export class Wiring {
  readonly instances: Instance[] = [];
  readonly joins = new JoinList();
  /** Name of each node past the contacts. */
  readonly nodeNames: string[] = [];
  contactCount = 0;
  /** Node of each rail and ground. */
  readonly supplyNodes = new Map<Supply, ReadonlyMap<string, number>>();
  /** One table of lines, by name and alias, for each of the backplane's `buses`. */
  readonly lines = new Map<Backplane, readonly ReadonlyMap<string, BusLine>[]>();
  /** What is called how on each board, as far as its table alone does not tell; complete once all names were looked up. */
  readonly boardNames = new Map<Board, Map<string, number>>();
  /** Contacts that a `cut` sets apart from the rest of their board. */
  readonly isolated = new Map<Board, ReadonlySet<number>>();
  private readonly byPath = new Map<string, Instance>();
  private readonly later: { readonly board: Board; readonly name: string }[] = [];
  private standing: number | undefined;

  get nodeCount(): number {
    return this.contactCount + this.nodeNames.length;
  }

  /** All instances are made before the first node that is not a contact. */
  instance(path: string, kind: InstanceKind, port: Port, owner: Partial<Instance>): Instance {
    const pins = owner.pins ?? port.pins;
    const { slot, board, backplane, supply } = owner;
    const base = this.contactCount;
    const instance: Instance = { path, kind, port, pins, base, slot, board, backplane, supply, plugs: [] };
    this.contactCount += pins.connector.labels.length;
    this.instances.push(instance);
    this.byPath.set(path, instance);
    return instance;
  }

  node(name: string): number {
    this.nodeNames.push(name);
    return this.nodeCount - 1;
  }

  nameNode(board: Board, name: string, node: number): void {
    this.boardNames.get(board)!.set(name, node);
    if (this.standing !== undefined) this.later.push({ board, name });
  }

  /** Says that all there is now is to stay. */
  stand(): void {
    this.standing = this.nodeNames.length;
    this.joins.stand();
  }

  /** Takes back all that came later. */
  clear(): void {
    for (const { board, name } of this.later) this.boardNames.get(board)!.delete(name);
    this.later.length = 0;
    this.nodeNames.length = this.standing ?? 0;
    this.joins.clear();
  }

  instanceAt(path: string): Instance | undefined {
    return this.byPath.get(path);
  }

  /** The contact that a path such as `CAGE.3.14` or `RAM.edge.14` names; undefined where there is none. */
  contactAt(path: string): number | undefined {
    const dot = path.lastIndexOf('.');
    const instance = dot < 0 ? undefined : this.byPath.get(path.slice(0, dot));
    const index = instance?.pins.connector.indexOf.get(path.slice(dot + 1));
    return instance && index !== undefined ? instance.base + index : undefined;
  }
}
