import {
  appended,
  attributeOf,
  inserted,
  namesIn,
  ofForm,
  type Placed,
  replaced,
  subjectNames,
  textOf,
  withSubject,
} from './example.ts';
import { type FaultKind, seed } from './places.ts';

const USES = ['drives', 'transceives', 'receives', 'pulls', 'starts', 'passes'];

/** Lines that say with which part, and of which the part is all that is known. */
const WITH = ['drives', 'transceives', 'receives', 'pulls', 'starts', 'passes', 'makes', 'chip'];

export const slipFaults: readonly FaultKind[] = [
  {
    kind: 'a part number misread',
    rule: 'part-unknown',
    severity: 'question',
    *seeds(example) {
      for (const line of ofForm(example, ...WITH)) {
        const part = attributeOf(line, 'with')?.values.find((value) => value.kind === 'item');
        // What a `part` line says itself of its rails is checked without its number.
        if (part?.kind !== 'item' || attributeOf(line, 'need')) continue;
        const wrong = part.first.replace(/\d/, 'Q');
        yield* seed(textOf(example, line), [replaced(line, wrong, part)], wrong);
      }
    },
  },
  {
    kind: 'a line whose name is misspelt',
    rule: 'name-unknown',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, ...USES, 'terminate', 'pullup')) {
        const wrong = [...subjectNames(line), 'QXZ'].join(', ');
        yield* seed(textOf(example, line), [withSubject(line, wrong)], 'QXZ');
      }
    },
  },
  {
    kind: 'a card that nobody describes',
    rule: 'name-unknown',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'slot')) {
        const is = attributeOf(line, 'is')!;
        if (is.values[0]?.kind === 'item')
          yield* seed(textOf(example, line), [replaced(line, 'QXZ', is)], 'QXZ');
      }
    },
  },
  {
    kind: 'a rail that the supply does not have',
    rule: 'name-unknown',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'feed'))
        yield* seed(textOf(example, line), [withSubject(line, '+33V')], '+33V');
    },
  },
  {
    kind: 'a slot said twice',
    rule: 'duplicate',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'slot')) {
        const label = textOf(example, line, line.entry.statement.subject[0]!);
        const edits = inserted(example, line.parent as Placed, [`${label.split('..')[0]} = empty`]);
        yield* seed(textOf(example, line), edits);
      }
    },
  },
  {
    kind: 'a contact said twice',
    rule: 'duplicate',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'entry')) {
        // What holds in some slots only may be said again for others.
        if (attributeOf(line, 'in')) continue;
        const first = line.entry.statement.subject[0]!;
        const label = first.kind === 'item' ? first.first : '';
        yield* seed(
          textOf(example, line),
          inserted(example, line.parent as Placed, [`${label} = spare  by trace`]),
        );
      }
    },
  },
  {
    kind: 'a name too few for its contacts',
    rule: 'range-mismatch',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'entry')) {
        const is = attributeOf(line, 'is')!;
        const names = namesIn(is.values);
        // One name may stand for many contacts.
        if (names.length < 3 || attributeOf(line, 'out')) continue;
        yield* seed(textOf(example, line), [replaced(line, names.slice(1).join(', '), is)]);
      }
    },
  },
  {
    kind: 'a contact that the connector does not have',
    rule: 'contact-unknown',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'entry'))
        yield* seed(
          textOf(example, line),
          inserted(example, line.parent as Placed, ['Q999 = spare  by trace']),
          'Q999',
        );
    },
  },
  {
    kind: 'a voltage in amperes',
    rule: 'unit-wrong',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'rail')) {
        const volts = attributeOf(line, 'voltage');
        if (volts === undefined) continue;
        const text = textOf(example, line, volts).replace(/V$/, 'A');
        yield* seed(textOf(example, line), [replaced(line, text, volts)]);
      }
    },
  },
  {
    kind: 'an allowance that silences nothing',
    rule: 'allow-unused',
    severity: 'warning',
    *seeds(example) {
      for (const { name } of example.machine.boards)
        yield* seed(name, [appended(example, [`allow rail-conflict at ${name} "seeded"`])], name);
    },
  },
];
