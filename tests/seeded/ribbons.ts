import type { Instance } from '../../src/machine/types.ts';
import {
  attributeOf,
  type Example,
  namesIn,
  ofForm,
  type Placed,
  replaced,
  statementAt,
  subjectNames,
  textOf,
  withAttribute,
  without,
} from './example.ts';
import { contactsOf, type FaultKind, labelsOf, retold, seed } from './places.ts';

/** The ends of ribbons with the connector each is plugged into. */
function* ribbonEnds(example: Example): Iterable<{ name: string; line: Placed; instance: Instance }> {
  for (const { name, kind, ends } of example.machine.ribbons) {
    for (const { instance, source } of kind === 'ribbon' ? ends : []) {
      if (instance) yield { name, line: statementAt(example, source), instance };
    }
  }
}

/** Connectors that a ribbon ends in, with their signal contacts that both ends name. */
function* ribbonSignals(
  example: Example,
): Iterable<{ instance: Instance; name: string; signals: [string, number][] }> {
  const seen = new Set<unknown>();
  for (const { ends, kind, name } of example.machine.ribbons) {
    for (const { instance } of kind === 'ribbon' ? ends : []) {
      if (instance === undefined || seen.has(instance.port)) continue;
      seen.add(instance.port);
      const others = ends.flatMap((end) => (end.instance && end.instance !== instance ? [end.instance] : []));
      const carried = new Set(others.flatMap(({ pins }) => pins.claims.map((claim) => claim?.name)));
      const signals = [...contactsOf(instance.pins, 'signal')]
        .filter(([signal]) => carried.has(signal))
        .map(([signal, contacts]): [string, number] => [signal, contacts[0]!]);
      yield { instance, name, signals };
    }
  }
}

/** One side of a cable's line: `PSU.P1.1..3`. */
interface Side {
  readonly text: string;
  readonly connector: string;
  readonly labels: readonly string[];
}

/** Both sides of a line of a cable, as written, without evidence behind them. */
function endsOf(example: Example, line: Placed): readonly [Side, Side] {
  const sides = textOf(example, line)
    .replace(/\s+by\s.*$/, '')
    .split(/\s*=\s*/);
  return sides.map((text): Side => {
    const [, connector = '', first = '', last] = /^(.*?)\.([^.]+?)(?:\.\.(\w+))?$/.exec(text) ?? [];
    const labels = last === undefined ? [first] : namesIn([{ kind: 'item', first, last, from: 0, to: 0 }]);
    return { text, connector, labels };
  }) as unknown as readonly [Side, Side];
}

/** What the contacts of a side are said to be. */
function namesAt({ machine }: Example, { connector, labels }: Side): string[] {
  const pins = machine.instances.find(({ path }) => path === connector)?.pins;
  return labels.map((label) => pins?.claims[pins.connector.indexOf.get(label) ?? -1]?.name ?? '');
}

export const ribbonFaults: readonly FaultKind[] = [
  {
    kind: 'a ribbon turned at one end',
    rule: 'ribbon-crossed',
    severity: 'error',
    *seeds(example) {
      for (const { name, line, instance } of ribbonEnds(example)) {
        const labels = labelsOf(instance);
        const turned = attributeOf(line, 'stripe')?.values[0];
        const first = turned?.kind === 'item' && turned.first === labels[0];
        const edit = withAttribute(line, 'stripe', `stripe ${first ? labels.at(-1) : labels[0]}`);
        yield* seed(`${name} at ${instance.path}`, [edit], name);
      }
    },
  },
  {
    kind: 'two lines crossed at one end of a ribbon',
    rule: 'ribbon-crossed',
    severity: 'error',
    *seeds(example) {
      for (const { instance, name, signals } of ribbonSignals(example)) {
        for (const [i, [one, contact]] of signals.entries()) {
          const [other, its] = signals[(i + 1) % signals.length] as [string, number];
          if (other === one) continue;
          const changes = new Map([
            [contact, `${other}  by trace`],
            [its, `${one}  by trace`],
          ]);
          yield* seed(`${instance.path}: ${one} and ${other}`, retold(example, instance.port, changes), name);
        }
      }
    },
  },
  {
    kind: 'a rail on one end of a ribbon’s signal',
    rule: 'ribbon-crossed',
    severity: 'error',
    *seeds(example) {
      for (const { instance, name, signals } of ribbonSignals(example)) {
        for (const [signal, contact] of signals) {
          const changes = new Map([[contact, '+12V  by trace']]);
          yield* seed(`${instance.path}: ${signal}`, retold(example, instance.port, changes), name);
        }
      }
    },
  },
  {
    kind: 'the wires of a cable in the wrong order at one end',
    rule: 'ribbon-crossed',
    severity: 'error',
    *seeds(example) {
      for (const cable of ofForm(example, 'cable')) {
        const [name] = subjectNames(cable) as [string];
        const joins = ofForm(example, 'join').filter(({ parent }) => parent?.entry === cable.entry);
        for (const [i, line] of joins.entries()) {
          const [near, far] = endsOf(example, line);
          const next = joins[i + 1];
          const [nextNear, nextFar] = next ? endsOf(example, next) : [];
          const alike =
            next && nextFar?.connector === far.connector && nextFar.labels.length === far.labels.length;
          if (alike && nextNear) {
            const edits = [
              replaced(line, `${near.text} = ${nextFar.text}`),
              replaced(next, `${nextNear.text} = ${far.text}`),
            ];
            yield* seed(`${name}: ${far.text} and ${nextFar.text}`, edits, name);
          }
          // Wires of one rail may change places as they like.
          if (far.labels.length < 2 || new Set(namesAt(example, far)).size < far.labels.length) continue;
          const turned = [...far.labels].reverse().map((label) => `${far.connector}.${label}`);
          yield* seed(
            `${name}: ${far.text} turned`,
            [replaced(line, `${near.text} = ${turned.join(', ')}`)],
            name,
          );
        }
      }
    },
  },
  {
    kind: 'a stripe that nobody looked at',
    rule: 'stripe-unsaid',
    severity: 'question',
    *seeds(example) {
      for (const { name, line, instance } of ribbonEnds(example))
        yield* seed(`${name} at ${instance.path}`, without(line, 'stripe'), name);
    },
  },
];
