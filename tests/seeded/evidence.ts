import { voltsOfName } from '../../src/machine/names.ts';
import {
  appended,
  attributeOf,
  type Edit,
  type Example,
  inserted,
  ofForm,
  type Placed,
  replaced,
  statementAt,
  textOf,
  withAttribute,
  without,
} from './example.ts';
import { contactsOf, type FaultKind, isPlugged, labelsOf, retold, seed, slottedCards } from './places.ts';

/** Lines of tables that name a rail, where a board or cable is on it. */
function* railLines(
  example: Example,
  ...kinds: ('rail' | 'ground')[]
): Iterable<{ line: Placed; place: string; name: string }> {
  const seen = new Set<Placed>();
  for (const instance of example.machine.instances) {
    const { slot, kind, pins } = instance;
    const fed = kind === 'slot' ? slot?.board !== undefined : kind !== 'edge' && isPlugged(instance);
    if (!fed) continue;
    for (const claim of pins.claims) {
      if (claim === undefined || !kinds.includes(claim.kind as 'rail')) continue;
      const line = statementAt(example, claim.source);
      if (seen.has(line)) continue;
      seen.add(line);
      yield { line, name: claim.name, place: `${claim.owner}: ${textOf(example, line)}` };
    }
  }
}

/** Contacts of a backplane's bus in its first and last slots, by name. */
interface Through {
  readonly first: string;
  readonly last: string;
  readonly labels: readonly string[];
  readonly rails: Map<string, number[]>;
  readonly grounds: Map<string, number[]>;
  readonly signals: Map<string, number[]>;
  readonly fed: ReadonlySet<string>;
}

function* throughBuses({ machine }: Example): Iterable<Through> {
  for (const { name, slots, buses, feeds } of machine.backplanes) {
    for (const { bus, place } of buses) {
      const at = (i: number): string =>
        [name, slots.at(i)!.label, place].filter((part) => part !== '').join('.');
      const chained = new Set(bus.chains.flatMap(({ input, output }) => [input, output]));
      const free = ([, contacts]: [string, number[]]): boolean => !contacts.some((one) => chained.has(one));
      yield {
        first: at(0),
        last: at(-1),
        labels: bus.pins.connector.labels,
        rails: contactsOf(bus.pins, 'rail'),
        grounds: contactsOf(bus.pins, 'ground'),
        signals: new Map([...contactsOf(bus.pins, 'signal')].filter(free)),
        fed: new Set(feeds.map(({ rail }) => rail)),
      };
    }
  }
}

const reading = (example: Example, power: 'on' | 'off', line: string): Edit =>
  appended(example, [`readings 2026-05-04 cards out power ${power} leads 0.1 ohm {`, line, '}']);

