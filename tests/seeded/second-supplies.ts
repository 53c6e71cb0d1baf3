import type { Board, Instance } from '../../src/machine/types.ts';
import {
  appended,
  type Example,
  ofForm,
  type Placed,
  replaced,
  subjectNames,
  textOf,
  within,
} from './example.ts';
import { cardLines, contactsOf, type FaultKind, seed } from './places.ts';
import { endsOf, powerAt, supplyWith } from './plugs.ts';
import { voltsOf } from './rail-places.ts';

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

/** What a second supply does by way of ribbons. */
export const supplyFaults: readonly FaultKind[] = [
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
