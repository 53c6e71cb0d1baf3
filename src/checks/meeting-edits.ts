import type { PowerAt } from '../analysis/meetings.ts';
import type { Claim, Feed, Machine, Source } from '../machine/types.ts';
import { takingOver } from './claim-edits.ts';
import { edit } from './edits.ts';
import { refeeding } from './feed-edits.ts';
import type { Cause } from './power.ts';
import type { Edit, View } from './types.ts';

/** Something that is at a node because a table says so. */
interface Side {
  readonly node: number;
  readonly name: string;
  readonly claim?: Claim;
}

/** Two that meet, gathered over all nets on which these two statements meet, each place of a table once. */
export class Meetings {
  private readonly sides = new Map<string, [Map<string, Side>, Map<string, Side>]>();
  private readonly view: View;

  constructor(view: View) {
    this.view = view;
  }

  /** Both in the order in which they are told. */
  add(key: string, one: Side, other: Side): void {
    const sides = this.sides.get(key) ?? [new Map(), new Map()];
    this.sides.set(key, sides);
    [one, other].forEach((side, i) => {
      if (side.claim) sides[i]!.set(`${this.placeIn(side.node)} ${side.claim.source.from}`, side);
    });
  }

  /** Boards of one card share their tables: a place in the table, not in the machine. */
  private placeIn(node: number): number {
    return node - this.view.nets.instanceOf(node).base;
  }

  /** Each side takes over what the other is called; the statement at `first` gives way first. */
  edits(key: string, names: readonly [string, string], first: Source): Edit[] {
    const [ones, others] = this.sides.get(key) ?? [new Map<string, Side>(), new Map<string, Side>()];
    const list = [
      { sides: [...ones.values()], name: names[1] },
      { sides: [...others.values()], name: names[0] },
    ];
    if (list[1]!.sides[0]?.claim?.source === first) list.reverse();
    return list.flatMap(({ sides, name }) =>
      takingOver(
        this.view,
        sides.map(({ node, claim }) => ({ node, claim: claim! })),
        name,
      ),
    );
  }
}

/** What mends the statement that joins two which do not belong together; none where it is a reading or a cable. */
export function unjoining({ machine }: View, { kind, source }: Cause): Edit[] {
  if (kind === 'wire')
    return isMetered(machine, source)
      ? []
      : [edit('take the wire out of the file, once it is off the machine', { kind: 'remove', source })];
  if (kind !== 'feed') return [];
  const found = feedAt(machine, source);
  return found ? refeeding(found.backplane, found.feed) : [];
}

/** Whether the meter found what a statement joins. */
function isMetered({ joins, readings }: Machine, source: Source): boolean {
  const ends = new Set<string>();
  joins.from.forEach((from, i) => {
    const to = joins.to[i]!;
    if (joins.causes[joins.cause[i]!]!.source === source) ends.add(`${from} ${to}`).add(`${to} ${from}`);
  });
  return readings.some((reading) => ends.has(`${reading.from} ${reading.to}`) && !reading.open);
}

function feedAt(
  machine: Machine,
  { file, from }: Source,
): { feed: Feed; backplane: Machine['backplanes'][number] } | undefined {
  for (const backplane of machine.backplanes) {
    const feed = backplane.feeds.find(({ source }) => source.file === file && source.from === from);
    if (feed) return { feed, backplane };
  }
  return undefined;
}

/** A finger of which nobody says whether there is copper on it said to have none. */
export function untouching(view: View, sides: readonly Pick<PowerAt, 'copper' | 'node' | 'name'>[]): Edit[] {
  const unsaid = sides.find(({ copper }) => copper === 'unsaid');
  const card = unsaid && view.nets.instanceOf(unsaid.node).board?.card;
  if (unsaid === undefined || card === undefined) return [];
  const line = `untouched ${unsaid.name}`;
  return [
    edit(`say that ${card.name} has no copper there, once you have looked: \`${line}\``, {
      kind: 'add',
      line,
      into: card.source,
    }),
  ];
}