export const evidenceFaults: readonly FaultKind[] = [
  {
    kind: 'a rail contact known by guess',
    rule: 'guess-carries-power',
    severity: 'warning',
    *seeds(example) {
      for (const { line, place, name } of railLines(example, 'rail', 'ground'))
        yield* seed(place, [withAttribute(line, 'by', 'by guess')], name);
    },
  },
  {
    kind: 'a rail contact of which nobody says how it is known',
    rule: 'guess-carries-power',
    severity: 'question',
    *seeds(example) {
      for (const { line, place, name } of railLines(example, 'rail'))
        yield* seed(place, without(line, 'by'), name);
    },
  },
  {
    kind: 'a reading that shows a rail short to ground',
    rule: 'reading-short',
    severity: 'error',
    *seeds(example) {
      for (const { first, labels, rails, grounds, fed } of throughBuses(example)) {
        const ground = [...grounds.values()][0]?.[0];
        for (const [rail, [contact]] of rails) {
          if (!fed.has(rail) || ground === undefined) continue;
          const line = `${first}.${labels[contact!]} to ${first}.${labels[ground]} = 0.1 ohm`;
          yield* seed(rail, [reading(example, 'off', line)], rail);
        }
      }
    },
  },
  {
    kind: 'a reading that shows two rails joined',
    rule: 'reading-short',
    severity: 'error',
    *seeds(example) {
      for (const { first, labels, rails, fed } of throughBuses(example)) {
        const all = [...rails].filter(([name]) => fed.has(name));
        for (const [i, [one, [contact]]] of all.entries()) {
          const [other, [its]] = all[(i + 1) % all.length] as [string, number[]];
          // Rails of one voltage joined draw no current: the map is wrong there, not the metal.
          if (other === one || voltsOfName(other) === voltsOfName(one)) continue;
          const line = `${first}.${labels[contact!]} to ${first}.${labels[its!]} = 0.1 ohm`;
          yield* seed(`${one} and ${other}`, [reading(example, 'off', line)], one, other);
        }
      }
    },
  },
  {
    kind: 'a reading that joins two lines',
    rule: 'reading-contradicts',
    severity: 'error',
    *seeds(example) {
      for (const { first, labels, signals } of throughBuses(example)) {
        const all = [...signals];
        for (const [i, [one, [contact]]] of all.entries()) {
          const [other, [its]] = all[(i + 1) % all.length] as [string, number[]];
          const line = `${first}.${labels[contact!]} to ${first}.${labels[its!]} = 0.2 ohm`;
          yield* seed(`${one} and ${other}`, [reading(example, 'off', line)], one, other);
        }
      }
    },
  },
  {
    kind: 'a reading that finds a line open',
    rule: 'reading-contradicts',
    severity: 'error',
    *seeds(example) {
      for (const { first, last, labels, signals, rails, grounds } of throughBuses(example)) {
        for (const [name, [contact]] of [...signals, ...rails, ...grounds]) {
          const line = `${first}.${labels[contact!]} to ${last}.${labels[contact!]} = open`;
          yield* seed(name, [reading(example, 'off', line)], name);
        }
      }
    },
  },
  {
    kind: 'a rail that reads another voltage',
    rule: 'reading-contradicts',
    severity: 'error',
    *seeds(example) {
      for (const { first, labels, rails, grounds, fed } of throughBuses(example)) {
        const ground = [...grounds.values()][0]?.[0];
        for (const [rail, [contact]] of rails) {
          if (!fed.has(rail) || ground === undefined) continue;
          const volts = rail.startsWith('-') ? 3 : -3;
          const line = `${first}.${labels[contact!]} to ${first}.${labels[ground]} = ${volts} V`;
          yield* seed(rail, [reading(example, 'on', line)], rail);
        }
      }
    },
  },
  {
    kind: 'a header with unknown contacts and nothing plugged in',
    rule: 'port-unexplained',
    severity: 'question',
    *seeds(example) {
      const { machine } = example;
      const connector = machine.connectors.find(({ shape }) => shape === 'header') ?? machine.connectors[0]!;
      const { labels } = connector;
      const table = [`port J77 on ${connector.name} {`, `${labels[0]}..${labels.at(-1)} = unknown`, '}'];
      for (const card of machine.cards) {
        if (!machine.boards.some((board) => board.card === card)) continue;
        yield* seed(card.name, inserted(example, statementAt(example, card.source), table), 'J77');
      }
    },
  },
  {
    kind: 'a rail beside ground in a header',
    rule: 'neighbour-hazard',
    severity: 'note',
    *seeds(example) {
      const connector = example.machine.connectors.find(({ shape }) => shape !== 'dshell')!;
      const { labels } = connector;
      const table = [
        `port J78 on ${connector.name} {`,
        `${labels[0]} = GND by trace`,
        `${labels[1]} = +12V by trace`,
        `${labels[2]}..${labels.at(-1)} = spare by trace`,
        '}',
      ];
      for (const { card } of slottedCards(example))
        yield* seed(card.name, inserted(example, statementAt(example, card.source), table), 'J78');
    },
  },
  {
    kind: 'a contact unknown in a header with nothing plugged in',
    rule: 'port-unexplained',
    severity: 'question',
    *seeds(example) {
      for (const instance of example.machine.instances) {
        if (!['port', 'backplane port'].includes(instance.kind) || isPlugged(instance)) continue;
        for (const contact of labelsOf(instance).keys()) {
          const edits = retold(example, instance.port, new Map([[contact, 'unknown']]));
          yield* seed(`${instance.path}.${labelsOf(instance)[contact]}`, edits, instance.path);
        }
      }
    },
  },
  {
    kind: 'a date that reads two ways',
    rule: 'date-odd',
    severity: 'note',
    *seeds(example) {
      for (const line of ofForm(example, 'slot', 'loose')) {
        const is = attributeOf(line, 'is')?.values[0];
        if (is?.kind === 'word') continue;
        const found = attributeOf(line, 'date');
        const edit = found
          ? replaced(line, 'date 3/7/84', found)
          : replaced(line, `${textOf(example, line)} date 3/7/84`);
        yield* seed(textOf(example, line), [edit]);
      }
    },
  },
];
