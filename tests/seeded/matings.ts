import type { Connector } from '../../src/machine/types.ts';
import {
  appended,
  type Edit,
  type Example,
  inserted,
  ofForm,
  type Placed,
  replaced,
  statementAt,
  subjectNames,
  textOf,
  withAttribute,
  without,
} from './example.ts';
import { alikeTurned, between, offMiddle, putIn, takenOut } from './mating-guards.ts';
import { contactsOf, type FaultKind, fingers, seed } from './places.ts';
import { opposite } from './plugs.ts';
import { busesInUse, fedRails, voltsOf, worstRail } from './rail-places.ts';

/** Card-edge sockets of backplanes, a line of slots each. */
function* cages(example: Example): Iterable<{ line: Placed; name: string; connector: Connector }> {
  for (const line of ofForm(example, 'slots')) {
    const backplane = example.machine.backplanes.find(
      ({ source }) => statementAt(example, source).entry === line.parent?.entry,
    );
    const connector = backplane?.buses[0]?.bus.pins.connector;
    if (connector?.shape === 'edge') yield { line, name: backplane!.name, connector };
  }
}

/** Slots without guides, which would keep what a key must keep out, keyed as told. */
const keyedSlots = (line: Placed, keys: string): Edit[] => [
  ...without(line, 'guides'),
  ...(keys === '' ? [] : [withAttribute(line, 'key', keys)]),
];

/** A line for each slot in place of one for all. */
function slotBySlot(example: Example, line: Placed, textFor: (slot: string) => string): Edit {
  const all = textOf(example, line, line.entry.statement.subject[0]!);
  return replaced(
    line,
    subjectNames(line)
      .map((slot) => textFor(slot).replace(all, slot))
      .join('\n'),
  );
}

/** Edges of the cards in slots on this connector, each keyed as told of its card. */
const keyedEdges = (example: Example, connector: Connector, keyOf: (card: string) => string[]): Edit[] =>
  fingers(example)
    .filter(({ edge }) => edge.pins.connector === connector)
    .flatMap(({ edge, card }) => {
      const keys = keyOf(card.name);
      return keys.length === 0 ? [] : inserted(example, statementAt(example, edge.source), keys);
    });

const cardsOn = (example: Example, connector: Connector): string[] => [
  ...new Set(
    fingers(example)
      .filter(({ edge }) => edge.pins.connector === connector)
      .map(({ card }) => card.name),
  ),
];

