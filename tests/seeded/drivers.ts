import {
  attributeOf,
  inserted,
  replaced,
  sourceOf,
  statementAt,
  subjectNames,
  textOf,
  withoutNames,
} from './example.ts';
import { isBusy, isTerminator, linesOf, withoutUses } from './line-places.ts';
import { cardLines, type FaultKind, seed } from './places.ts';

export const driverFaults: readonly FaultKind[] = [
  {
    kind: 'a receiver that is a totem-pole output',
    rule: 'drivers-fight',
    severity: 'error',
    *seeds(example) {
      for (const { card, line } of cardLines(example, 'receives')) {
        for (const name of subjectNames(line)) {
          const at = linesOf(example).find(({ hearers }) =>
            hearers.some((use) => use.card.name === name && use.board.card === card),
          );
          if (!at?.drivers.some(({ board }) => board.card !== card)) continue;
          const where = attributeOf(line, 'at');
          const drive = `drives ${name} with 74LS04 totem-pole${where ? ` ${textOf(example, line, where)}` : ''}`;
          const block = statementAt(example, card.source);
          yield* seed(
            `${card.name}: ${name}`,
            [withoutNames(example, line, [name]), ...inserted(example, block, [drive])],
            at.name,
          );
        }
      }
    },
  },
  {
    kind: 'a weak driver on a terminated line',
    rule: 'line-overloaded',
    severity: 'error',
    *seeds(example) {
      for (const { card, line } of cardLines(example, 'drives', 'transceives', 'pulls')) {
        const part = attributeOf(line, 'with');
        const first = linesOf(example).find(
          ({ drivers: its, biasings }) =>
            biasings.some(isTerminator) &&
            its.some(
              (use) =>
                use.card.source.from >= sourceOf(line).from &&
                use.card.source.to <= sourceOf(line).to &&
                use.board.card === card,
            ),
        );
        if (part === undefined || first === undefined) continue;
        const edit = replaced(line, 'with 74LS04', part);
        yield* seed(`${card.name}: ${textOf(example, line).slice(0, 40)} …`, [edit]);
      }
    },
  },
  {
    kind: 'the only driver missing',
    rule: 'line-undriven',
    severity: 'warning',
    *seeds(example) {
      for (const line of linesOf(example)) {
        const others = line.drivers.some(({ board }) => board.card !== line.drivers[0]?.board.card);
        // A resistor gives a line without driver a level of its own.
        if (line.drivers.length === 0 || others || line.biasings.length > 0) continue;
        if (
          !line.hearers.some(({ board, card }) => card.kind !== 'passes' && board !== line.drivers[0]?.board)
        )
          continue;
        yield* seed(line.name, withoutUses(example, line.drivers), line.name);
      }
    },
  },
  {
    kind: 'the only receivers missing',
    rule: 'line-unheard',
    *seeds(example) {
      for (const line of linesOf(example)) {
        if (line.drivers.some(({ card }) => card.kind === 'transceives')) continue;
        if (line.drivers.length === 0 || !isBusy(line)) continue;
        yield* seed(line.name, withoutUses(example, line.hearers), line.name);
      }
    },
  },
];
