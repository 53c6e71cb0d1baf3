import type { Edit, Example } from './example.ts';
import { contactsOf, type FaultKind, fingers, retold, seed } from './places.ts';

/** Members inside a vector of a table: those whose loss leaves a gap in a run of four or more. */
function* vectorMembers(
  example: Example,
): Iterable<{ where: string; edit: (text: string) => Edit[] | undefined; name: string; next: string }> {
  const { machine } = example;
  const tables = [
    ...machine.buses.map(({ name, pins, source }) => ({ where: name, port: { pins, source } })),
    ...[...machine.cards, ...machine.backplanes, ...machine.supplies].flatMap((owner) =>
      owner.ports.map((port) => ({ where: `${owner.name}.${port.name}`, port })),
    ),
  ];
  for (const { where, port } of tables) {
    const names = new Map<string, { number: number; contact: number; name: string }[]>();
    port.pins.own.forEach((claim, contact) => {
      const found = claim?.kind === 'signal' ? /^(\D*)(\d+)(\D*)$/.exec(claim.name) : null;
      if (claim === undefined || claim.slots || found === null) return;
      const key = `${found[1]}#${found[3]}`;
      names.set(key, [...(names.get(key) ?? []), { number: Number(found[2]), contact, name: claim.name }]);
    });
    for (const members of names.values()) {
      members.sort((a, b) => a.number - b.number);
      if (members.length < 5) continue;
      for (const [i, { contact, name }] of members.entries()) {
        if (i === 0 || i === members.length - 1) continue;
        const edit = (text: string) => retold(example, port, new Map([[contact, text]]));
        yield { where, edit, name, next: members[i + 1]!.name };
      }
    }
  }
}

/** The fingers of cards for signals that their bus writes with an active-low mark. */
function* markedFingers(
  example: Example,
): Iterable<{ place: string; base: string; name: string; edit: (text: string) => Edit[] | undefined }> {
  for (const { card, edge } of fingers(example)) {
    for (const [name, [contact]] of contactsOf(edge.pins, 'signal')) {
      const base = name.replace(/^\/|\*$/, '');
      const claim = edge.bus?.pins.claims[contact!];
      if (base === name || claim?.name !== name || claim.private) continue;
      yield {
        place: `${card.name}: ${name}`,
        base,
        name,
        edit: (text) => retold(example, edge, new Map([[contact!, text]])),
      };
    }
  }
}

export const nameFaults: readonly FaultKind[] = [
  {
    kind: 'a number left out of a vector',
    rule: 'vector-gap',
    severity: 'warning',
    *seeds(example) {
      for (const { where, edit, name } of vectorMembers(example))
        yield* seed(`${where}: ${name}`, edit('spare  by trace'), name);
    },
  },
  {
    kind: 'a number said twice in a vector',
    rule: 'vector-gap',
    severity: 'warning',
    *seeds(example) {
      for (const { where, edit, name, next } of vectorMembers(example))
        yield* seed(`${where}: ${next} for ${name}`, edit(`${next}  by trace`), next);
    },
  },
  {
    kind: 'a line of the wrong polarity on a finger',
    rule: 'name-clash',
    severity: 'warning',
    says: /polarity/,
    *seeds(example) {
      for (const { place, base, name, edit } of markedFingers(example))
        yield* seed(place, edit(`${base}  by trace`), name, base);
    },
  },
  {
    kind: 'two signals exchanged on the fingers',
    rule: 'name-clash',
    severity: 'warning',
    *seeds(example) {
      for (const { card, edge } of fingers(example)) {
        const used = new Set(card.uses.map(({ name }) => name));
        const bussed = [...contactsOf(edge.pins, 'signal')].filter(([name, [contact]]) => {
          const claim = edge.bus?.pins.claims[contact!];
          return used.has(name) && claim?.name === name && !claim.private && claim.slots === undefined;
        });
        // Each with its neighbour, so that every line of the card is one of a pair.
        for (const [i, [name, [contact]]] of bussed.entries()) {
          const next = bussed[i + 1];
          if (i % 2 === 1 || next === undefined) continue;
          const [other, [its]] = next;
          const changes = new Map([
            [contact!, `${other}  by trace`],
            [its!, `${name}  by trace`],
          ]);
          yield* seed(`${card.name}: ${name} and ${other}`, retold(example, edge, changes), name, other);
        }
      }
    },
  },
];
