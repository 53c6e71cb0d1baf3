import { knownPart } from '../analysis/parts.ts';
import { nodeOnBoard, originsOf } from '../analysis/rails.ts';
import { pushOf } from '../analysis/wrong-mating/harms.ts';
import type { Board, Machine, Use } from '../machine/types.ts';
import { stepsBetween } from './explain.ts';
import type { Finding, Rule, View } from './types.ts';

/**
 * An output that reaches a board which another supply feeds: while that one is off, the output feeds the board through the
 * diodes of its inputs. One finding for two boards.
 */
export const backPower: Rule = {
  id: 'back-power',
  severity: 'question',
  summary: 'an output feeds a board of another supply through its inputs while that supply is off',
  *check(view) {
    const { machine, nets } = view;
    if (machine.supplies.length < 2) return;
    const supplies = new Map(machine.boards.map((board) => [board, suppliesOf(machine, board)]));
    const told = new Set<string>();
    for (const { uses } of nets.views) {
      for (const from of uses) {
        if (pushOf(machine, from) !== 'both') continue;
        for (const to of uses) {
          const key = `${from.board.name} ${to.board.name}`;
          if (told.has(key) || !isFedBy(machine, to)) continue;
          const [one, other] = [supplies.get(from.board)!, supplies.get(to.board)!];
          if (one.size === 0 || other.size === 0 || [...one].some((name) => other.has(name))) continue;
          told.add(key);
          yield fed(view, from, to, [...other]);
        }
      }
    }
  },
};

/** Supplies that a board lives on, through regulators too. */
function suppliesOf(machine: Machine, board: Board): Set<string> {
  const takes = board.card.takes.flatMap(({ rail, at }) =>
    originsOf(machine, nodeOnBoard(machine, board, rail, at)),
  );
  return new Set(takes.map(({ owner }) => owner));
}

/** V. An input that stands so far below ground has no diode to its rail that could feed it: a line receiver (common practice, no source). */
const RECEIVER = -1;

function isFedBy(machine: Machine, { card }: Use): boolean {
  if (card.kind !== 'receives' && card.kind !== 'transceives') return false;
  const input = card.part === undefined ? undefined : knownPart(machine, card.part)?.input;
  return input === undefined || input.min > RECEIVER;
}

function fed(view: View, from: Use, to: Use, supplies: readonly string[]): Finding {
  const { card, board } = from;
  return {
    rule: 'back-power',
    severity: 'question',
    message: `while ${supplies.join(' and ')} is off, ${card.part ?? 'an output'} on ${board.name} feeds ${to.board.name} through the input of ${to.card.name}: are both supplies always switched together?`,
    source: to.card.source,
    path: stepsBetween(view, from.node, to.node, to.card.source),
    fix: `switch both supplies together, or unplug what joins ${board.name} to ${to.board.name} before one of them is off; where that is so, say it with \`allow back-power at ${to.board.name} "reason"\``,
    about: [board.name, to.board.name, card.name, to.card.name, ...supplies],
  };
}
