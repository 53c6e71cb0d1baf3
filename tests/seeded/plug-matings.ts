import {
  appended,
  attributeOf,
  formOf,
  statementAt,
  subjectNames,
  withAttribute,
  within,
  without,
  withSubject,
} from './example.ts';
import { alikeTurned, between, putIn, takenOut } from './mating-guards.ts';
import { contactsOf, type FaultKind, seed } from './places.ts';
import { bared, byRibbon, headers, isTouchy, opposite, portsInUse, supplyWith, worstOfAll } from './plugs.ts';
import { voltsOf } from './rail-places.ts';

/** Ribbons and cables plugged in wrong. */
export const plugFaults: readonly FaultKind[] = [
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
];
