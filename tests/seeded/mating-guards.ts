import type { Connector } from '../../src/machine/types.ts';
import { type Edit, type Example, formOf, inserted, removed, statementAt, within } from './example.ts';

/** Takes lines of these forms out of a connector's own block. */
export const takenOut = (example: Example, { source }: Connector, ...forms: string[]): Edit[] =>
  within(example, statementAt(example, source))
    .filter((line) => forms.includes(formOf(line)))
    .map((line) => removed(example, line));

/** Puts lines into a connector's block. */
export const putIn = (example: Example, { source }: Connector, ...lines: string[]): Edit[] =>
  inserted(example, statementAt(example, source), lines);

/** `between 9, 10`: behind so many positions from the first. */
export function between({ labels, row, position }: Connector, behind: number): string {
  const first = labels.filter((_, i) => row[i] === 0);
  first.sort((a, b) => position[labels.indexOf(a)]! - position[labels.indexOf(b)]!);
  return `key between ${first[behind - 1]}, ${first[behind]}`;
}

/** A place off the middle, and the places that a turned plug brings onto each other. */
export const offMiddle = ({ positions }: Connector): number => Math.floor(positions / 3);
export const alikeTurned = ({ positions }: Connector): number[] =>
  positions % 2 === 0 ? [positions / 2] : [(positions - 1) / 2, (positions + 1) / 2];
