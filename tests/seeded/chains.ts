import type { Board, Card } from '../../src/machine/types.ts';
import {
  attributeOf,
  type Example,
  inserted,
  namesIn,
  ofForm,
  removed,
  replaced,
  statementAt,
  textOf,
  withoutNames,
} from './example.ts';
import { linesOf } from './line-places.ts';
import { cardLines, type FaultKind, says, seed, sitsBefore } from './places.ts';

interface Chained {
  readonly name: string;
  /** Boards in slots of a backplane with that chain, in their order. */
  readonly boards: readonly Board[];
}

function chainsOf({ machine }: Example): Chained[] {
  return machine.backplanes.flatMap((backplane) =>
    backplane.buses.flatMap(({ bus }) =>
      bus.chains.map(({ name }) => ({
        name,
        boards: backplane.slots.flatMap(({ board }) => board ?? []),
      })),
    ),
  );
}

const does = (card: Card, kind: string, name: string): boolean =>
  card.uses.some((use) => use.kind === kind && use.name === name);

/** Whether a board behind this one needs the chain. */
const isNeededBehind = ({ name, boards }: Chained, board: Board): boolean =>
  boards.some((other) => sitsBefore(board, other) && does(other.card, 'passes', name));

export const chainFaults: readonly FaultKind[] = [
  {
    kind: 'an empty slot without its bridge',
    rule: 'chain-broken',
    severity: 'error',
    *seeds(example) {
      for (const line of ofForm(example, 'slot')) {
        const bridge = attributeOf(line, 'bridge');
        for (const name of namesIn(bridge?.values ?? [])) {
          const left = namesIn(bridge!.values).filter((one) => one !== name);
          const text = left.length > 0 ? `bridge ${left.join(', ')}` : '';
          yield* seed(`${textOf(example, line)}: ${name}`, [replaced(line, text, bridge)], name);
        }
      }
    },
  },
  {
    kind: 'a card that does not pass a chain on',
    rule: 'chain-broken',
    severity: 'error',
    *seeds(example) {
      for (const chain of chainsOf(example)) {
        for (const { card, line } of cardLines(example, 'passes')) {
          const its = chain.boards.filter((board) => board.card === card);
          if (!says(line, chain.name) || !its.some((board) => isNeededBehind(chain, board))) continue;
          yield* seed(`${card.name}: ${chain.name}`, [withoutNames(example, line, [chain.name])], chain.name);
        }
      }
    },
  },
  {
    kind: 'a board pulled out before the last user of a chain',
    rule: 'chain-broken',
    severity: 'error',
    *seeds(example) {
      for (const board of example.machine.boards) {
        const chain = chainsOf(example).find(
          (one) =>
            one.boards.includes(board) &&
            (does(board.card, 'passes', one.name) || does(board.card, 'starts', one.name)) &&
            isNeededBehind(one, board),
        );
        if (chain === undefined || board.slot === undefined) continue;
        const line = statementAt(example, board.slot.source);
        const label = textOf(example, line, line.entry.statement.subject[0]!);
        const edit = { ...removed(example, line), text: `${label} = empty\n` };
        yield* seed(`${board.name} in ${label}`, [edit], chain.name);
      }
    },
  },
  {
    kind: 'a chain started twice',
    rule: 'chain-started-twice',
    severity: 'error',
    *seeds(example) {
      for (const chain of chainsOf(example)) {
        if (!chain.boards.some(({ card }) => does(card, 'starts', chain.name))) continue;
        for (const { card, line } of cardLines(example, 'passes')) {
          if (!says(line, chain.name) || !chain.boards.some((board) => board.card === card)) continue;
          const edits = [
            withoutNames(example, line, [chain.name]),
            ...inserted(example, statementAt(example, card.source), [`starts ${chain.name}`]),
          ];
          yield* seed(`${card.name}: ${chain.name}`, edits, chain.name);
        }
      }
    },
  },
  {
    kind: 'two clocks on one line',
    rule: 'chain-started-twice',
    severity: 'error',
    *seeds(example) {
      for (const at of linesOf(example)) {
        if (!at.view.claims.some(({ claim }) => claim.clock)) continue;
        if (!at.drivers.some(({ card }) => card.kind === 'drives')) continue;
        for (const card of new Set(at.hearers.map(({ board }) => board.card))) {
          const line = statementAt(example, at.hearers.find(({ board }) => board.card === card)!.card.source);
          const edits = [
            withoutNames(example, line, [at.name]),
            ...inserted(example, statementAt(example, card.source), [`drives ${at.name} with 74LS04`]),
          ];
          yield* seed(`${card.name}: ${at.name}`, edits, at.name);
        }
      }
    },
  },
];
