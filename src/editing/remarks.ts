import type { Document } from '../language/tree.ts';

/** Index of the first of the remarks that stand directly above a line and behind another; the line itself where none do. */
export function firstRemark({ lines }: Document, line: number, behind = -1): number {
  let first = line;
  while (first - 1 > behind && lines[first - 1]!.pieces.length === 0 && lines[first - 1]!.comment >= 0)
    first--;
  return first;
}
