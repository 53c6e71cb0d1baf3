import type { Board, Connector, Instance, Ribbon } from '../../src/machine/types.ts';
import {
  appended,
  attributeOf,
  type Edit,
  type Example,
  formOf,
  inserted,
  ofForm,
  type Placed,
  removed,
  replaced,
  type Seed,
  statementAt,
  subjectNames,
  textOf,
  withAttribute,
  within,
  without,
  withSubject,
} from './example.ts';
import { cardLines, contactsOf, type FaultKind, fingers, seed } from './places.ts';
import { busesInUse, fedRails, voltsOf, worstRail } from './rail-places.ts';

// ---- what keeps plugs straight, as it is said ----

/** Takes lines of these forms out of a connector's own block. */
const takenOut = (example: Example, { source }: Connector, ...forms: string[]): Edit[] =>
  within(example, statementAt(example, source))
    .filter((line) => forms.includes(formOf(line)))
    .map((line) => removed(example, line));

/** Puts lines into a connector's block. */
const putIn = (example: Example, { source }: Connector, ...lines: string[]): Edit[] =>
  inserted(example, statementAt(example, source), lines);

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

/** `between 9, 10`: behind so many positions from the first. */
function between({ labels, row, position }: Connector, behind: number): string {
  const first = labels.filter((_, i) => row[i] === 0);
  first.sort((a, b) => position[labels.indexOf(a)]! - position[labels.indexOf(b)]!);
  return `key between ${first[behind - 1]}, ${first[behind]}`;
}

/** A place off the middle, and the places that a turned plug brings onto each other. */
const offMiddle = ({ positions }: Connector): number => Math.floor(positions / 3);
const alikeTurned = ({ positions }: Connector): number[] =>
  positions % 2 === 0 ? [positions / 2] : [(positions - 1) / 2, (positions + 1) / 2];

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

// ---- ribbons and cables ----

interface End {
  readonly ribbon: Ribbon;
  readonly instance: Instance;
  readonly line: Placed;
}

function* endsOf(example: Example): Iterable<End> {
  for (const ribbon of example.machine.ribbons)
    for (const { instance, source } of ribbon.ends)
      if (instance) yield { ribbon, instance, line: statementAt(example, source) };
}

/** Connectors with pins on which plugs could sit wrong, with the ends that are plugged into them. */
function headers(example: Example): { connector: Connector; ends: End[] }[] {
  const found = new Map<Connector, End[]>();
  for (const end of endsOf(example)) {
    const { connector } = end.instance.pins;
    if (connector.shape !== 'header' && connector.shape !== 'row') continue;
    found.set(connector, [...(found.get(connector) ?? []), end]);
  }
  return [...found].map(([connector, ends]) => ({ connector, ends }));
}

/** Bumps gone from the plugs of ribbons. */
const bumpless = (ends: readonly End[]): Edit[] => ends.flatMap(({ line }) => without(line, 'bump'));

/** All that keeps plugs straight gone: bare pins. */
const bared = (example: Example, connector: Connector, ends: readonly End[]): Edit[] => [
  ...takenOut(example, connector, 'shroud', 'bump', 'pulled', 'plugged', 'key'),
  ...bumpless(ends),
];

/** Whether ground or a rail on the wrong contact strains anything there: a rail, or an output that drives both ways. */
function isTouchy(ribbon: Ribbon): boolean {
  const its = ribbon.ends.flatMap(({ instance }) => instance ?? []);
  const names = new Set(its.flatMap(({ pins }) => pins.claims.map((claim) => claim?.name)));
  return its.some(
    ({ pins, board }) =>
      contactsOf(pins, 'rail').size > 0 ||
      board?.card.uses.some(
        ({ kind, name }) => (kind === 'drives' || kind === 'transceives') && names.has(name),
      ) === true,
  );
}

/** One seed for each ribbon with an end in these connectors. */
function* byRibbon(
  example: Example,
  wanted: (ribbon: Ribbon) => boolean,
  edits: (connector: Connector, ends: readonly End[]) => Edit[],
): Iterable<Seed> {
  for (const { connector, ends } of headers(example))
    for (const ribbon of new Set(ends.map((end) => end.ribbon)))
      if (wanted(ribbon))
        yield* seed(`${ribbon.name} on ${connector.name}`, edits(connector, ends), ribbon.name);
}

