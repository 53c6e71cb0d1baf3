import type { Board } from '../../src/machine/types.ts';
import {
  attributeOf,
  type Edit,
  type Example,
  ofForm,
  type Placed,
  removed,
  replaced,
  sourceOf,
  statementAt,
  subjectNames,
  textOf,
  withoutNames,
} from './example.ts';
import {
  indexOf,
  isBusy,
  isOnBackplaneOnly,
  isTerminator,
  type LineAt,
  linesOf,
  withoutResistors,
} from './line-places.ts';
import { type FaultKind, seed } from './places.ts';

export const terminatorFaults: readonly FaultKind[] = [
  {
    kind: 'one line of a terminator missing',
    rule: 'line-unterminated',
    *seeds(example) {
      for (const line of linesOf(example)) {
        // Wired lines without their resistors are another fault, and one end of two is no fault the rules know.
        if (line.wired || !line.biasings.some(isTerminator) || !isBusy(line)) continue;
        // On a ribbon nobody compares a line with its sisters.
        if (!line.view.claims.some(({ contact }) => indexOf(example.machine).instanceOf(contact).slot))
          continue;
        yield* seed(line.name, withoutResistors(example, line), line.name);
      }
    },
  },
  {
    kind: 'a terminator missing at one of two ends',
    rule: 'line-unterminated',
    *seeds(example) {
      const lines = linesOf(example);
      const hasBoth = ({ biasings }: LineAt): boolean => biasings.filter(isTerminator).length === 2;
      const busy = lines.filter((line) => !line.wired && isBusy(line));
      const usual = busy.filter(hasBoth).length >= 0.8 * busy.length;
      for (const line of lines.filter(hasBoth)) {
        const stem = line.name.replace(/\d+/, '#');
        const sisters = lines.filter((one) => hasBoth(one) && one.name.replace(/\d+/, '#') === stem);
        // Where others have one terminator too, nobody can tell that this line should have two.
        if (sisters.length < 4 && !(usual && busy.includes(line))) continue;
        for (const { bias } of line.biasings) {
          const edit = withoutNames(example, statementAt(example, bias.source), [line.name]);
          yield* seed(`${line.name} ${bias.place?.word} ${bias.place?.of}`, [edit], line.name);
        }
      }
    },
  },
  {
    kind: 'more terminators than ends',
    rule: 'line-over-terminated',
    severity: 'warning',
    *seeds(example) {
      for (const statement of ofForm(example, 'terminate')) {
        const [name] = subjectNames(statement) as [string];
        const line = linesOf(example).find(({ biasings }) =>
          biasings.some((one) => one.name === name && one.bias.source.from === sourceOf(statement).from),
        );
        // A pack that is not fitted terminates nothing.
        if (line === undefined) continue;
        const have = line.biasings.filter(isTerminator).length;
        // Two ends, and one more where a ribbon or cable leads on.
        const ends = isOnBackplaneOnly(example, line) ? 2 : 3;
        const text = textOf(example, statement);
        const copies = Array.from({ length: ends + 1 - have }, () => text);
        yield* seed(
          `${name} …: ${text.slice(-40)}`,
          [replaced(statement, [text, ...copies].join('\n'))],
          name,
        );
      }
    },
  },
  {
    kind: 'a removable terminator left in',
    rule: 'line-over-terminated',
    severity: 'warning',
    *seeds(example) {
      for (const statement of ofForm(example, 'without')) {
        const board = example.machine.boards.find(
          ({ source }) => statement.parent && statementAt(example, source).entry === statement.parent.entry,
        );
        const packs = board?.card.biases.filter(
          ({ word, as }) => word === 'terminate' && as !== undefined && board.without.has(as),
        );
        if (!packs?.length) continue;
        yield* seed(
          `${board?.name}: ${packs[0]?.as}`,
          [removed(example, statement)],
          packs[0]!.names[0]!.name,
        );
      }
    },
  },
  {
    kind: 'a terminator in the middle of the backplane',
    rule: 'terminator-misplaced',
    severity: 'warning',
    *seeds(example) {
      for (const backplane of example.machine.backplanes) {
        for (const bias of backplane.biases) {
          if (bias.word !== 'terminate' || bias.place === undefined) continue;
          const line = statementAt(example, bias.source);
          const { word, of } = bias.place;
          const slot = backplane.slots.findIndex(({ label }) => label === of);
          const middle = backplane.slots[word === 'after' ? slot - 2 : slot + 2];
          if (middle === undefined) continue;
          const edit = replaced(line, `${word} ${middle.label}`, attributeOf(line, word)!);
          yield* seed(`${textOf(example, line).slice(0, 40)} …`, [edit], bias.names[0]!.name);
        }
      }
    },
  },
  {
    kind: 'a card with terminators in a middle slot',
    rule: 'terminator-misplaced',
    severity: 'warning',
    *seeds(example) {
      for (const board of example.machine.boards) {
        const packs = board.card.biases.filter(
          ({ word, as, place }) => word === 'terminate' && !place && !(as && board.without.has(as)),
        );
        if (board.slot === undefined || packs.length === 0) continue;
        const fitted = board.slot.backplane.slots.flatMap((slot) => slot.board ?? []);
        // A board in the first or last slot that is filled is at an end.
        for (const other of fitted.slice(1, -1)) {
          if (other === board) continue;
          yield* seed(`${board.name} for ${other.name}`, exchanged(example, board, other), board.name);
        }
      }
    },
  },
  {
    kind: 'the terminated end of a ribbon in its middle',
    rule: 'terminator-misplaced',
    severity: 'warning',
    *seeds(example) {
      for (const ribbon of ofForm(example, 'ribbon')) {
        const ends = example.statements.filter(({ parent }) => parent?.entry === ribbon.entry);
        const last = ends.at(-1)!;
        const before = ends.at(-2)!;
        const port = textOf(example, last).split(/\s+/)[1] as string;
        const [name] = port.split('.') as [string];
        const board = example.machine.boards.find((one) => one.name === name);
        if (ends.length < 3 || !board?.card.biases.some(({ word }) => word === 'terminate')) continue;
        const subject = (one: Placed) => one.entry.statement.subject[0]!;
        const edits = [
          replaced(last, textOf(example, before, subject(before)), subject(last)),
          replaced(before, textOf(example, last, subject(last)), subject(before)),
        ];
        yield* seed(`${subjectNames(ribbon)[0]}: ${port}`, edits, name);
      }
    },
  },
];

/** Two boards in each other's slots. */
function exchanged(example: Example, one: Board, other: Board): Edit[] {
  const lines = [one, other].map((board) => statementAt(example, board.slot!.source)) as [Placed, Placed];
  const tail = (line: Placed) => ({ from: attributeOf(line, 'is')!.from, to: line.entry.statement.to });
  const [a, b] = lines;
  return [
    replaced(a, textOf(example, b, tail(b)), tail(a)),
    replaced(b, textOf(example, a, tail(a)), tail(b)),
  ];
}
