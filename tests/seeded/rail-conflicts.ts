import { appended, type Example, inserted, replaced, type Seed, statementAt, textOf } from './example.ts';
import { contactsOf, type FaultKind, pairsOf, retold, seed } from './places.ts';
import { busesInUse, edges, fedRails, voltsOf, worstRail } from './rail-places.ts';

/** Two rails on each other's fingers. */
function* swapped(example: Example, all: boolean, wanted: (a: number, b: number) => boolean): Iterable<Seed> {
  const { machine } = example;
  for (const { card, edge, bus } of edges(example)) {
    for (const [[a, ofA], [b, ofB]] of pairsOf(fedRails(example, bus))) {
      const [x, y] = [voltsOf(machine, a), voltsOf(machine, b)];
      // Rails of one voltage joined are no conflict but two supplies in parallel.
      if (x === y || !wanted(x, y)) continue;
      const takes = (list: readonly number[]): readonly number[] => (all ? list : list.slice(0, 1));
      const changes = new Map([
        ...takes(ofA).map((contact) => [contact, `${b}  by trace`] as const),
        ...takes(ofB).map((contact) => [contact, `${a}  by trace`] as const),
      ]);
      yield* seed(`${card.name}: ${a} and ${b}`, retold(example, edge, changes));
    }
  }
}

export const railConflicts: readonly FaultKind[] = [
  {
    kind: 'two rails exchanged on a finger',
    rule: 'rail-conflict',
    severity: 'error',
    seeds: (example) => swapped(example, false, () => true),
  },
  {
    kind: '+ and − exchanged on the fingers',
    rule: 'rail-conflict',
    severity: 'error',
    says: /reversed/,
    seeds: (example) => swapped(example, true, (a, b) => a * b < 0),
  },
  {
    kind: 'ground on a rail’s finger',
    rule: 'rail-conflict',
    severity: 'error',
    *seeds(example) {
      for (const { card, edge, bus } of edges(example)) {
        const [ground] = contactsOf(bus.pins, 'ground').keys();
        for (const [rail, contacts] of fedRails(example, bus)) {
          const changes = new Map([[contacts[0]!, `${ground}  by trace`]]);
          yield* seed(`${card.name}: ${rail}`, retold(example, edge, changes), rail);
        }
      }
    },
  },
  {
    kind: 'a wire from rail to rail on the backplane',
    rule: 'rail-conflict',
    severity: 'error',
    *seeds(example) {
      for (const { backplane, bus, slot } of busesInUse(example)) {
        for (const [[a, ofA], [b, ofB]] of pairsOf(fedRails(example, bus))) {
          if (voltsOf(example.machine, a) === voltsOf(example.machine, b)) continue;
          const { labels } = bus.pins.connector;
          const wire = `wire ${slot}.${labels[ofA[0]!]} to ${slot}.${labels[ofB[0]!]} by trace`;
          yield* seed(`${a} and ${b}`, inserted(example, statementAt(example, backplane.source), [wire]));
        }
      }
    },
  },
  {
    kind: 'a rail on a signal’s finger',
    rule: 'rail-meets-signal',
    *seeds(example) {
      for (const { card, edge, bus } of edges(example)) {
        const rail = worstRail(example, bus);
        for (const [name, contacts] of contactsOf(edge.pins, 'signal')) {
          const claim = bus.pins.claims[contacts[0]!];
          // Where the bus keeps the contact to the slot, the finger meets nothing. Lines that the card does not use are
          // met by the wire below.
          if (rail === undefined || claim?.kind !== 'signal' || claim.private) continue;
          if (!card.uses.some((use) => use.name === name)) continue;
          const changes = new Map([[contacts[0]!, `${rail}  by trace`]]);
          yield* seed(`${card.name}: ${rail} on ${name}`, retold(example, edge, changes), rail);
        }
      }
    },
  },
  {
    kind: 'a wire from a rail to a signal on the backplane',
    rule: 'rail-meets-signal',
    *seeds(example) {
      for (const { backplane, bus, slot } of busesInUse(example)) {
        const rail = worstRail(example, bus);
        const from = contactsOf(bus.pins, 'rail').get(rail ?? '')?.[0];
        if (from === undefined) continue;
        const { labels } = bus.pins.connector;
        for (const [name, [to]] of contactsOf(bus.pins, 'signal')) {
          const wire = `wire ${slot}.${labels[from]} to ${slot}.${labels[to!]} by trace`;
          yield* seed(
            `${rail} to ${name}`,
            inserted(example, statementAt(example, backplane.source), [wire]),
            name,
          );
        }
      }
    },
  },
  {
    kind: 'a second supply on a rail of the backplane',
    rule: 'rails-paralleled',
    severity: 'warning',
    *seeds(example) {
      for (const backplane of example.machine.backplanes) {
        for (const { rail, supply, source } of backplane.feeds) {
          const declared = supply.rails.find(({ name }) => name === rail);
          if (declared === undefined) continue;
          const line = statementAt(example, declared.source);
          const feed = statementAt(example, source);
          const second = textOf(example, feed).replace(/\bfrom\s+\S+/, 'from SPARE');
          yield* seed(
            `${backplane.name}: ${rail}`,
            [
              replaced(feed, `${textOf(example, feed)}\n${second}`),
              appended(example, ['supply SPARE {', textOf(example, line), 'ground GND', '}']),
            ],
            rail,
          );
        }
      }
    },
  },
];