/** What of power a port has at a contact. */
const powerAt =
  ({ claims }: Instance['pins']) =>
  (contact: number): string => {
    const claim = claims[contact];
    if (claim?.kind === 'ground') return 'GND';
    return claim?.kind === 'rail' ? claim.name : 'spare';
  };

/** A supply of its own with a port of this kind, contact by contact. */
const supplyWith = (
  { machine }: Example,
  { labels, name }: Connector,
  isAt: (contact: number) => string,
): string[] => {
  const what = labels.map((_, contact) => isAt(contact));
  const rails = [...new Set(what)].filter((one) => one !== 'GND' && one !== 'spare');
  return [
    'supply SPARE {',
    ...rails.map((rail) => `rail ${rail} ${voltsOf(machine, rail)} V max 3 A by manual`),
    'ground GND',
    `port P1 on ${name} {`,
    ...labels.map((label, contact) => `${label} = ${what[contact]} by manual`),
    '}',
    '}',
  ];
};

/** The rail of any supply that does logic the most harm. */
const worstOfAll = ({ machine }: Example): string =>
  machine.supplies
    .flatMap(({ rails }) => rails.map(({ name }) => name))
    .sort((a, b) => Math.abs(voltsOf(machine, b)) - Math.abs(voltsOf(machine, a)))[0]!;

