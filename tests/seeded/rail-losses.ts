import { isGroundName } from '../../src/machine/names.ts';
import { inserted, removed, statementAt, subjectNames } from './example.ts';
import { cardLines, contactsOf, type FaultKind, isPlugged, retold, seed } from './places.ts';
import { BIAS, cut, edges, fedLoose, feeds, taken } from './rail-places.ts';

export const railLosses: readonly FaultKind[] = [
  {
    kind: 'a rail’s fingers lost',
    rule: 'rail-missing',
    severity: 'error',
    *seeds(example) {
      for (const { card, edge, rail, contacts } of taken(example))
        yield* seed(`${card.name}: ${rail}`, cut(example, card, edge, contacts), rail);
    },
  },
  {
    kind: 'a rail’s fingers said to be spare',
    rule: 'rail-missing',
    severity: 'error',
    *seeds(example) {
      for (const { card, edge, rail, contacts } of taken(example)) {
        const changes = new Map(contacts.map((contact) => [contact, 'spare  by trace']));
        yield* seed(`${card.name}: ${rail}`, retold(example, edge, changes), rail);
      }
    },
  },
  {
    kind: 'a rail’s contacts of a board outside the cage lost',
    rule: 'rail-missing',
    *seeds(example) {
      for (const board of fedLoose(example)) {
        for (const { rail, at } of board.card.takes) {
          const port = board.card.ports.find(({ name }) => name === at);
          if (port === undefined) continue;
          const changes = new Map(
            (contactsOf(port.pins, 'rail').get(rail) ?? []).map((i) => [i, 'spare  by trace']),
          );
          yield* seed(`${board.name}: ${rail} at ${at}`, retold(example, port, changes), rail);
        }
      }
    },
  },
  {
    kind: 'a rail that nobody makes any more',
    rule: 'rail-missing',
    severity: 'error',
    *seeds(example) {
      for (const { card, line } of cardLines(example, 'makes')) {
        const [rail] = subjectNames(line) as [string];
        // Where no chip is said to use it, nobody misses it.
        if (!card.chips.some(({ needs }) => needs.some((need) => need.rail === rail))) continue;
        yield* seed(`${card.name}: ${rail}`, [removed(example, line)], rail);
      }
    },
  },
  {
    kind: 'a chip that wants a rail its card does not have',
    rule: 'rail-missing',
    severity: 'error',
    *seeds(example) {
      for (const { card } of edges(example)) {
        const line = statementAt(example, card.source);
        yield* seed(card.name, inserted(example, line, ['part U99 with 1702A -9V 30 mA']), '-9V');
      }
    },
  },
  {
    kind: 'the bias of chips lost while their other rails stay',
    rule: 'bias-lost',
    severity: 'error',
    *seeds(example) {
      for (const { card, edge, bus } of edges(example)) {
        for (const { part } of card.chips) {
          const bias = BIAS.get(part.replace(/^MCM/, ''));
          if (bias === undefined) continue;
          const make = card.makes.find(({ rail }) => rail === bias);
          const contacts = contactsOf(bus.pins, 'rail').get(make?.from ?? bias);
          if (contacts)
            yield* seed(`${card.name}: ${bias} of ${part}`, cut(example, card, edge, contacts), bias);
        }
      }
    },
  },
  {
    kind: 'a feed left off',
    rule: 'rail-unfed',
    severity: 'error',
    *seeds(example) {
      for (const { backplane, line, rail } of feeds(example)) {
        const boards = example.machine.boards.filter(({ slot }) => slot?.backplane === backplane);
        // A rail that no board takes may stay dead.
        if (isGroundName(rail) || !boards.some(({ card }) => card.takes.some((take) => take.rail === rail)))
          continue;
        yield* seed(`${backplane.name}: ${rail}`, [removed(example, line)], rail);
      }
    },
  },
  {
    kind: 'the ground of a backplane left off',
    rule: 'ground-missing',
    severity: 'error',
    *seeds(example) {
      for (const { backplane, line, rail, supply } of feeds(example)) {
        // Where the supply feeds boards outside the cage too, their ribbons are a return, if a thin one: rail-drop's.
        const harness = example.machine.instances.some((one) => one.supply === supply && isPlugged(one));
        if (isGroundName(rail) && !harness)
          yield* seed(backplane.name, [removed(example, line)], backplane.name);
      }
    },
  },
  {
    kind: 'all ground fingers lost',
    rule: 'ground-missing',
    severity: 'error',
    *seeds(example) {
      for (const { card, edge, bus } of edges(example)) {
        // A board that is grounded through a ribbon as well still has a return, if a poor one.
        if (card.ports.length > 0 || card.takes.length === 0) continue;
        const contacts = [...contactsOf(bus.pins, 'ground').values()].flat();
        yield* seed(card.name, cut(example, card, edge, contacts));
      }
    },
  },
  {
    kind: 'all ground contacts of a board outside the cage lost',
    rule: 'ground-missing',
    severity: 'error',
    *seeds(example) {
      for (const board of fedLoose(example)) {
        const edits = board.card.ports.flatMap((port) => {
          const contacts = [...contactsOf(port.pins, 'ground').values()].flat();
          return retold(example, port, new Map(contacts.map((one) => [one, 'spare  by trace']))) ?? [];
        });
        yield* seed(board.name, edits, board.name);
      }
    },
  },
  {
    kind: 'a supply rail that nobody takes',
    rule: 'rail-unused',
    severity: 'note',
    *seeds(example) {
      for (const { name, source } of example.machine.supplies)
        yield* seed(
          name,
          inserted(example, statementAt(example, source), ['rail +48V 48 V max 1 A']),
          '+48V',
        );
    },
  },
];