/** Boards put in wrong. */
export const matingFaults: readonly FaultKind[] = [
  {
    kind: 'a slot whose key and guides are gone',
    rule: 'mate-turned',
    severity: 'warning',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const text = textOf(example, line);
        const bare = text.replace(/\s+guides\b/, '');
        for (const broken of subjectNames(line)) {
          const lines = slotBySlot(example, line, (slot) => (slot === broken ? bare : text));
          const edits = [lines, ...takenOut(example, connector, 'key')];
          yield* seed(`${name}.${broken}`, edits, `${name}.${broken}`);
        }
      }
    },
  },
  {
    kind: 'keys and guides gone from all slots',
    rule: 'key-missing',
    severity: 'note',
    *seeds(example) {
      for (const { line, name, connector } of cages(example))
        yield* seed(
          name,
          [...without(line, 'guides'), ...takenOut(example, connector, 'key')],
          connector.name,
        );
    },
  },
  {
    kind: 'a card of which nobody says that it is keyed',
    rule: 'mate-turned',
    severity: 'question',
    *seeds(example) {
      for (const { line, connector } of cages(example)) {
        const key = between(connector, offMiddle(connector));
        for (const card of cardsOn(example, connector)) {
          const edits = [
            ...keyedSlots(line, key),
            ...takenOut(example, connector, 'key'),
            ...keyedEdges(example, connector, (one) => (one === card ? [] : [key])),
          ];
          yield* seed(card, edits, card);
        }
      }
    },
  },
  {
    kind: 'keyed cards in slots of which nobody says it',
    rule: 'mate-turned',
    severity: 'question',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const key = between(connector, offMiddle(connector));
        const edits = [
          ...keyedSlots(line, ''),
          ...takenOut(example, connector, 'key'),
          ...keyedEdges(example, connector, () => [key]),
        ];
        yield* seed(name, edits, name);
      }
    },
  },
  {
    kind: 'a slot of which nobody says that it is keyed',
    rule: 'mate-turned',
    severity: 'question',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const key = between(connector, offMiddle(connector));
        const bare = textOf(example, line).replace(/\s+guides\b/, '');
        for (const unsaid of subjectNames(line)) {
          const lines = slotBySlot(example, line, (slot) => (slot === unsaid ? bare : `${bare} ${key}`));
          const edits = [
            lines,
            ...takenOut(example, connector, 'key'),
            ...keyedEdges(example, connector, () => [key]),
          ];
          yield* seed(`${name}.${unsaid}`, edits, `${name}.${unsaid}`);
        }
      }
    },
  },
  {
    kind: 'the slot in one card’s tongue one contact from the key',
    rule: 'mate-turned',
    severity: 'question',
    *seeds(example) {
      for (const { line, connector } of cages(example)) {
        const [key, moved] = [0, 1].map((by) => between(connector, offMiddle(connector) + by)) as [
          string,
          string,
        ];
        for (const card of cardsOn(example, connector)) {
          const edits = [
            ...keyedSlots(line, key),
            ...takenOut(example, connector, 'key'),
            ...keyedEdges(example, connector, (one) => [one === card ? moved : key]),
          ];
          yield* seed(card, edits, card);
        }
      }
    },
  },
  {
    kind: 'the key of one slot one contact from the slots in the tongues',
    rule: 'mate-turned',
    severity: 'question',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const [key, moved] = [0, 1].map((by) => between(connector, offMiddle(connector) + by)) as [
          string,
          string,
        ];
        const bare = textOf(example, line).replace(/\s+guides\b/, '');
        for (const { slot } of example.machine.boards) {
          // No board of the others goes into such a slot; whether its own does, the file leaves open.
          if (slot?.backplane.name !== name) continue;
          const edits = [
            slotBySlot(example, line, (one) => `${bare} ${one === slot.label ? moved : key}`),
            ...takenOut(example, connector, 'key'),
            ...keyedEdges(example, connector, () => [key]),
          ];
          yield* seed(`${name}.${slot.label}`, edits, `${name}.${slot.label}`);
        }
      }
    },
  },
  {
    kind: 'keys that lie alike when the board is turned',
    rule: 'key-pointless',
    severity: 'warning',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const keys = alikeTurned(connector).map((at) => between(connector, at));
        const edits = [
          ...keyedSlots(line, keys.join(' ')),
          ...takenOut(example, connector, 'key'),
          ...keyedEdges(example, connector, () => keys),
        ];
        yield* seed(`${name}, said of slots and cards`, edits, connector.name);
        const told = [...takenOut(example, connector, 'key'), ...putIn(example, connector, ...keys)];
        yield* seed(`${name}, said of the connector`, told, connector.name);
      }
    },
  },
  {
    kind: 'sockets whose ends are broken off, key gone',
    rule: 'mate-shifted',
    severity: 'warning',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const edits = [
          ...takenOut(example, connector, 'ends', 'key'),
          ...putIn(example, connector, 'ends open'),
        ];
        yield* seed(`${name}, within guides`, edits, name);
        yield* seed(`${name}, without guides`, [...edits, ...without(line, 'guides')], name);
      }
    },
  },
  {
    kind: 'sockets at whose ends nobody looked, key gone',
    rule: 'mate-shifted',
    severity: 'question',
    *seeds(example) {
      for (const { line, name, connector } of cages(example)) {
        const edits = takenOut(example, connector, 'ends', 'key');
        yield* seed(`${name}, within guides`, edits, name);
        yield* seed(`${name}, without guides`, [...edits, ...without(line, 'guides')], name);
      }
    },
  },
  {
    kind: 'slots of another bus that look alike',
    rule: 'mate-wrong-slot',
    severity: 'warning',
    *seeds(example) {
      const { machine } = example;
      for (const { backplane, bus } of busesInUse(example)) {
        const worst = worstRail(example, bus)!;
        const [supply] = machine.supplies.map(({ name }) => name);
        const { labels, name: connector } = bus.pins.connector;
        const grounds = [...contactsOf(bus.pins, 'ground').values()].flat().map((i) => labels[i]!);
        for (const [rail, contacts] of fedRails(example, bus)) {
          const takes = fingers(example).some(({ card }) =>
            card.takes.some((one) => one.rail === rail && one.at === undefined),
          );
          const volts = voltsOf(machine, rail);
          const foreign =
            rail === worst || volts === voltsOf(machine, worst) ? opposite(example, volts) : worst;
          if (!takes || foreign === undefined) continue;
          const at = contacts.map((i) => labels[i]!);
          const lines = [
            `bus ALIEN on ${connector} {`,
            `${grounds.join(', ')} = GND by manual`,
            `${at.join(', ')} = ${foreign} by manual`,
            '}',
            'backplane ALIENS {',
            'slots 1 on ALIEN guides',
            `feed GND from ${supply} at ${grounds[0]}`,
            `feed ${foreign} from ${supply} at ${at[0]}`,
            '}',
          ];
          yield* seed(
            `${backplane.name}: ${foreign} on ${rail}`,
            [appended(example, lines)],
            'ALIENS.1',
            foreign,
          );
        }
      }
    },
  },
];