/** Connectors that ribbons or cables are plugged into, of any shape, with their ends. */
function portsInUse(example: Example): Map<Connector, End[]> {
  const found = new Map<Connector, End[]>();
  for (const end of endsOf(example)) {
    const { connector } = end.instance.pins;
    found.set(connector, [...(found.get(connector) ?? []), end]);
  }
  return found;
}

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
    kind: 'a key in the middle of a plug between plain walls',
    rule: 'key-pointless',
    severity: 'warning',
    *seeds(example) {
      for (const { connector, ends } of headers(example)) {
        if (connector.shape !== 'row') continue;
        const keys = alikeTurned(connector).map((at) => between(connector, at));
        const edits = [...bared(example, connector, ends), ...putIn(example, connector, 'shroud', ...keys)];
        yield* seed(connector.name, edits, connector.name);
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
  {
    kind: 'walls round the pins gone: the plug turned',
    rule: 'ribbon-turned',
    severity: 'warning',
    seeds: (example) =>
      byRibbon(
        example,
        (ribbon) => isTouchy(ribbon),
        (connector, ends) => bared(example, connector, ends),
      ),
  },
  {
    kind: 'walls without a notch',
    rule: 'ribbon-turned',
    severity: 'warning',
    seeds: (example) =>
      byRibbon(
        example,
        (ribbon) => isTouchy(ribbon),
        (connector, ends) => [...bared(example, connector, ends), ...putIn(example, connector, 'shroud')],
      ),
  },
  {
    kind: 'bare pins under open collectors only',
    rule: 'ribbon-turned',
    severity: 'note',
    says: /does no harm/,
    seeds: (example) =>
      byRibbon(
        example,
        (ribbon) => !isTouchy(ribbon),
        (connector, ends) => bared(example, connector, ends),
      ),
  },
  {
    kind: 'a plug of which nobody says that it has a bump',
    rule: 'ribbon-turned',
    severity: 'question',
    *seeds(example) {
      for (const { connector, ends } of headers(example)) {
        for (const end of ends) {
          if (!isTouchy(end.ribbon)) continue;
          const edits = [
            ...without(end.line, 'bump'),
            ...takenOut(example, connector, 'bump', 'pulled', 'plugged'),
          ];
          yield* seed(
            `${end.ribbon.name} at ${end.instance.path}`,
            edits,
            end.ribbon.name,
            end.instance.path,
          );
        }
      }
    },
  },
  {
    kind: 'plugs with bumps in walls of which nobody says it',
    rule: 'ribbon-turned',
    severity: 'question',
    seeds: (example) =>
      byRibbon(
        example,
        (ribbon) => isTouchy(ribbon),
        (connector) => takenOut(example, connector, 'shroud', 'pulled', 'plugged'),
      ),
  },
  {
    kind: 'both ends of a ribbon turned',
    rule: 'ribbon-turned',
    severity: 'note',
    says: /undo each other/,
    *seeds(example) {
      for (const { name, kind, ends } of example.machine.ribbons) {
        if (kind !== 'ribbon') continue;
        const edits = ends.flatMap(({ instance, source }) => {
          const line = statementAt(example, source);
          return instance && attributeOf(line, 'stripe')
            ? [withAttribute(line, 'stripe', `stripe ${instance.pins.connector.labels.at(-1)}`)]
            : [];
        });
        yield* seed(name, edits, name);
      }
    },
  },
  {
    kind: 'walls round the pins gone: the plug beside them',
    rule: 'ribbon-over',
    severity: 'warning',
    seeds: (example) =>
      byRibbon(
        example,
        (ribbon) => isTouchy(ribbon),
        (connector, ends) => bared(example, connector, ends),
      ),
  },
  {
    kind: 'a header of the same kind with another rail',
    rule: 'ribbon-wrong-port',
    severity: 'warning',
    *seeds(example) {
      for (const [connector, ends] of portsInUse(example)) {
        const worst = worstOfAll(example);
        for (const ribbon of new Set(ends.map((end) => end.ribbon))) {
          const { pins } = ends.find((end) => end.ribbon === ribbon)!.instance;
          const foreign = contactsOf(pins, 'rail').has(worst)
            ? opposite(example, voltsOf(example.machine, worst))!
            : worst;
          const isAt = (i: number): string => (pins.claims[i]?.kind === 'ground' ? 'GND' : foreign);
          const edits = [appended(example, supplyWith(example, connector, isAt))];
          yield* seed(`${ribbon.name} on ${connector.name}`, edits, ribbon.name, 'SPARE.P1');
        }
      }
    },
  },
  {
    kind: 'the plugged hole gone from a plug, and its pin there',
    rule: 'ribbon-wrong-port',
    severity: 'warning',
    *seeds(example) {
      for (const { connector, ends } of headers(example))
        yield* seed(connector.name, takenOut(example, connector, 'pulled', 'plugged'), ends[0]!.ribbon.name);
    },
  },
  {
    kind: 'one half of a plugged hole unsaid',
    rule: 'ribbon-wrong-port',
    severity: 'question',
    *seeds(example) {
      for (const { connector, ends } of headers(example))
        for (const half of ['pulled', 'plugged'])
          yield* seed(`${connector.name}: ${half}`, takenOut(example, connector, half), ends[0]!.ribbon.name);
    },
  },
  {
    kind: 'the plugged hole beside the pulled pin',
    rule: 'ribbon-wrong-port',
    severity: 'question',
    *seeds(example) {
      for (const { connector, ends } of headers(example)) {
        for (const half of ['pulled', 'plugged']) {
          const [line] = within(example, statementAt(example, connector.source)).filter(
            (one) => formOf(one) === half,
          );
          if (line === undefined) continue;
          const [label] = subjectNames(line);
          for (const by of [-2, 2]) {
            const moved = connector.labels[connector.labels.indexOf(label!) + by]!;
            yield* seed(
              `${connector.name}: ${half} ${moved}`,
              [withSubject(line, moved)],
              ends[0]!.ribbon.name,
            );
          }
        }
      }
    },
  },
  {
    kind: 'headers without walls, as many as there are',
    rule: 'key-missing',
    severity: 'note',
    *seeds(example) {
      for (const { connector, ends } of headers(example))
        if (ends.some(({ ribbon }) => isTouchy(ribbon)))
          yield* seed(connector.name, bared(example, connector, ends), connector.name);
    },
  },
  {
    kind: 'a second supply with a port that takes a live plug',
    rule: 'rails-paralleled',
    severity: 'warning',
    *seeds(example) {
      for (const { ribbon, instance } of endsOf(example)) {
        const { pins } = instance;
        if (contactsOf(pins, 'rail').size === 0) continue;
        const edits = [appended(example, supplyWith(example, pins.connector, powerAt(pins)))];
        yield* seed(`${ribbon.name} at ${instance.path}`, edits, ribbon.name, 'SPARE');
      }
    },
  },
  {
    kind: 'a supply of its own for the board at an end of a ribbon',
    rule: 'back-power',
    severity: 'question',
    *seeds(example) {
      for (const { board, supply, lines } of harnessed(example)) {
        if (!isDriven(example, board)) continue;
        const { pins, path } = supply;
        const edits = lines.map((line) => replaced(line, textOf(example, line).replace(path, 'SPARE.P1')));
        const spare = appended(example, supplyWith(example, pins.connector, powerAt(pins)));
        yield* seed(board.name, [...edits, spare], board.name, 'SPARE');
      }
    },
  },
  {
    kind: 'a supply of its own for the cage',
    rule: 'back-power',
    severity: 'question',
    *seeds(example) {
      const feeds = ofForm(example, 'feed');
      const rails = feeds.flatMap(subjectNames).filter((name) => name !== 'GND');
      for (const { board } of harnessed(example)) {
        if (!isDriven(example, board)) continue;
        const edits = feeds.map((line) =>
          replaced(line, textOf(example, line).replace(/\bfrom\s+\S+/, 'from SPARE')),
        );
        const spare = [
          'supply SPARE {',
          ...rails.map((rail) => `rail ${rail} ${voltsOf(example.machine, rail)} V by manual`),
          'ground GND',
          '}',
        ];
        yield* seed(board.name, [...edits, appended(example, spare)], board.name);
      }
    },
  },
  {
    kind: 'an output that drives both ways between two supplies',
    rule: 'back-power',
    severity: 'question',
    *seeds(example) {
      for (const { board } of harnessed(example)) {
        for (const { card, line } of cardLines(example, 'pulls')) {
          const text = textOf(example, line);
          const its = example.machine.boards.find((one) => one.card === card)!;
          const other = example.machine.ribbons.some(
            ({ ends }) =>
              ends.some(({ instance }) => instance?.board === board) &&
              ends.some(({ instance }) => instance?.board === its),
          );
          // Through open collectors nothing was fed; both boards must live on supplies of their own.
          if (!other || !/\bat\s/.test(text) || sharesSupply(example, board)) continue;
          const drives = text.replace(/^pulls/, 'drives').replace(/with\s+\S+/, 'with 74LS244');
          yield* seed(`${card.name}: ${subjectNames(line).join(', ')}`, [replaced(line, drives)], card.name);
        }
      }
    },
  },
];

/** Boards that get their rails by a cable from a supply's port, with its lines. */
function* harnessed(example: Example): Iterable<{ board: Board; supply: Instance; lines: Placed[] }> {
  for (const { kind, name, ends } of example.machine.ribbons) {
    if (kind !== 'cable') continue;
    const supply = ends.flatMap(({ instance }) => (instance?.supply ? [instance] : []))[0];
    const [cable] = ofForm(example, 'cable').filter((line) => subjectNames(line)[0] === name);
    const wires = within(example, cable!);
    for (const { instance } of ends) {
      const board = instance?.board;
      if (supply === undefined || board === undefined) continue;
      const lines = wires.filter((line) => textOf(example, line).includes(`${instance!.path}.`));
      yield { board, supply, lines };
    }
  }
}

/** Whether a board hears what another drives both ways along a ribbon. */
const isDriven = ({ machine }: Example, board: Board): boolean =>
  machine.ribbons.some(({ ends }) => {
    const boards = ends.flatMap(({ instance }) => instance?.board ?? []);
    return (
      boards.includes(board) &&
      boards.some((one) =>
        one.card.uses.some(
          ({ kind, name }) =>
            kind === 'drives' && board.card.uses.some((use) => use.kind === 'receives' && use.name === name),
        ),
      )
    );
  });

/** Whether the cage lives on the supply that a board's cable comes from. */
const sharesSupply = (example: Example, board: Board): boolean => {
  const [{ supply } = { supply: undefined }] = [...harnessed(example)].filter((one) => one.board === board);
  return example.machine.backplanes.some(({ feeds }) => feeds.some((feed) => feed.supply === supply?.supply));
};

/** The rail of the other sign that is farthest from 0 V. */
function opposite({ machine }: Example, volts: number): string | undefined {
  return machine.supplies
    .flatMap(({ rails }) => rails.map(({ name }) => name))
    .filter((name) => voltsOf(machine, name) * volts < 0)
    .sort((a, b) => Math.abs(voltsOf(machine, b)) - Math.abs(voltsOf(machine, a)))[0];
}
